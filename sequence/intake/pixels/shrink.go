package pixels

import (
	"fmt"
	"math"
	"runtime"
	"sync"

	"pairwall/sequence/intake/header"
)

// raster is a small picture in its own colours, 16 bits a channel, laid out as
// lines gives them.
type raster struct {
	width, height int
	colours       int
	alpha         bool
	pixels        []uint16
}

func (r raster) channels() int { return lines{colours: r.colours, alpha: r.alpha}.channels() }

// fit scales width and height so that the longer is long, or leaves them alone
// if neither is longer. Neither becomes 0.
func fit(width, height, long int) (int, int) {
	most := max(width, height)
	if most <= long {
		return width, height
	}
	scale := func(v int) int { return max(1, int(math.Round(float64(v)*float64(long)/float64(most)))) }
	return scale(width), scale(height)
}

// boxTo is how many times the final size is left, at least, when whole boxes of
// pixels have been averaged. Averaging is cheap and the rest is not; at 1.25 the
// two differ by less than can be printed (measured by this package's tests).
const boxTo = 1.25

// shrink makes a picture small: first by averaging boxes of n × n pixels, then
// with a Lanczos filter of three lobes. It never enlarges. The large picture is
// read once, line by line, and never copied as a whole.
//
// Time: the large picture's pixels once, and about 6 × scale products for every
// pixel of the small one and direction, on all processors.
func shrink(from lines, long int) (raster, error) {
	width, height := fit(from.width, from.height, long)
	box := max(1, int(float64(max(from.width, from.height))/(boxTo*float64(long))))
	boxedWidth, boxedHeight := (from.width+box-1)/box, (from.height+box-1)/box
	n := from.channels()
	across := filters(float64(from.width)/float64(box), boxedWidth, width)
	down := filters(float64(from.height)/float64(box), boxedHeight, height)

	narrow := make([]float32, boxedHeight*width*n)
	err := spread(boxedHeight, func(first, last int) {
		line, boxed := make([]uint16, from.width*n), make([]float32, boxedWidth*n)
		for y := first; y < last; y++ {
			boxLine(from, y, box, line, boxed)
			filterLine(boxed, n, across, narrow[y*width*n:(y+1)*width*n])
		}
	})
	if err != nil {
		return raster{}, err
	}
	small := raster{width, height, from.colours, from.alpha, make([]uint16, width*height*n)}
	err = spread(height, func(first, last int) {
		sums := make([]float32, width*n)
		for y := first; y < last; y++ {
			filterColumns(narrow, down[y], sums)
			for i, v := range sums {
				small.pixels[y*width*n+i] = uint16(min(max(v, 0), 65535) + 0.5)
			}
		}
	})
	return small, err
}

// boxLine averages the boxes of the y-th line of boxes. Those at the right and
// lower edge may be smaller than the others.
func boxLine(from lines, y, box int, line []uint16, boxed []float32) {
	n := from.channels()
	rows := min(box, from.height-y*box)
	clear(boxed)
	for row := range rows {
		from.read(y*box+row, line)
		switch {
		case box == 1:
			for i, v := range line {
				boxed[i] = float32(v)
			}
			return
		case n == 3:
			addRGB(line, box, boxed)
		default:
			for i, v := range line {
				boxed[i/n/box*n+i%n] += float32(v)
			}
		}
	}
	for x := range len(boxed) / n {
		share := 1 / float32(rows*min(box, from.width-x*box))
		for c := range n {
			boxed[x*n+c] *= share
		}
	}
}

// addRGB is the inner loop of boxLine for the commonest pictures.
func addRGB(line []uint16, box int, boxed []float32) {
	for to := 0; len(line) > 0; to += 3 {
		var r, g, b uint32
		run := line[:min(3*box, len(line))]
		for i := 0; i+2 < len(run); i += 3 {
			r += uint32(run[i])
			g += uint32(run[i+1])
			b += uint32(run[i+2])
		}
		boxed[to] += float32(r)
		boxed[to+1] += float32(g)
		boxed[to+2] += float32(b)
		line = line[len(run):]
	}
}

// filter is what one small pixel takes from the large ones: their first and
// their shares, which sum to 1.
type filter struct {
	first  int
	shares []float32
}

// filters computes the filter of every small pixel along one side. length is
// the large side in its pixels, which may end within the last of them.
//
// Lanczos' kernel: sinc(x) sinc(x/3) for |x| < 3 (Duchon 1979), stretched by
// the scale so that nothing finer than the small pixels survives.
func filters(length float64, count, small int) []filter {
	const lobes = 3
	scale := max(1, length/float64(small))
	list := make([]filter, small)
	for i := range list {
		centre := (float64(i)+0.5)*length/float64(small) - 0.5
		first := max(0, int(math.Ceil(centre-lobes*scale)))
		last := min(count-1, int(math.Floor(centre+lobes*scale)))
		shares := make([]float64, 0, last-first+1)
		sum := 0.0
		for at := first; at <= last; at++ {
			share := lanczos((float64(at)-centre)/scale, lobes)
			shares = append(shares, share)
			sum += share
		}
		list[i] = filter{first, make([]float32, len(shares))}
		for j, share := range shares {
			list[i].shares[j] = float32(share / sum)
		}
	}
	return list
}

func lanczos(x, lobes float64) float64 {
	x = math.Abs(x)
	if x < 1e-9 {
		return 1
	}
	if x >= lobes {
		return 0
	}
	return lobes * math.Sin(math.Pi*x) * math.Sin(math.Pi*x/lobes) / (math.Pi * math.Pi * x * x)
}

// filterLine makes a line of n channels narrow.
func filterLine(line []float32, n int, across []filter, narrow []float32) {
	if n == 3 {
		filterRGB(line, across, narrow)
		return
	}
	for x, f := range across {
		for c := range n {
			var sum float32
			for i, share := range f.shares {
				sum += share * line[(f.first+i)*n+c]
			}
			narrow[x*n+c] = sum
		}
	}
}

func filterRGB(line []float32, across []filter, narrow []float32) {
	for x, f := range across {
		var r, g, b float32
		from := line[3*f.first : 3*(f.first+len(f.shares))]
		for _, share := range f.shares {
			r += share * from[0]
			g += share * from[1]
			b += share * from[2]
			from = from[3:]
		}
		narrow[3*x], narrow[3*x+1], narrow[3*x+2] = r, g, b
	}
}

// filterColumns makes one low line out of narrow ones.
func filterColumns(narrow []float32, f filter, sums []float32) {
	clear(sums)
	n := len(sums)
	for i, share := range f.shares {
		for j, v := range narrow[(f.first+i)*n : (f.first+i+1)*n] {
			sums[j] += share * v
		}
	}
}

// spread shares out 0..count among the processors. A panic in one share comes
// back as an error, so that odd pixels cost one file and not the process.
func spread(count int, work func(first, last int)) error {
	shares := min(runtime.GOMAXPROCS(0), count)
	errs := make([]error, shares)
	var done sync.WaitGroup
	for i := range shares {
		done.Go(func() {
			defer func() {
				if cause := recover(); cause != nil {
					errs[i] = header.Damaged("This picture is damaged and cannot be shown.", fmt.Errorf("panic: %v", cause))
				}
			}()
			work(i*count/shares, (i+1)*count/shares)
		})
	}
	done.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
