package press

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"pairwall/sequence/colour"
	"pairwall/sequence/pages"
)

type stream struct {
	dict map[string]any
	data []byte
}

func pressIntent(t testing.TB) *Intent {
	t.Helper()
	profile, err := os.ReadFile("/usr/share/color/icc/ghostscript/default_cmyk.icc")
	if err != nil {
		t.Fatalf("this test needs Debian's ghostscript: %v", err)
	}
	return &Intent{Name: "Artifex CMYK SWOP Profile", Profile: profile}
}

// objects reads a file with qpdf: every stream's dictionary and decoded bytes.
func objects(t *testing.T, file string) (streams []stream, root string) {
	t.Helper()
	var read struct {
		QPDF []map[string]json.RawMessage `json:"qpdf"`
	}
	plain := judge(t, "qpdf", "--json", "--json-stream-data=inline", "--decode-level=generalized", file)
	if err := json.Unmarshal([]byte(plain), &read); err != nil {
		t.Fatal(err)
	}
	for _, raw := range read.QPDF[1] {
		var o struct {
			Stream *struct {
				Data string         `json:"data"`
				Dict map[string]any `json:"dict"`
			} `json:"stream"`
		}
		if json.Unmarshal(raw, &o) != nil || o.Stream == nil {
			continue
		}
		data, err := base64.StdEncoding.DecodeString(o.Stream.Data)
		if err != nil {
			t.Fatal(err)
		}
		streams = append(streams, stream{o.Stream.Dict, data})
	}
	return streams, plain
}

func holds(streams []stream, data []byte) bool {
	for _, s := range streams {
		if bytes.Equal(s.data, data) {
			return true
		}
	}
	return false
}

func TestEmbeddedProfilesComeOutAsTheyWentIn(t *testing.T) {
	_, file, _ := printersPDF(t, pages.FirstFormat, pressIntent(t), true)
	accepted(t, file)
	streams, _ := objects(t, file)
	adobe, err := os.ReadFile(filepath.Join(photographs(t), bookFiles[1]))
	if err != nil {
		t.Fatal(err)
	}
	_, after, found := bytes.Cut(adobe, []byte("ICC_PROFILE\x00\x01\x01"))
	if !found {
		t.Fatal("the photograph has no profile in one piece")
	}
	size := int(after[0])<<24 | int(after[1])<<16 | int(after[2])<<8 | int(after[3])
	for what, profile := range map[string][]byte{"the picture's": after[:size], "sRGB": colour.SRGBProfile(), "the press's": pressIntent(t).Profile} {
		if !holds(streams, profile) {
			t.Errorf("%s profile is not in the file as it was", what)
		}
	}
}

func TestWhatPDFX4AsksIsInTheFile(t *testing.T) {
	for name, intent := range map[string]*Intent{"sRGB": SRGB(), "a press": pressIntent(t)} {
		t.Run(name, func(t *testing.T) {
			made, file, _ := printersPDF(t, pages.FirstFormat, intent, true)
			_, json := objects(t, file)
			for _, want := range []string{`"/GTS_PDFX"`, `"/OutputConditionIdentifier": "u:` + intent.Name, `"/Trapped": "/False"`, `"/TrimBox"`} {
				if !strings.Contains(json, want) {
					t.Errorf("there is no %s", want)
				}
			}
			if !bytes.HasPrefix(made, []byte("%PDF-1.6\n")) || !bytes.Contains(made, []byte("<pdfxid:GTS_PDFXVersion>PDF/X-4<")) {
				t.Error("the version or its identification is not plain to read")
			}
			packet := judge(t, "pdfinfo", "-meta", file)
			for _, want := range []string{"2026-05-03T18:04:05Z", "Round the Adriatic", "xmpMM:VersionID", "xmpMM:RenditionClass", "pdf:Trapped>False"} {
				if !strings.Contains(packet, want) {
					t.Errorf("the packet lacks %s", want)
				}
			}
			if strings.Contains(json, `"/Encrypt"`) || strings.Contains(json, "/Annots") || strings.Contains(json, `"/LZWDecode"`) {
				t.Error("there is something PDF/X-4 forbids")
			}
			if met := len(intent.Unmet()) == 0; met != (name == "a press") {
				t.Errorf("%q", intent.Unmet())
			}
			streams, _ := objects(t, file)
			for _, s := range streams { // device colours must be those of the intent
				forbidden := regexp.MustCompile(`(?m)^[\d. ]+ (g|G|k|K)$`)
				if name == "a press" {
					forbidden = regexp.MustCompile(`(?m)^[\d. ]+ (rg|RG)$`)
				}
				if s.dict["/Type"] == nil && forbidden.Match(s.data) && bytes.Contains(s.data, []byte(" re\n")) {
					t.Errorf("a colour of another device: %q", forbidden.Find(s.data))
				}
			}
		})
	}
}
