package intake

import (
	"context"
	"path/filepath"
	"testing"
)

// large are the photographs that reading is timed on.
var large = []string{"big-20mp/Kleiber_by_Lukas_Baubkus.jpg", "phone-p3-offset/012mp-bus.jpg"}

// BenchmarkRead reads whole photographs, card images and all.
func BenchmarkRead(b *testing.B) {
	root := photosFolder(b)
	for _, file := range large {
		b.Run(filepath.Base(file), func(b *testing.B) {
			cards := b.TempDir()
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Read(context.Background(), filepath.Join(root, file), cards); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkPool does the same in one worker, and tells the most memory it took.
func BenchmarkPool(b *testing.B) {
	root := photosFolder(b)
	for _, file := range large {
		b.Run(filepath.Base(file), func(b *testing.B) {
			cards := b.TempDir()
			p := testPool(b, "good", 1, testLimits)
			for b.Loop() {
				if _, err := p.Read(context.Background(), filepath.Join(root, file), cards); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(p.PeakMemory())/(1<<20), "MB-peak")
		})
	}
}
