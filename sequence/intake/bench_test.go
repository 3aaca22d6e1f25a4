package intake

import (
	"context"
	"path/filepath"
	"testing"
)

// BenchmarkRead reads whole photographs, card images and all.
func BenchmarkRead(b *testing.B) {
	root := photosFolder(b)
	for _, file := range []string{
		"big-20mp/Kleiber_by_Lukas_Baubkus.jpg",
		"phone-p3-offset/012mp-bus.jpg",
	} {
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
