package wallshot_test

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/pages/code"
	"pairwall/sequence/pages/perspective"
)

// A wall made by program: small prints on a plaster wall, lit unevenly,
// photographed at an angle with blur and noise, and put through JPEG.

// hungPrint is a print as it hangs, in millimetres; the turn is in radians
// about its middle.
type hungPrint struct {
	number        sequence.PhotoID
	x, y          float64 // top left before it is turned
	width, height float64 // of the whole print
	turn          float64
	codeX, codeY  float64 // the code's top left within the print
}

const codeWidth = 9.0 // mm

// point is where a place of the print lies on the wall.
func (p hungPrint) point(x, y float64) perspective.Point {
	sin, cos := math.Sincos(p.turn)
	dx, dy := x-p.width/2, y-p.height/2
	return perspective.Point{X: p.x + p.width/2 + dx*cos - dy*sin, Y: p.y + p.height/2 + dx*sin + dy*cos}
}

func (p hungPrint) code() perspective.Quad {
	x, y := p.codeX, p.codeY
	return perspective.Quad{p.point(x, y), p.point(x+codeWidth, y), p.point(x+codeWidth, y+codeWidth), p.point(x, y+codeWidth)}
}

// shot is how a wall is photographed.
type shot struct {
	pixels                   float64 // to the code's width, in the middle
	tilt                     float64 // how much nearer one side is than the other, 0.1 is 10 %
	turn                     float64 // radians
	blur                     float64 // standard deviation, pixels
	noise                    float64 // standard deviation, of 255
	uneven                   float64 // how much light is lost to the dark side
	quality                  int     // of the JPEG
	left, top, right, bottom float64 // the part of the wall that is seen, mm
}

// camera maps the wall to the picture.
type camera struct {
	m             [3][3]float64
	width, height int
}

func (s shot) camera(chance *rand.Rand) camera {
	k := s.pixels / codeWidth
	cx, cy := (s.left+s.right)/2, (s.top+s.bottom)/2
	w, h := s.right-s.left, s.bottom-s.top
	angle := chance.Float64() * 2 * math.Pi
	gx, gy := s.tilt*math.Cos(angle)/w, s.tilt*math.Sin(angle)/h
	sin, cos := math.Sincos(s.turn)
	width, height := int(w*k*1.15), int(h*k*1.15)
	tx, ty := float64(width)/2, float64(height)/2
	// about the middle: turn and scale, then lose w = 1 + g·p, then shift
	a := [3][3]float64{{k * cos, -k * sin, 0}, {k * sin, k * cos, 0}, {gx, gy, 1}}
	var m [3][3]float64
	for j := range 3 {
		m[0][j] = a[0][j] + tx*a[2][j]
		m[1][j] = a[1][j] + ty*a[2][j]
		m[2][j] = a[2][j]
	}
	for i := range 3 {
		m[i][2] -= m[i][0]*cx + m[i][1]*cy
	}
	return camera{m, width, height}
}

func (c camera) at(p perspective.Point) perspective.Point {
	w := c.m[2][0]*p.X + c.m[2][1]*p.Y + c.m[2][2]
	return perspective.Point{X: (c.m[0][0]*p.X + c.m[0][1]*p.Y + c.m[0][2]) / w, Y: (c.m[1][0]*p.X + c.m[1][1]*p.Y + c.m[1][2]) / w}
}

// inverse is the adjugate, which is the inverse but for a factor that cancels.
func (c camera) inverse() (n [3][3]float64) {
	m := c.m
	for i := range 3 {
		for j := range 3 {
			a, b := (j+1)%3, (j+2)%3
			d, e := (i+1)%3, (i+2)%3
			n[i][j] = m[a][d]*m[b][e] - m[a][e]*m[b][d]
		}
	}
	return n
}

func photographed(t testing.TB, prints []hungPrint, tag code.Tag, s shot, chance *rand.Rand) (*image.Gray, camera) {
	t.Helper()
	c := s.camera(chance)
	plane := make([]float32, c.width*c.height)
	for i := range plane {
		plane[i] = 176
	}
	for _, p := range prints {
		c.draw(t, plane, p, tag, chance.Uint64())
	}
	blurred(plane, c.width, c.height, s.blur)
	img := image.NewGray(image.Rect(0, 0, c.width, c.height))
	var grain [1 << 16]float64
	for i := range grain {
		grain[i] = s.noise * chance.NormFloat64()
	}
	light := chance.Float64() * 2 * math.Pi
	lx, ly := math.Cos(light)/float64(c.width), math.Sin(light)/float64(c.height)
	for y := range c.height {
		for x := range c.width {
			side := (float64(x)-float64(c.width)/2)*lx + (float64(y)-float64(c.height)/2)*ly // -0.7..0.7
			lit := 1 - s.uneven*(0.5+side*0.7)
			v := float64(plane[y*c.width+x])*lit*0.93 + grain[chance.Uint32()>>16]
			img.Pix[y*c.width+x] = byte(min(max(v, 0), 255))
		}
	}
	return throughJPEG(t, img, s.quality), c
}

