package server

import (
	"bytes"
	_ "embed"
	"io/fs"
	"net/http"
	"path"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"

	"pairwall/sequence"
	"pairwall/server/route"
)

// description is made from the routes table by the tests of this package, so
// that the program need not carry what makes it.
//
//go:embed openapi.json
var description []byte

// buildMark stands in index.html where the hash of the build belongs.
const buildMark = "__BUILD__"

// mediaTypes are those of the files a build may hold. They are written down
// here because the system's own table differs from machine to machine.
var mediaTypes = map[string]string{
	".css":   "text/css; charset=utf-8",
	".html":  "text/html; charset=utf-8",
	".js":    "text/javascript; charset=utf-8",
	".json":  "application/json",
	".map":   "application/json",
	".png":   "image/png",
	".svg":   "image/svg+xml",
	".txt":   "text/plain; charset=utf-8",
	".woff2": "font/woff2",
}

func (s *Server) page(w http.ResponseWriter, r *http.Request) error {
	index, err := fs.ReadFile(s.files, "index.html")
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", mediaTypes[".html"])
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(bytes.ReplaceAll(index, []byte(buildMark), []byte(s.hash))))
	return nil
}

// static sends a file of the page. Its address changes with every build, so a
// browser may keep it for ever; an address of another build leads nowhere.
func (s *Server) static(w http.ResponseWriter, r *http.Request) error {
	name := chi.URLParam(r, "*")
	media := mediaTypes[strings.ToLower(path.Ext(name))]
	if chi.URLParam(r, "hash") != s.hash || media == "" || !fs.ValidPath(name) {
		return route.NoSuch("file")
	}
	content, err := fs.ReadFile(s.files, name)
	if err != nil {
		return &sequence.Error{Code: sequence.NotFound, Message: "There is no such file.", Err: err}
	}
	w.Header().Set("Content-Type", media)
	w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(content))
	return nil
}

func (s *Server) describe(w http.ResponseWriter, r *http.Request) error {
	w.Header().Set("Content-Type", "application/json")
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(description))
	return nil
}
