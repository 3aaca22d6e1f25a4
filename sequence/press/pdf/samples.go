package pdf

import (
	"bufio"
	"compress/zlib"
	"errors"
	"io"
)

// Samples are a picture's samples, 8 bits each, channels side by side, line
// after line from the top.
type Samples struct {
	Width, Height, Channels int
	From                    io.Reader
}

// Entries are those of a picture's dictionary that say how Pour writes it.
func (s Samples) Entries() Dict {
	return Dict{"Type": Name("XObject"), "Subtype": Name("Image"), "Width": s.Width, "Height": s.Height, "BitsPerComponent": 8,
		"Filter":      Name("FlateDecode"),
		"DecodeParms": Dict{"Predictor": 15, "Colors": s.Channels, "Columns": s.Width}}
}

// paeth is the filter of PNG that suits photographs best (ISO/IEC 15948, 9.4).
const paeth = 4

// Pour writes the samples without loss, each line as what it differs from what
// its neighbours foretell (ISO 32000-1, 7.4.4.4).
//
// Errors: those of From, io.ErrUnexpectedEOF when it ends too soon; of w.
func (s Samples) Pour(w io.Writer) error {
	z, err := zlib.NewWriterLevel(w, zlib.BestSpeed)
	if err != nil {
		return err
	}
	in := bufio.NewReaderSize(s.From, 1<<20)
	row := s.Width * s.Channels
	line, above, told := make([]byte, row), make([]byte, row), make([]byte, row+1)
	told[0] = paeth
	for range s.Height {
		if _, err := io.ReadFull(in, line); err != nil {
			if errors.Is(err, io.EOF) {
				err = io.ErrUnexpectedEOF
			}
			return err
		}
		foretell(told[1:], line, above, s.Channels)
		if _, err := z.Write(told); err != nil {
			return err
		}
		line, above = above, line
	}
	return z.Close()
}

func foretell(out, line, above []byte, n int) {
	for i := range min(n, len(line)) {
		out[i] = line[i] - above[i]
	}
	for i := n; i < len(line); i++ {
		a, b, c := int(line[i-n]), int(above[i]), int(above[i-n])
		pa, pb, pc := distance(b, c), distance(a, c), distance(a+b, 2*c)
		switch {
		case pa <= pb && pa <= pc:
			out[i] = line[i] - byte(a)
		case pb <= pc:
			out[i] = line[i] - byte(b)
		default:
			out[i] = line[i] - byte(c)
		}
	}
}

func distance(a, b int) int {
	if a < b {
		return b - a
	}
	return a - b
}
