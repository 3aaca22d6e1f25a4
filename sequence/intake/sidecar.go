package intake

import (
	"io"
	"os"
	"path/filepath"
	"strings"
)

// longestSidecar bounds a file of XMP beside a picture, bytes.
const longestSidecar = 1 << 20

// sidecar reads the XMP that lies beside a picture under its name, with or
// without the picture's own ending, as programs write it that leave originals
// alone; nil when there is none. It is a help: one that cannot be read says
// nothing.
func sidecar(path string) []byte {
	stem := strings.TrimSuffix(path, filepath.Ext(path))
	for _, name := range []string{path + ".xmp", path + ".XMP", stem + ".xmp", stem + ".XMP"} {
		info, err := os.Stat(name)
		if err != nil || !info.Mode().IsRegular() || info.Size() > longestSidecar {
			continue
		}
		file, err := os.Open(name)
		if err != nil {
			continue
		}
		packet, err := io.ReadAll(io.LimitReader(file, longestSidecar))
		file.Close()
		if err == nil {
			return packet
		}
	}
	return nil
}
