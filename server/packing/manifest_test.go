package packing

import (
	"encoding/json"
	"path"
	"strings"
	"testing"
)

// A pack from elsewhere may say anything: what passes names only files of the
// layout, none of them outside of it.
func FuzzManifest(f *testing.F) {
	f.Add([]byte(`{"kind":"pairwall title","form":1,"files":[{"name":"title.db","bytes":1,"sha256":""}]}`))
	f.Add([]byte(`{"kind":"pairwall title","form":1,"files":[{"name":"title.db","bytes":1},{"name":"cards/` + strings.Repeat("0", 64) + `/160.jpg","bytes":9}]}`))
	f.Add([]byte(`{"kind":"pairwall title","form":1,"files":[{"name":"title.db"},{"name":"originals/` + strings.Repeat("a", 64) + `/..","bytes":9}]}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		var m Manifest
		if json.Unmarshal(text, &m) != nil || m.check() != nil {
			return
		}
		for _, file := range m.Files {
			if path.IsAbs(file.Name) || strings.Contains(file.Name, "..") && path.Clean(file.Name) != file.Name || bound(file.Name) == 0 || file.Bytes > bound(file.Name) {
				t.Errorf("%q of %d bytes passes", file.Name, file.Bytes)
			}
		}
	})
}
