// Package web holds the page as the browser gets it: the files under dist,
// which `go generate ./web` makes from src, styles and index.html. Out go those
// files and one hash of all of them. It must never know who serves them.
package web

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"
	"sync"
)

//go:generate go run -C build .

//go:embed all:dist
var dist embed.FS

// Files are the built files: index.html and what it refers to.
var Files = func() fs.FS {
	files, err := fs.Sub(dist, "dist")
	if err != nil {
		panic(err) // only a malformed path can fail, and this one is written above
	}
	return files
}()

// Hash tells one build from another: 16 hex digits over the names and contents
// of Files. Static files are served under it, so that they can be cached for
// ever and a new build is still seen at once.
var Hash = sync.OnceValue(func() string { return HashOf(Files) })

// HashOf is Hash for any set of files. Names and lengths are hashed along with
// the contents, so that bytes moved from one file to another count as a change.
func HashOf(files fs.FS) string {
	sum := sha256.New()
	err := fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		content, err := fs.ReadFile(files, name)
		if err != nil {
			return err
		}
		fmt.Fprintf(sum, "%s\x00%d\x00", name, len(content))
		sum.Write(content)
		return nil
	})
	if err != nil {
		panic(err) // embedded files can be read
	}
	return hex.EncodeToString(sum.Sum(nil))[:16]
}
