package wallshot_test

import (
	"context"
	"image"
	"image/color"
	"image/draw"
	"math/rand/v2"
	"testing"

	"github.com/boombuler/barcode/qr"

	"pairwall/sequence"
	"pairwall/sequence/pages/code"
	"pairwall/sequence/pages/wallshot"
)

// enlarged puts a symbol on paper, so many pixels to a module.
func enlarged(on *image.Gray, x, y, pixels int, symbol image.Image) {
	for row := range symbol.Bounds().Dy() {
		for column := range symbol.Bounds().Dx() {
			draw.Draw(on, image.Rect(x+column*pixels, y+row*pixels, x+(column+1)*pixels, y+(row+1)*pixels),
				image.NewUniform(symbol.At(column, row)), image.Point{}, draw.Src)
		}
	}
}

// Codes of the same kind that say something else, small and large, among them
// ours with one or two characters changed, and ours with too much of it lost.
func TestCodesOfOtherThingsAndTornOnesAreNeverTakenForANumber(t *testing.T) {
	chance := rand.New(rand.NewPCG(8, 8))
	const alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
	img := image.NewGray(image.Rect(0, 0, 1500, 1200))
	draw.Draw(img, img.Rect, image.White, image.Point{}, draw.Src)
	for i := range 10 * 8 {
		ours, err := code.Of(code.Tag(chance.IntN(1024)), sequence.PhotoID(1+chance.IntN(500)))
		if err != nil {
			t.Fatal(err)
		}
		text := []byte(ours.String())
		switch i % 4 {
		case 0:
			text = []byte("EXHIBITION")
		case 1:
			text[chance.IntN(10)] = alphabet[chance.IntN(32)]
			text[chance.IntN(10)] = '$'
		case 2:
			text[9] = alphabet[(int(text[9])+1+chance.IntN(20))%32]
			if string(text) == ours.String() {
				text[8] = '%'
			}
		}
		symbol, err := qr.Encode(string(text), qr.H, qr.AlphaNumeric)
		if err != nil {
			t.Fatal(err)
		}
		x, y := i%10*150+20, i/10*150+20
		enlarged(img, x, y, 5, symbol)
		if i%4 == 3 { // half of it under a finger
			draw.Draw(img, image.Rect(x+45, y+45, x+105, y+105), image.White, image.Point{}, draw.Src)
		}
	}
	found, err := wallshot.Find(context.Background(), img, nil)
	if err != nil || len(found.Codes) > 0 {
		t.Errorf("%+v, %v", found, err)
	}
	if n := len(found.Unread); n != 20 {
		t.Errorf("%d places are told where a code of ours may be, not the 20 torn ones", n)
	}
}

func TestNoiseHoldsNoNumber(t *testing.T) {
	chance := rand.New(rand.NewPCG(9, 9))
	for _, grain := range []int{1, 4, 9} {
		img := image.NewGray(image.Rect(0, 0, 1200, 900))
		for y := 0; y < 900; y += grain {
			for x := 0; x < 1200; x += grain {
				v := byte(chance.IntN(2) * 255)
				draw.Draw(img, image.Rect(x, y, x+grain, y+grain), image.NewUniform(color.Gray{Y: v}), image.Point{}, draw.Src)
			}
		}
		found, err := wallshot.Find(context.Background(), img, nil)
		if err != nil || len(found.Codes) > 0 {
			t.Errorf("%+v, %v", found, err)
		}
	}
}

func TestATurnedCodeIsReadWhicheverWayItHangs(t *testing.T) {
	for _, turn := range []float64{0.4, 0.785, 1.57, 2.6, 3.14, 4.5} {
		chance := rand.New(rand.NewPCG(4, 4))
		p := hungPrint{number: 47, width: 40, height: 45, codeX: 20, codeY: 33, turn: turn}
		s := shot{pixels: 90, blur: 1, noise: 4, uneven: 0.3, quality: 85, left: -15, top: -15, right: 55, bottom: 60}
		var sum tally
		if sum.look(t, []hungPrint{p}, s, chance); sum.found != 1 || sum.wrong != 0 || sum.off > 2 {
			t.Errorf("turned by %.2f: %+v", turn, sum)
		}
	}
}

func TestStoppingComesBackAtOnceAndProgressOnlyGrows(t *testing.T) {
	stopped, stop := context.WithCancel(context.Background())
	stop()
	img := image.NewGray(image.Rect(0, 0, 800, 600))
	if _, err := wallshot.Find(stopped, img, nil); sequence.CodeOf(err) != sequence.Cancelled {
		t.Errorf("stopped: %v", err)
	}
	last := 0.0
	_, err := wallshot.Find(context.Background(), img, func(done float64) {
		if done < last || done > 1 {
			t.Errorf("%v after %v", done, last)
		}
		last = done
	})
	if err != nil || last != 1 {
		t.Errorf("ended at %v, %v", last, err)
	}
	if _, err := wallshot.Find(context.Background(), &image.Gray{Stride: 20000, Rect: image.Rect(0, 0, 20000, 20000)}, nil); sequence.CodeOf(err) != sequence.TooLarge {
		t.Errorf("far too large: %v", err)
	}
}

func FuzzFind(f *testing.F) {
	f.Add([]byte{0, 255, 0}, uint8(1))
	f.Fuzz(func(t *testing.T, pix []byte, width uint8) {
		w := int(width)
		if w == 0 || len(pix) < w {
			return
		}
		img := &image.Gray{Pix: pix, Stride: w, Rect: image.Rect(0, 0, w, len(pix)/w)}
		if _, err := wallshot.Find(context.Background(), img, nil); err != nil {
			t.Error(err)
		}
	})
}

func BenchmarkFind12MP(b *testing.B) {
	chance := rand.New(rand.NewPCG(12, 12))
	prints := byHand(chance, 40, 8, 30)
	img, _ := photographed(b, prints, tag, around(prints, ordinary(90)), chance)
	b.SetBytes(int64(len(img.Pix)))
	for b.Loop() {
		if _, err := wallshot.Find(context.Background(), img, nil); err != nil {
			b.Fatal(err)
		}
	}
}
