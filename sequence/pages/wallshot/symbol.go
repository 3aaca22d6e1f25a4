package wallshot

import (
	"math"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode/decoder"

	"pairwall/sequence/pages/code"
	"pairwall/sequence/pages/perspective"
)

// known says of a code's modules, with one module of its quiet zone around them,
// which are the same in every code of version 1: +1 light, -1 dark, 0 depends on
// what the code says (ISO/IEC 18004, 6.3).
var known = func() (table [code.Side + 2][code.Side + 2]float64) {
	const last = code.Side - 1
	for y := -1; y <= code.Side; y++ {
		for x := -1; x <= code.Side; x++ {
			fx, fy := min(x, last-x), min(y, last-y) // counted from the nearer side
			corner := fx <= 7 && fy <= 7 && !(x > last/2 && y > last/2)
			value := 0.0
			switch {
			case x < 0 || y < 0 || x > last || y > last:
				value = 1
			case corner:
				ring := max(abs(fx-3), abs(fy-3))
				value = 1
				if ring == 3 || ring <= 1 {
					value = -1
				}
			case x == 6 || y == 6: // timing
				value = float64((x+y)%2)*2 - 1
			case x == 8 && y == last-7:
				value = -1
			}
			table[y+1][x+1] = value
		}
	}
	return table
}()

func abs(n int) int { return max(n, -n) }

// spot is a module whose look is known.
type spot struct {
	x, y float64
	sign float64
}

var spots = func() (list []spot) {
	for y, row := range known {
		for x, sign := range row {
			if sign != 0 {
				list = append(list, spot{float64(x) - 0.5, float64(y) - 0.5, sign})
			}
		}
	}
	return list
}()

// likeness correlates the picture under a quad with what is known of a code:
// 1 is a code without blur or noise.
func (l level) likeness(q perspective.Quad) float64 {
	h := perspective.Onto(q, code.Side)
	var n, sum, squares, product, signs float64
	for _, s := range spots {
		v := l.at(h.At(perspective.Point{X: s.x - 0.2, Y: s.y - 0.2})) + l.at(h.At(perspective.Point{X: s.x + 0.2, Y: s.y + 0.2}))
		n, sum, squares, product, signs = n+1, sum+v, squares+v*v, product+v*s.sign, signs+s.sign
	}
	spread := (squares - sum*sum/n) * (n - signs*signs/n)
	if spread < 1e-9 {
		return 0
	}
	return (product - sum*signs/n) / math.Sqrt(spread)
}

// settle moves the corners of a quad to where the picture looks most like a
// code, by up to about a module each.
func (l level) settle(q perspective.Quad) (perspective.Quad, float64) {
	best := l.likeness(q)
	for step := 0.6; step > 0.04; step /= 2 {
		for range 3 {
			moved := false
			u, v := q[1].Minus(q[0]).Times(step/code.Side), q[3].Minus(q[0]).Times(step/code.Side)
			for corner := range q {
				for _, by := range [...]perspective.Point{u, u.Times(-1), v, v.Times(-1)} {
					try := q
					try[corner] = try[corner].Plus(by)
					if like := l.likeness(try); like > best {
						best, q, moved = like, try, true
					}
				}
			}
			if !moved {
				break
			}
		}
	}
	return q, best
}

// Shading: how light dark and light modules are, each as a plane over the code,
// because light falls unevenly.
type shading struct{ dark, light [3]float64 }

func (l level) shading(h perspective.Homography) shading {
	var s shading
	s.dark = l.plane(h, -1)
	s.light = l.plane(h, 1)
	return s
}

// plane fits a + b·x + c·y by least squares through the known modules of a sign.
func (l level) plane(h perspective.Homography, sign float64) [3]float64 {
	var m [3][4]float64
	for _, s := range spots {
		if s.sign != sign {
			continue
		}
		v := l.at(h.At(perspective.Point{X: s.x, Y: s.y}))
		row := [3]float64{1, s.x/code.Side - 0.5, s.y/code.Side - 0.5}
		for i := range 3 {
			for j := range 3 {
				m[i][j] += row[i] * row[j]
			}
			m[i][3] += row[i] * v
		}
	}
	return solved(m)
}

// solved solves three equations by elimination; they are well conditioned.
func solved(m [3][4]float64) (x [3]float64) {
	for i := range 3 {
		pivot := i
		for k := i + 1; k < 3; k++ {
			if math.Abs(m[k][i]) > math.Abs(m[pivot][i]) {
				pivot = k
			}
		}
		m[i], m[pivot] = m[pivot], m[i]
		for k := range 3 {
			if k != i && m[i][i] != 0 {
				f := m[k][i] / m[i][i]
				for j := i; j < 4; j++ {
					m[k][j] -= f * m[i][j]
				}
			}
		}
	}
	for i := range 3 {
		if m[i][i] != 0 {
			x[i] = m[i][3] / m[i][i]
		}
	}
	return x
}

// sampled is how light each module is, from 0 for dark to 1 for light, with a
// module of quiet zone around.
type sampled [code.Side + 2][code.Side + 2]float64

func (l level) sample(q perspective.Quad) sampled {
	h := perspective.Onto(q, code.Side)
	shade := l.shading(h)
	var values sampled
	for y := range values {
		for x := range values[y] {
			px, py := float64(x)-0.5, float64(y)-0.5
			sum := 0.0
			for _, dy := range [...]float64{-0.22, 0, 0.22} {
				for _, dx := range [...]float64{-0.22, 0, 0.22} {
					sum += l.at(h.At(perspective.Point{X: px + dx, Y: py + dy}))
				}
			}
			u, v := px/code.Side-0.5, py/code.Side-0.5
			dark := shade.dark[0] + shade.dark[1]*u + shade.dark[2]*v
			light := shade.light[0] + shade.light[1]*u + shade.light[2]*v
			values[y][x] = (sum/9 - dark) / max(light-dark, 1)
		}
	}
	return values
}

// read turns samples into modules and decodes them. sharper takes from each
// module so much of its four neighbours, against blur.
func (values *sampled) read(sharper, threshold float64) (string, bool) {
	bits, err := gozxing.NewBitMatrix(code.Side, code.Side)
	if err != nil {
		return "", false
	}
	for y := 1; y <= code.Side; y++ {
		for x := 1; x <= code.Side; x++ {
			v := values[y][x]
			if sharper > 0 {
				around := values[y-1][x] + values[y+1][x] + values[y][x-1] + values[y][x+1]
				v = (v - sharper*around/4) / (1 - sharper)
			}
			if v < threshold {
				bits.Set(x-1, y-1)
			}
		}
	}
	result, err := decoder.NewDecoder().DecodeWithoutHint(bits)
	if err != nil || result.GetECLevel() != "H" {
		return "", false
	}
	return result.GetText(), true
}
