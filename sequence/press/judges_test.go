package press

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"

	"pairwall/sequence"
	"pairwall/sequence/pages"
)

// Judges are programs that read PDF and are not ours: Debian's qpdf,
// poppler-utils and ghostscript. A machine without them fails.

// judge runs a program and fails the test when it fails or warns.
func judge(t *testing.T, program string, args ...string) string {
	t.Helper()
	var out, warned bytes.Buffer
	run := exec.CommandContext(t.Context(), program, args...)
	run.Stdout, run.Stderr = &out, &warned
	if err := run.Run(); err != nil {
		t.Fatalf("%s: %v\n%s%s", program, err, out.String(), warned.String())
	}
	if warned.Len() > 0 {
		t.Errorf("%s warns: %s", program, warned.String())
	}
	return out.String()
}

// accepted has every judge open the file.
func accepted(t *testing.T, file string) {
	t.Helper()
	judge(t, "qpdf", "--check", file)
	judge(t, "pdfinfo", "-box", file)
	if said := judge(t, "gs", "-q", "-dNOPAUSE", "-dBATCH", "-dPDFSTOPONERROR", "-sDEVICE=nullpage", file); said != "" {
		t.Errorf("ghostscript says: %s", said)
	}
	if err := api.ValidateFile(file, model.NewDefaultConfiguration()); err != nil {
		t.Errorf("pdfcpu: %v", err)
	}
}

func TestMain(m *testing.M) {
	api.DisableConfigDir() // pdfcpu's, in the maker's home
	os.Exit(m.Run())
}

// letters reads the typeface the program prints with.
func letters(t testing.TB) Letters {
	t.Helper()
	var files [][]byte
	for _, name := range []string{"noto/NotoSans-Regular", "noto/NotoSansArmenian-Regular", "noto/NotoSansGeorgian-Regular", "noto-jp/NotoSansJP_400Regular"} {
		file, err := os.ReadFile(filepath.Join("..", "..", "web", "vendor", filepath.FromSlash(name)+".ttf"))
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, file)
	}
	l, err := ReadLetters(files)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

var about = About{Title: "Round the Adriatic", Made: time.Date(2026, 5, 3, 18, 4, 5, 0, time.UTC)}

// written makes a document and returns its bytes and a file that holds them.
func written(t testing.TB, draw func(*Document) error) ([]byte, string) {
	t.Helper()
	return writtenFor(t, about, draw)
}

func writtenFor(t testing.TB, about About, draw func(*Document) error) ([]byte, string) {
	t.Helper()
	var out bytes.Buffer
	d := Begin(&out, about, letters(t))
	if err := draw(d); err != nil {
		t.Fatal(err)
	}
	if err := d.End(); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "made.pdf")
	if err := os.WriteFile(file, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return out.Bytes(), file
}

func TestTextOfEveryEuropeanScriptAndJapaneseIsEmbeddedAndCanBeReadBack(t *testing.T) {
	lines := []string{"Trieste, molo; 5 × 7 – “in posa” (il mare)", "Přístav, żółw, őszi fény, ığdır, ħobż, þorp", "Κέρκυρα στο φως", "Бар, Ђердап і Київ", "Երևան նավահանգիստ", "თბილისი ზღვა", "〒650-0042 神戸市中央区波止場町"}
	_, file := written(t, func(d *Document) error {
		return d.Page(pages.Size{Width: 120, Height: 80}, func(ink *Ink) error {
			for i, line := range lines {
				ink.Text(line, 5, 10, 10+10*pages.Length(i))
			}
			return nil
		})
	})
	accepted(t, file)
	text := judge(t, "pdftotext", "-layout", file, "-")
	for _, line := range lines {
		if !strings.Contains(text, line) {
			t.Errorf("%q is not in the file's text:\n%s", line, text)
		}
	}
	for _, line := range strings.Split(strings.TrimSpace(judge(t, "pdffonts", file)), "\n")[2:] {
		if fields := strings.Fields(line); fields[len(fields)-5] != "yes" || fields[len(fields)-4] != "yes" || fields[len(fields)-3] != "yes" {
			t.Errorf("a font is not embedded, not a subset or cannot be read back: %s", line)
		}
	}
	if missing := letters(t).Missing("海 Бар ميناء"); string(missing) != "ميناء" {
		t.Errorf("missing: %q", string(missing))
	}
}

func TestTheSameInputMakesTheSameBytes(t *testing.T) {
	make := func() []byte {
		file, _ := written(t, func(d *Document) error {
			return d.Page(pages.Size{Width: 100, Height: 100}, func(ink *Ink) error {
				ink.Text("Bari, δύο, три", 6, 10, 20)
				ink.Fill(pages.Rect{X: 10, Y: 30, Size: pages.Size{Width: 20, Height: 10}}, 0.5)
				return nil
			})
		})
		return file
	}
	if !bytes.Equal(make(), make()) {
		t.Error("two files differ")
	}
}

func TestADocumentWithoutPagesIsRefused(t *testing.T) {
	if err := Begin(&bytes.Buffer{}, about, letters(t)).End(); sequence.CodeOf(err) != sequence.Invalid {
		t.Errorf("%v", err)
	}
}

func TestADiskThatIsFullIsSaid(t *testing.T) {
	d := Begin(full{}, about, letters(t))
	_ = d.Page(pages.Size{Width: 10, Height: 10}, func(*Ink) error { return nil })
	if err := d.End(); sequence.CodeOf(err) != sequence.Unreadable || !strings.Contains(err.Error(), "full") {
		t.Errorf("%v", err)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, fmt.Errorf("write: %w", syscall.ENOSPC) }
