package colour

import (
	"cmp"
	"image"
	"math"
	"slices"
)

// Extract returns the palette of a picture of sRGB pixels: 1 to 8 swatches,
// heaviest first, the same to the bit for the same pixels; nil for a picture
// without pixels. Coordinates are rounded to 0.01, finer than a step of 8 bits.
func Extract(img image.Image) Palette {
	return extract(samples(img))
}

// Tuned by eye on real photographs of streets, skies, woods and rooms.
const (
	mostSwatches = 8
	// binWidth, in Lab units, gathers like samples before they are clustered.
	binWidth = 3
	// seedCount clusters are made first, far more than are kept, so that small
	// accents get one of their own.
	seedCount = 24
	// enoughSeeds ends seeding when no colour is farther from a seed.
	enoughSeeds = 4
	mostRounds  = 16
	// sameColour is the ΔE00 below which two clusters become one.
	sameColour = 6
	// leastShare of a picture makes a swatch. So does leastAccent when it is an
	// accent, a red coat in a grey street: of at most mostAccent, with a chroma of
	// at least accentChroma, and accentApart in ΔE00 from every weightier cluster.
	leastShare   = 0.015
	leastAccent  = 0.005
	mostAccent   = 0.04
	accentChroma = 32
	accentApart  = 14
	// littleLoss is what joining two clusters may cost (share of the picture times
	// ΔE00 squared) though the palette has room for both.
	littleLoss = 2
)

// extract clusters colours in CIELAB. Over-segmenting by k-means (Lloyd 1982)
// from seeds that each take the most unexplained weight (k-means++ with its
// draw replaced by its likeliest outcome, so nothing is random), then merging
// by CIEDE2000, keeps large even areas whole and small strong colours alive.
func extract(cells []Lab) Palette {
	if len(cells) == 0 {
		return nil
	}
	bins := gather(cells)
	clusters := refine(bins, seeds(bins))
	clusters = merge(clusters)
	clusters = fold(clusters)
	return palette(clusters)
}

// cluster is a mean colour and how many samples it stands for.
type cluster struct {
	Lab
	n float64
}

func (c cluster) with(d cluster) cluster {
	n := c.n + d.n
	s, t := c.n/n, d.n/n
	return cluster{Lab{s*c.L + t*d.L, s*c.A + t*d.A, s*c.B + t*d.B}, n}
}

// gather averages the samples of each cell of a lattice in Lab, in the order in
// which the cells are first met.
func gather(cells []Lab) []cluster {
	type key struct{ l, a, b int32 }
	index := make(map[key]int, 1024)
	var bins []cluster
	at := func(v float64) int32 { return int32(math.Floor(v / binWidth)) }
	for _, c := range cells {
		k := key{at(c.L), at(c.A), at(c.B)}
		i, met := index[k]
		if !met {
			i = len(bins)
			index[k] = i
			bins = append(bins, cluster{})
		}
		bins[i].L += c.L
		bins[i].A += c.A
		bins[i].B += c.B
		bins[i].n++
	}
	for i := range bins {
		b := &bins[i]
		b.Lab = Lab{b.L / b.n, b.A / b.n, b.B / b.n}
	}
	return bins
}

// seeds starts from the heaviest bin and adds the bin with the most weight times
// squared distance from the seeds before it.
func seeds(bins []cluster) []Lab {
	heaviest := 0
	for i, b := range bins {
		if b.n > bins[heaviest].n {
			heaviest = i
		}
	}
	chosen := []Lab{bins[heaviest].Lab}
	gap := make([]float64, len(bins))
	for i := range gap {
		gap[i] = math.Inf(1)
	}
	for len(chosen) < seedCount {
		next, most, farthest := -1, 0.0, 0.0
		for i, b := range bins {
			gap[i] = min(gap[i], square(b.Lab, chosen[len(chosen)-1]))
			farthest = max(farthest, gap[i])
			if claim := b.n * gap[i]; claim > most {
				next, most = i, claim
			}
		}
		if farthest < enoughSeeds*enoughSeeds {
			break
		}
		chosen = append(chosen, bins[next].Lab)
	}
	return chosen
}

// square is the squared Euclidean distance in Lab.
func square(x, y Lab) float64 {
	l, a, b := x.L-y.L, x.A-y.A, x.B-y.B
	return l*l + a*a + b*b
}

// refine runs Lloyd's rounds from the given centres until no bin changes hands.
func refine(bins []cluster, centres []Lab) []cluster {
	owner := make([]int, len(bins))
	clusters := make([]cluster, len(centres))
	for round := range mostRounds {
		changed := false
		sums := make([]cluster, len(centres))
		for i, b := range bins {
			best, nearest := 0, math.Inf(1)
			for k, c := range centres {
				if d := square(b.Lab, c); d < nearest {
					best, nearest = k, d
				}
			}
			changed = changed || owner[i] != best
			owner[i] = best
			s := &sums[best]
			s.L += b.n * b.L
			s.A += b.n * b.A
			s.B += b.n * b.B
			s.n += b.n
		}
		for k, s := range sums {
			if s.n > 0 {
				centres[k] = Lab{s.L / s.n, s.A / s.n, s.B / s.n}
			}
			clusters[k] = cluster{centres[k], s.n}
		}
		if !changed && round > 0 {
			break
		}
	}
	return slices.DeleteFunc(clusters, func(c cluster) bool { return c.n == 0 })
}

