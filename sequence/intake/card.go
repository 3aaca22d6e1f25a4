package intake

import (
	"image"
	"os"
	"path/filepath"
	"strconv"

	"pairwall/sequence/intake/pixels"
)

// CardSizes are the long sides of the card images, in pixels.
var CardSizes = []int{160, 400, 1600}

// cardQuality is the JPEG quality of each card size. Small ones are many and
// looked at from afar.
var cardQuality = map[int]int{160: 82, 400: 85, 1600: 88}

// CardPath is where a card image of the photo with the given hash lies, below
// the folder for cards.
func CardPath(cards, hash string, size int) string {
	return filepath.Join(cards, hash, strconv.Itoa(size)+".jpg")
}

// cardImages makes the card images, by size, from the largest of them.
func cardImages(large *image.RGBA) (map[int]*image.RGBA, error) {
	images := make(map[int]*image.RGBA)
	from := large
	for i := len(CardSizes) - 1; i >= 0; i-- {
		size := CardSizes[i]
		if max(from.Rect.Dx(), from.Rect.Dy()) > size {
			var err error
			if from, err = pixels.Smaller(from, size); err != nil {
				return nil, err
			}
		}
		images[size] = from
	}
	return images, nil
}

// keepCards writes the card images, each under another name first and put in
// place when it is safely on the disk, so that a card image is whole or not
// there. scratch is a folder beside them that is this call's alone.
//
// Errors: Unreadable, and Stops is true of them.
func keepCards(cards, scratch, hash string, images map[int]*image.RGBA) error {
	folder := filepath.Dir(CardPath(cards, hash, CardSizes[0]))
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return unwritable(err)
	}
	for _, size := range CardSizes {
		data, err := pixels.Encode(images[size], cardQuality[size])
		if err != nil {
			return err
		}
		if err := putFile(filepath.Join(scratch, strconv.Itoa(size)), CardPath(cards, hash, size), data); err != nil {
			return unwritable(err)
		}
	}
	return nil
}

// putFile writes data to a file that appears under its name only when whole.
func putFile(draft, final string, data []byte) error {
	file, err := os.OpenFile(draft, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	_, err = file.Write(data)
	if err == nil {
		err = file.Sync()
	}
	if closing := file.Close(); err == nil {
		err = closing
	}
	if err == nil {
		err = os.Rename(draft, final)
	}
	if err != nil {
		os.Remove(draft)
	}
	return err
}
