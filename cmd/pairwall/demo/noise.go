package demo

import "math"

// hash2 mixes two integers and a seed into 32 even bits. Integer arithmetic
// only, so the same picture comes out on every run.
func hash2(x, y int32, seed uint32) uint32 {
	return stir(uint32(x)*hashX ^ uint32(y)*hashY ^ seed*hashSeed)
}

// Odd multipliers keep the three inputs of a hash apart.
const hashX, hashY, hashSeed = 0x8da6b343, 0xd8163841, 0xcb1ab31f

func stir(h uint32) uint32 {
	h ^= h >> 15
	h *= 0x2c1b3c6d
	h ^= h >> 12
	h *= 0x297a2d39
	return h ^ h>>15
}

func unit32(h uint32) float64 { return float64(h) * (1.0 / (1 << 32)) }

// cellRnd is an even random number in [0,1) that belongs to a cell.
func cellRnd(x, y float64, seed uint32) float64 {
	return unit32(hash2(int32(math.Floor(x)), int32(math.Floor(y)), seed))
}

// noise is value noise in [0,1], smooth to the second derivative.
func noise(x, y float64, seed uint32) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	tx, ty := x-fx, y-fy
	ix, iy := int32(fx), int32(fy)
	tx = tx * tx * tx * (tx*(tx*6-15) + 10)
	ty = ty * ty * ty * (ty*(ty*6-15) + 10)
	hx, hy := uint32(ix)*hashX, uint32(iy)*hashY // the four corners share their products
	gx, gy := hx+hashX, (hy+hashY)^seed*hashSeed
	hy ^= seed * hashSeed
	a, b := float64(stir(hx^hy)), float64(stir(gx^hy))
	d, e := float64(stir(hx^gy)), float64(stir(gx^gy))
	a += (b - a) * tx
	d += (e - d) * tx
	return (a + (d-a)*ty) * (1.0 / (1 << 32))
}

// fbm sums octaves of noise, each turned a little so that no lattice shows; mean 0.5.
func fbm(x, y float64, octaves int, seed uint32) float64 {
	sum, amp, total := 0.0, 1.0, 0.0
	for i := range octaves {
		sum += amp * noise(x, y, seed+uint32(i)*101)
		total += amp
		amp *= 0.5
		x, y = 1.72*x-1.06*y+3.1, 1.06*x+1.72*y+1.7
	}
	return sum / total
}

// warped is fbm whose ground was itself pushed about by noise, as wind does to cloud.
func warped(x, y float64, octaves int, push float64, seed uint32) float64 {
	dx, dy := fbm(x, y, 2, seed+7)-0.5, fbm(x+5.2, y+1.3, 2, seed+13)-0.5
	return fbm(x+push*dx, y+push*dy, octaves, seed)
}

// ridged has creases upward: rock, mountains, foliage edges.
func ridged(x, y float64, octaves int, seed uint32) float64 {
	sum, amp, total := 0.0, 1.0, 0.0
	for i := range octaves {
		n := 1 - math.Abs(2*noise(x, y, seed+uint32(i)*57)-1)
		sum += amp * n * n
		total += amp
		amp *= 0.5
		x, y = 1.72*x-1.06*y+3.1, 1.06*x+1.72*y+1.7
	}
	return sum / total
}

// dice is a splitmix64 sequence (Steele, Lea, Flood 2014, constants from memory)
// for scattering things.
type dice uint64

func (d *dice) next() float64 {
	*d += 0x9e3779b97f4a7c15
	z := uint64(*d)
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return float64((z^z>>31)>>11) / (1 << 53)
}

func (d *dice) in(a, b float64) float64 { return a + (b-a)*d.next() }

// bell is roughly normal with deviation 1.
func (d *dice) bell() float64 {
	return (d.next() + d.next() + d.next() + d.next() - 2) * math.Sqrt(3)
}
