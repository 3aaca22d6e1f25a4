package press

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func letterFile(t *testing.T, paragraphs []Paragraph) string {
	t.Helper()
	l := letters(t)
	var made [2]bytes.Buffer
	for i := range made {
		d := Begin(&made[i], about, l)
		if err := d.Letter(paragraphs); err != nil {
			t.Fatal(err)
		}
		if err := d.End(); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(made[0].Bytes(), made[1].Bytes()) {
		t.Error("the same letter twice is not the same file")
	}
	file := filepath.Join(t.TempDir(), "letter.pdf")
	if err := os.WriteFile(file, made[0].Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

func TestALetterLosesNoWordAndGoesOnOverPages(t *testing.T) {
	long := strings.Repeat("Silk-", 90) + "end"
	paragraphs := []Paragraph{{"", "Dear Tipografia Immaginaria,"}, {}, {"Text paper", long}, {"Overs and unders that are accepted by us", "up to 10 %"}}
	for range 60 {
		paragraphs = append(paragraphs, Paragraph{"", "Wrapped in paper, Šibenik to Bari by ferry, and so on until the line has to be broken somewhere near its end."})
	}
	file := letterFile(t, append(paragraphs, Paragraph{"", "The last line."}))
	accepted(t, file)
	text := judge(t, "pdftotext", "-layout", file, "-")
	for _, want := range []string{"Dear Tipografia Immaginaria,", "The last line.", "1 of 3", "3 of 3", "Šibenik"} {
		if !strings.Contains(text, want) {
			t.Errorf("the letter lacks %q", want)
		}
	}
	if got := strings.Count(strings.Join(strings.Fields(text), ""), "Silk-"); got < 88 { // two may be divided at a line's end
		t.Errorf("%d of 90 parts of a long word are there", got)
	}
}
