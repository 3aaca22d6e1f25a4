package bringing

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"
)

func TestTwoDroppedFilesOfOneNameAreBothKept(t *testing.T) {
	folder := t.TempDir()
	for range 3 {
		file, err := createFree(folder, "a.jpg")
		if err != nil {
			t.Fatal(err)
		}
		file.Close()
	}
	for _, name := range []string{"a.jpg", "a (2).jpg", "a (3).jpg"} {
		if _, err := os.Stat(filepath.Join(folder, name)); err != nil {
			t.Error(err)
		}
	}
}

func TestDroppedNamesStayInsideTheirFolderOnEverySystem(t *testing.T) {
	for name, want := range map[string]string{
		"IMG_0012.jpg":                    "IMG_0012.jpg",
		"Ankunft im Hafen.JPG":            "Ankunft im Hafen.JPG",
		"Луна над Бари.jpg":               "Луна над Бари.jpg",
		"港の朝.jpg":                         "港の朝.jpg",
		"../../etc/passwd":                "_._etc_passwd",
		`..\..\boot.ini`:                  "_.._boot.ini",
		"/etc/passwd":                     "_etc_passwd",
		"C:\\x.jpg":                       "C__x.jpg",
		".hidden.jpg":                     "hidden.jpg",
		"...":                             "photo",
		"":                                "photo",
		".jpg":                            "jpg",
		"a\x00b\nc.jpg":                   "abc.jpg",
		"exe\u202egpj.jpg":                "exegpj.jpg",
		"bad\xffbytes.jpg":                "badbytes.jpg",
		"CON.jpg":                         "_CON.jpg",
		"lpt1":                            "_lpt1",
		"nul.tar.gz":                      "_nul.tar.gz",
		"trailing dots. . .":              "trailing dots",
		"what?.jpg":                       "what_.jpg",
		strings.Repeat("é", 300) + ".jpg": strings.Repeat("é", 98) + ".jpg",
	} {
		got := SafeName(name)
		if got != want {
			t.Errorf("SafeName(%q) = %q, want %q", name, got, want)
		}
	}
}

func FuzzDroppedNamesStayInsideTheirFolder(f *testing.F) {
	for _, seed := range []string{"a.jpg", "../x", "..", ".", "CON", "\x00", "a/b\\c", strings.Repeat("x", 500) + "." + strings.Repeat("y", 500), " . ", ".a. ."} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, name string) {
		got := SafeName(name)
		if got == "" || len(got) > nameBound+20 || !utf8.ValidString(got) || strings.ContainsAny(got, "/\\:\x00\n") ||
			strings.HasPrefix(got, ".") || !filepath.IsLocal(got) || filepath.Base(got) != got || got != strings.TrimRight(got, ". ") {
			t.Errorf("SafeName(%q) = %q", name, got)
		}
	})
}