func throughJPEG(t testing.TB, img *image.Gray, quality int) *image.Gray {
	t.Helper()
	var file bytes.Buffer
	if err := jpeg.Encode(&file, img, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	read, err := jpeg.Decode(&file)
	if err != nil {
		t.Fatal(err)
	}
	return read.(*image.Gray)
}

// draw draws a print: white, a picture of stripes, grain and patches, the code.
func (c camera) draw(t testing.TB, plane []float32, p hungPrint, tag code.Tag, seed uint64) {
	t.Helper()
	made, err := code.Of(tag, p.number)
	if err != nil {
		t.Fatal(err)
	}
	modules := made.Modules()
	corners := []perspective.Point{c.at(p.point(0, 0)), c.at(p.point(p.width, 0)), c.at(p.point(p.width, p.height)), c.at(p.point(0, p.height))}
	x0, y0, x1, y1 := float64(c.width), float64(c.height), 0.0, 0.0
	for _, q := range corners {
		x0, y0, x1, y1 = min(x0, q.X), min(y0, q.Y), max(x1, q.X), max(y1, q.Y)
	}
	n := c.inverse()
	sin, cos := math.Sincos(-p.turn)
	face := pictureOf(seed)
	for y := max(int(y0), 0); y <= min(int(y1), c.height-1); y++ {
		for x := max(int(x0), 0); x <= min(int(x1), c.width-1); x++ {
			sum, inside := 0.0, 0
			for k := range 4 {
				px, py := float64(x)+0.25+0.5*float64(k%2), float64(y)+0.25+0.5*float64(k/2)
				w := n[2][0]*px + n[2][1]*py + n[2][2]
				wx := (n[0][0]*px+n[0][1]*py+n[0][2])/w - p.x - p.width/2
				wy := (n[1][0]*px+n[1][1]*py+n[1][2])/w - p.y - p.height/2
				u, v := wx*cos-wy*sin+p.width/2, wx*sin+wy*cos+p.height/2
				if u < 0 || v < 0 || u >= p.width || v >= p.height {
					continue
				}
				inside++
				sum += p.shade(u, v, &modules, face)
			}
			if inside > 0 {
				i := y*c.width + x
				plane[i] = plane[i]*float32(4-inside)/4 + float32(sum/4)
			}
		}
	}
}

const (
	border = 3.0
	foot   = codeWidth * 29 / 21
	ink    = 24.0
	paper  = 244.0
)

func (p hungPrint) shade(u, v float64, modules *[code.Side][code.Side]bool, face func(u, v float64) float64) float64 {
	if column, row := (u-p.codeX)/codeWidth*code.Side, (v-p.codeY)/codeWidth*code.Side; column >= 0 && row >= 0 && column < code.Side && row < code.Side {
		if modules[int(row)][int(column)] {
			return ink
		}
		return paper
	}
	if u > border && u < p.width-border && v > border && v < p.height-foot {
		return face(u, v)
	}
	return paper
}

// pictureOf is an invented picture: bands, discs and a grille, busy enough to
// be taken for marks by a careless reader.
func pictureOf(seed uint64) func(u, v float64) float64 {
	chance := rand.New(rand.NewPCG(seed, 3))
	base, slope := 40+chance.Float64()*150, chance.Float64()*1.6-0.8
	pitch, angle := 0.6+chance.Float64()*3, chance.Float64()*math.Pi
	sin, cos := math.Sincos(angle)
	var discs [4][4]float64
	for i := range discs {
		discs[i] = [4]float64{chance.Float64() * 70, chance.Float64() * 70, 2 + chance.Float64()*12, chance.Float64() * 255}
	}
	return func(u, v float64) float64 {
		value := base + slope*(u-v)
		for _, d := range discs {
			if r := math.Hypot(u-d[0], v-d[1]); r < d[2] {
				value = d[3]
				if int(r*2.5)%3 == 1 {
					value = 255 - d[3]
				}
			}
		}
		if stripe := math.Mod(u*cos+v*sin+1000, pitch*2); stripe < pitch {
			value *= 0.8
		}
		return min(max(value, 0), 255)
	}
}

// blurred runs a Gaussian over the plane, but for its edges.
func blurred(plane []float32, width, height int, sigma float64) {
	if sigma <= 0 {
		return
	}
	radius := int(math.Ceil(2.5 * sigma))
	kernel, sum := make([]float32, 2*radius+1), float32(0)
	for i := range kernel {
		d := float64(i - radius)
		kernel[i] = float32(math.Exp(-d * d / (2 * sigma * sigma)))
		sum += kernel[i]
	}
	for i := range kernel {
		kernel[i] /= sum
	}
	line := make([]float32, width)
	for y := range height {
		row := plane[y*width : (y+1)*width]
		copy(line, row)
		for x := radius; x < width-radius; x++ {
			var v float32
			for k, w := range kernel {
				v += w * line[x+k-radius]
			}
			row[x] = v
		}
	}
	out := make([]float32, len(plane))
	copy(out, plane)
	for y := radius; y < height-radius; y++ {
		row := out[y*width : (y+1)*width]
		clear(row)
		for k, w := range kernel {
			from := plane[(y+k-radius)*width:]
			for x := range row {
				row[x] += w * from[x]
			}
		}
	}
	copy(plane, out)
}
