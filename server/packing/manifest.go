package packing

import (
	"fmt"
	"path"
	"regexp"
	"time"

	"pairwall/sequence"
)

// Form counts the layouts of a pack; a program reads its own and older ones.
const Form = 1

const (
	manifestName = "pairwall.json"
	dataName     = "title.db"
)

// Manifest is what a pack says of itself, as pairwall.json in it.
type Manifest struct {
	Kind      string    `json:"kind"` // "pairwall title"
	Form      int       `json:"form"`
	Title     string    `json:"title"`
	Packed    time.Time `json:"packed"`
	Photos    int       `json:"photos"`
	Places    bool      `json:"places"`    // whether positions and tracks are in it
	Originals int       `json:"originals"` // how many are in it
	Missing   []string  `json:"missing"`   // originals that were wanted and could not be read
	Files     []File    `json:"files"`
}

const kind = "pairwall title"

// File is one file of a pack.
type File struct {
	Name   string `json:"name"`
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"` // lower-case hex
}

// Names that a pack may hold. The last part of an original's is what the maker
// called it, and is not used to write by.
var (
	cardFile     = regexp.MustCompile(`^cards/([0-9a-f]{64})/(\d{2,5})\.jpg$`)
	originalFile = regexp.MustCompile(`^originals/([0-9a-f]{64})/([^/]+)$`)
)

// Limits that keep a file made to do harm from filling the disk: far above what
// any title has.
const (
	mostFiles    = 100_000
	mostManifest = 64 << 20
	mostData     = 4 << 30
	mostCard     = 16 << 20
	mostOriginal = 4 << 30
)

// bound is how large a file of a pack may be; 0 for a name no pack has.
func bound(name string) int64 {
	switch {
	case name == dataName:
		return mostData
	case cardFile.MatchString(name):
		return mostCard
	case originalFile.MatchString(name):
		return mostOriginal
	}
	return 0
}

func (m Manifest) check() error {
	switch {
	case m.Kind != kind:
		return damaged(fmt.Errorf("it is %q", m.Kind))
	case m.Form > Form:
		return &sequence.Error{Code: sequence.Unsupported, Message: "This title was packed by a newer version of Pairwall.",
			Hint: "Open it with that version or a newer one. Nothing was changed."}
	case m.Form < 1 || len(m.Files) > mostFiles:
		return damaged(fmt.Errorf("form %d with %d files", m.Form, len(m.Files)))
	}
	seen := make(map[string]bool)
	for _, f := range m.Files {
		if bound(f.Name) == 0 || f.Bytes < 0 || f.Bytes > bound(f.Name) || seen[f.Name] || path.Clean(f.Name) != f.Name {
			return damaged(fmt.Errorf("file %q of %d bytes", f.Name, f.Bytes))
		}
		seen[f.Name] = true
	}
	if !seen[dataName] {
		return damaged(fmt.Errorf("no %s", dataName))
	}
	return nil
}

func damaged(err error) error {
	return &sequence.Error{Code: sequence.Damaged, Message: "This file is no packed title, or it is damaged.",
		Hint: "Pack the title again where it came from. Nothing was changed.", Err: err}
}
