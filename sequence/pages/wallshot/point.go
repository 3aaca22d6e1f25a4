package wallshot

import "math"

// Point is a place in a picture, in pixels from its top left corner, or on a
// wall, in millimetres; in both y goes down.
type Point struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

func (p Point) plus(q Point) Point       { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) minus(q Point) Point      { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) times(k float64) Point    { return Point{p.X * k, p.Y * k} }
func (p Point) dot(q Point) float64      { return p.X*q.X + p.Y*q.Y }
func (p Point) cross(q Point) float64    { return p.X*q.Y - p.Y*q.X }
func (p Point) length() float64          { return math.Hypot(p.X, p.Y) }
func (p Point) distance(q Point) float64 { return p.minus(q).length() }

// Quad is the four corners of something rectangular as it lies in a picture:
// top left, top right, bottom right, bottom left, as it is read.
type Quad [4]Point

// Centre is where the diagonals cross, which is where the middle of a
// rectangle lies in perspective too.
func (q Quad) Centre() Point {
	down, up := q[2].minus(q[0]), q[1].minus(q[3])
	if across := down.cross(up); math.Abs(across) > 1e-12 {
		return q[0].plus(down.times(q[3].minus(q[0]).cross(up) / across))
	}
	return q[0].plus(q[1]).plus(q[2]).plus(q[3]).times(0.25)
}

// Side is the mean length of the four sides.
func (q Quad) Side() float64 {
	sum := 0.0
	for i, corner := range q {
		sum += corner.distance(q[(i+1)%4])
	}
	return sum / 4
}

// holds reports whether a place lies within, half a side from the middle.
func (q Quad) holds(p Point) bool {
	return p.distance(q.Centre()) < 0.5*math.Sqrt(math.Abs(q.area()))
}

func (q Quad) scaled(k float64) Quad {
	for i := range q {
		q[i] = q[i].times(k)
	}
	return q
}

// area by the shoelace formula; positive when the corners turn clockwise on the
// screen.
func (q Quad) area() float64 {
	sum := 0.0
	for i, corner := range q {
		sum += corner.cross(q[(i+1)%4])
	}
	return sum / 2
}

// homography maps the plane to itself, lines to lines.
type homography [3][3]float64

func (h homography) at(p Point) Point {
	w := h[2][0]*p.X + h[2][1]*p.Y + h[2][2]
	return Point{(h[0][0]*p.X + h[0][1]*p.Y + h[0][2]) / w, (h[1][0]*p.X + h[1][1]*p.Y + h[1][2]) / w}
}

// onto maps the square from (0,0) to (side,side) onto a quad (Heckbert,
// "Fundamentals of Texture Mapping and Image Warping", 1989, section 2.2.3).
func onto(q Quad, side float64) homography {
	sum := q[0].minus(q[1]).plus(q[2]).minus(q[3])
	one, two := q[1].minus(q[2]), q[3].minus(q[2])
	g, h := 0.0, 0.0
	if across := one.cross(two); math.Abs(across) > 1e-12 {
		g, h = sum.cross(two)/across, one.cross(sum)/across
	}
	m := homography{
		{q[1].X - q[0].X + g*q[1].X, q[3].X - q[0].X + h*q[3].X, q[0].X},
		{q[1].Y - q[0].Y + g*q[1].Y, q[3].Y - q[0].Y + h*q[3].Y, q[0].Y},
		{g, h, 1},
	}
	for row := range m {
		m[row][0] /= side
		m[row][1] /= side
	}
	return m
}

// after returns the map that does g first and then h.
func (h homography) after(g homography) (m homography) {
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				m[i][j] += h[i][k] * g[k][j]
			}
		}
	}
	return m
}