// merge joins the closest two clusters for as long as they look the same.
func merge(clusters []cluster) []cluster {
	for len(clusters) > 1 {
		apart := func(i, j int) float64 { return DeltaE00(clusters[i].Lab, clusters[j].Lab) }
		i, j := cheapest(len(clusters), apart)
		if apart(i, j) >= sameColour {
			break
		}
		clusters = join(clusters, i, j)
	}
	return clusters
}

// cheapest is the pair below n, i < j, of least cost.
func cheapest(n int, cost func(i, j int) float64) (i, j int) {
	least := math.Inf(1)
	for a := range n {
		for b := a + 1; b < n; b++ {
			if c := cost(a, b); c < least {
				i, j, least = a, b, c
			}
		}
	}
	return i, j
}

func join(clusters []cluster, i, j int) []cluster {
	clusters[i] = clusters[i].with(clusters[j])
	return slices.Delete(clusters, j, j+1)
}

// fold gives up the clusters too small for a swatch of their own, lightest
// first, then joins what can best be spared: until at most eight are left, and
// on for as long as hardly anything is lost.
func fold(clusters []cluster) []cluster {
	total := 0.0
	for _, c := range clusters {
		total += c.n
	}
	byWeight(clusters)
	for i := len(clusters) - 1; i > 0; i-- {
		c := clusters[i]
		if c.n >= leastShare*total || accent(clusters, i, total) {
			continue
		}
		k, apart := nearest(clusters, i)
		if apart < accentApart {
			clusters[k] = clusters[k].with(c)
		} else {
			clusters[k].n += c.n // too unlike to tint what takes its weight
		}
		clusters = slices.Delete(clusters, i, i+1)
	}
	for len(clusters) > 1 {
		i, j, loss := leastLoss(clusters, total)
		if len(clusters) <= mostSwatches && loss > littleLoss {
			break
		}
		clusters = join(clusters, i, j)
	}
	return clusters
}

// leastLoss finds the two clusters whose joining takes least from the palette:
// Ward's criterion (J. Am. Stat. Assoc. 58, 1963) with ΔE00 for distance and
// presence for weight, accents being dear.
func leastLoss(clusters []cluster, total float64) (i, j int, loss float64) {
	const dear = 10
	accents := make([]bool, len(clusters))
	for k := range clusters {
		accents[k] = accent(clusters, k, total)
	}
	lossOf := func(i, j int) float64 {
		p, q := presence(clusters[i])/total, presence(clusters[j])/total
		d := DeltaE00(clusters[i].Lab, clusters[j].Lab)
		loss := p * q / (p + q) * d * d
		if d >= accentApart && (accents[i] || accents[j]) {
			loss *= dear
		}
		return loss
	}
	i, j = cheapest(len(clusters), lossOf)
	return i, j, lossOf(i, j)
}

// presence is a cluster's weight as the eye counts it, up to double for strong
// colour (our own measure).
func presence(c cluster) float64 {
	return c.n * (1 + min(c.Chroma()/accentChroma, 1))
}

// accent tells whether a cluster is small, vivid and unlike all weightier ones.
func accent(clusters []cluster, i int, total float64) bool {
	c := clusters[i]
	if c.n < leastAccent*total || c.n >= mostAccent*total || c.Chroma() < accentChroma {
		return false
	}
	for k, d := range clusters {
		if k != i && d.n >= c.n && DeltaE00(c.Lab, d.Lab) < accentApart {
			return false
		}
	}
	return true
}

// nearest is the cluster closest to clusters[i], and how far off in ΔE00.
func nearest(clusters []cluster, i int) (k int, apart float64) {
	apart = math.Inf(1)
	for j, c := range clusters {
		if j == i {
			continue
		}
		if d := DeltaE00(c.Lab, clusters[i].Lab); d < apart {
			k, apart = j, d
		}
	}
	return k, apart
}

func byWeight(clusters []cluster) {
	slices.SortFunc(clusters, func(x, y cluster) int {
		return cmp.Or(cmp.Compare(y.n, x.n), cmp.Compare(x.L, y.L), cmp.Compare(x.A, y.A), cmp.Compare(x.B, y.B))
	})
}

func palette(clusters []cluster) Palette {
	byWeight(clusters)
	total := 0.0
	for _, c := range clusters {
		total += c.n
	}
	p := make(Palette, len(clusters))
	for i, c := range clusters {
		p[i] = Swatch{Lab{hundredth(c.L), hundredth(c.A), hundredth(c.B)}, c.n / total}
	}
	return p
}

func hundredth(v float64) float64 { return math.Round(v*100) / 100 }
