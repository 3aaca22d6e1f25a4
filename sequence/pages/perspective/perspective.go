package perspective

import "math"

// Point is a place in a picture, in pixels from its top left corner, or on a
// wall, in millimetres; in both y goes down.
type Point struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

// Plus adds coordinates.
func (p Point) Plus(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Minus subtracts coordinates.
func (p Point) Minus(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Times scales from the origin.
func (p Point) Times(k float64) Point { return Point{p.X * k, p.Y * k} }

// Dot is the scalar product.
func (p Point) Dot(q Point) float64 { return p.X*q.X + p.Y*q.Y }

// Cross is positive when q lies clockwise of p on the screen.
func (p Point) Cross(q Point) float64 { return p.X*q.Y - p.Y*q.X }

// Length is the distance from the origin.
func (p Point) Length() float64 { return math.Hypot(p.X, p.Y) }

// Distance is the straight one.
func (p Point) Distance(q Point) float64 { return p.Minus(q).Length() }

// Quad is the four corners of something rectangular as it lies in a picture:
// top left, top right, bottom right, bottom left, as it is read.
type Quad [4]Point

// Centre is where the diagonals cross, which is where the middle of a
// rectangle lies in perspective too.
func (q Quad) Centre() Point {
	down, up := q[2].Minus(q[0]), q[1].Minus(q[3])
	if across := down.Cross(up); math.Abs(across) > 1e-12 {
		return q[0].Plus(down.Times(q[3].Minus(q[0]).Cross(up) / across))
	}
	return q[0].Plus(q[1]).Plus(q[2]).Plus(q[3]).Times(0.25)
}

// Side is the mean length of the four sides.
func (q Quad) Side() float64 {
	sum := 0.0
	for i, corner := range q {
		sum += corner.Distance(q[(i+1)%4])
	}
	return sum / 4
}

// Holds reports whether a place lies within, half a side from the middle.
func (q Quad) Holds(p Point) bool {
	return p.Distance(q.Centre()) < 0.5*math.Sqrt(math.Abs(q.Area()))
}

// Scaled is the quad in a picture k times as large.
func (q Quad) Scaled(k float64) Quad {
	for i := range q {
		q[i] = q[i].Times(k)
	}
	return q
}

// Area by the shoelace formula; positive when the corners turn clockwise on the
// screen.
func (q Quad) Area() float64 {
	sum := 0.0
	for i, corner := range q {
		sum += corner.Cross(q[(i+1)%4])
	}
	return sum / 2
}

// Homography maps the plane to itself, lines to lines.
type Homography [3][3]float64

// At maps a place.
func (h Homography) At(p Point) Point {
	w := h[2][0]*p.X + h[2][1]*p.Y + h[2][2]
	return Point{(h[0][0]*p.X + h[0][1]*p.Y + h[0][2]) / w, (h[1][0]*p.X + h[1][1]*p.Y + h[1][2]) / w}
}

// Onto maps the square from (0,0) to (side,side) onto a quad (Heckbert,
// "Fundamentals of Texture Mapping and Image Warping", 1989, section 2.2.3).
func Onto(q Quad, side float64) Homography {
	sum := q[0].Minus(q[1]).Plus(q[2]).Minus(q[3])
	one, two := q[1].Minus(q[2]), q[3].Minus(q[2])
	g, h := 0.0, 0.0
	if across := one.Cross(two); math.Abs(across) > 1e-12 {
		g, h = sum.Cross(two)/across, one.Cross(sum)/across
	}
	m := Homography{
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

// After returns the map that does g first and then h.
func (h Homography) After(g Homography) (m Homography) {
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				m[i][j] += h[i][k] * g[k][j]
			}
		}
	}
	return m
}

// Inverse is the map back; ok is false for one that folds the plane flat.
func (h Homography) Inverse() (inv Homography, ok bool) {
	for i := range 3 {
		for j := range 3 {
			a, b := (j+1)%3, (j+2)%3
			c, d := (i+1)%3, (i+2)%3
			inv[i][j] = h[a][c]*h[b][d] - h[a][d]*h[b][c]
		}
	}
	det := h[0][0]*inv[0][0] + h[0][1]*inv[1][0] + h[0][2]*inv[2][0]
	if math.Abs(det) < 1e-15 || math.IsNaN(det) {
		return Homography{}, false
	}
	for i := range 3 {
		for j := range 3 {
			inv[i][j] /= det
		}
	}
	return inv, true
}
