package press

import (
	"pairwall/sequence/pages"
	"pairwall/sequence/pages/code"
)

// Strip adds a test strip: patches, codes in the corners, and what it is.
//
// Errors: those of code.Of.
func (d *Document) Strip(title string, tag code.Tag, s pages.Strip) error {
	return d.Page(s.Size, func(k *Ink) error {
		for _, p := range s.Patches {
			k.Paint(p.At, p.Colour)
		}
		for _, m := range s.Marks {
			made, err := code.Of(tag, m.Number)
			if err != nil {
				return err
			}
			k.modules(made, m.At)
		}
		k.Middle("Test strip, "+title+". Print it as it is, on the paper and with the settings of the pages.", 2.6, s.Width/2, s.Height-10)
		return nil
	})
}
