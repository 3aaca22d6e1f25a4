package header

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/jpeg"
	"testing"
)

// Two smaller versions behind the picture, indexed as CIPA DC-007 (2009) says; no
// file of the photographs folder carries them.
func TestTheSmallestOfSeveralPicturesStandsForTheFirst(t *testing.T) {
	encoded := func(width, height int) []byte {
		var out bytes.Buffer
		if err := jpeg.Encode(&out, image.NewGray(image.Rect(0, 0, width, height)), nil); err != nil {
			t.Fatal(err)
		}
		return out.Bytes()
	}
	first, large, small := encoded(600, 400), encoded(480, 320), encoded(120, 80)
	const indexed = 3 * pictureEntry
	segment := 2 + 2 + 4 + 8 + 2 + 12 + 4 + indexed // marker to the last entry
	lead := int64(2 + 2 + 2 + 4)                    // where offsets count from
	behind := int64(len(first) + segment)
	order := binary.LittleEndian
	index := append([]byte("MPF\x00II*\x00"), 8, 0, 0, 0, 1, 0)
	index = order.AppendUint16(index, tagPictures)
	index = order.AppendUint16(index, kindUndefined)
	index = order.AppendUint32(index, indexed)
	index = order.AppendUint32(index, 26)
	index = order.AppendUint32(index, 0)
	for _, e := range [][3]int64{{0x030000, behind, 0}, {smallerPicture2, int64(len(large)), behind - lead},
		{smallerPicture, int64(len(small)), behind + int64(len(large)) - lead}} {
		for _, v := range e {
			index = order.AppendUint32(index, uint32(v))
		}
		index = order.AppendUint32(index, 0)
	}
	file := append([]byte{0xFF, 0xD8, 0xFF, markerAPP2}, byte((len(index)+2)>>8), byte(len(index)+2))
	file = append(append(file, index...), first[2:]...)
	file = append(append(file, large...), small...)
	got, h, err := Preview("jpeg", bytes.NewReader(file), int64(len(file)))
	if err != nil || !bytes.Equal(got, small) || h.Width != 600 {
		t.Errorf("%d bytes of preview, want %d; the picture is %d wide; %v", len(got), len(small), h.Width, err)
	}
	cut := file[:len(file)-len(small)/2]
	if got, _, err := Preview("jpeg", bytes.NewReader(cut), int64(len(cut))); err != nil || got != nil {
		t.Errorf("a smaller version that is cut off: %d bytes, %v", len(got), err)
	}
}
