package bringing

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"pairwall/sequence"
)

// FolderListing is one folder of this machine as the maker chooses from it.
type FolderListing struct {
	Path     string        `json:"path"`
	Parent   string        `json:"parent"` // "" at the top
	Folders  []Folder      `json:"folders"`
	Pictures int           `json:"pictures"` // lying directly in it, by their names
	Starts   []NamedFolder `json:"starts"`   // places to begin from
}

// Folder is one folder in another.
type Folder struct {
	NamedFolder
	Pictures int `json:"pictures"` // lying directly in it, by their names
}

// NamedFolder is a folder by what the maker calls it and where it lies.
type NamedFolder struct {
	Name string `json:"name"`
	Path string `json:"path"`
}

// countBound ends the counting of a folder's pictures: a folder of more entries
// is told by what was seen so far, rather than after a long wait.
const countBound = 20_000

// List gives the folders in a folder; "" stands for the maker's home.
//
// Errors: Invalid for a path that is no folder or not named from the top of its
// disk; NotFound; Unreadable.
func List(ctx context.Context, path string) (FolderListing, error) {
	if path == "" {
		home, err := os.UserHomeDir()
		if err != nil {
			return FolderListing{}, Unreadable("your home folder", err)
		}
		path = home
	}
	if !filepath.IsAbs(path) {
		return FolderListing{}, &sequence.Error{Code: sequence.Invalid, Message: "A folder must be named from the top of its disk."}
	}
	path = filepath.Clean(path)
	entries, err := os.ReadDir(path)
	if err != nil {
		return FolderListing{}, folderFailed(path, err)
	}
	listing := FolderListing{Path: path, Parent: filepath.Dir(path), Folders: []Folder{}, Starts: starts()}
	if listing.Parent == path {
		listing.Parent = ""
	}
	slices.SortFunc(entries, func(a, b fs.DirEntry) int { return natural(a.Name(), b.Name()) })
	for _, entry := range entries {
		if ctx.Err() != nil {
			return listing, ctx.Err()
		}
		child := filepath.Join(path, entry.Name())
		switch {
		case hidden(entry.Name()):
		case isFolder(child, entry):
			listing.Folders = append(listing.Folders, Folder{NamedFolder{entry.Name(), child}, countPictures(ctx, child)})
		case pictureName(entry.Name()):
			listing.Pictures++
		}
	}
	return listing, nil
}

func folderFailed(path string, err error) error {
	if info, statErr := os.Stat(path); statErr == nil && !info.IsDir() {
		return &sequence.Error{Code: sequence.Invalid, Message: path + " is not a folder.", Err: err}
	}
	return Unreadable("the folder "+path, err)
}

// isFolder follows symbolic links, as the maker does who put them there.
func isFolder(path string, entry fs.DirEntry) bool {
	if entry.Type()&fs.ModeSymlink == 0 {
		return entry.IsDir()
	}
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

// countPictures counts the files that are pictures by their names; 0 for a
// folder that cannot be read, which opening it will explain.
func countPictures(ctx context.Context, path string) int {
	dir, err := os.Open(path)
	if err != nil {
		return 0
	}
	defer dir.Close()
	pictures := 0
	for seen := 0; seen < countBound && ctx.Err() == nil; {
		entries, err := dir.ReadDir(512)
		for _, entry := range entries {
			if !entry.IsDir() && !hidden(entry.Name()) && pictureName(entry.Name()) {
				pictures++
			}
		}
		seen += len(entries)
		if err != nil {
			break // at its end, or as far as it could be read
		}
	}
	return pictures
}

// starts are the places to begin from that exist on this machine.
func starts() []NamedFolder {
	found := []NamedFolder{}
	add := func(name, path string) {
		info, err := os.Stat(path)
		known := slices.ContainsFunc(found, func(f NamedFolder) bool { return f.Path == path })
		if err == nil && info.IsDir() && !known {
			found = append(found, NamedFolder{name, path})
		}
	}
	if home, err := os.UserHomeDir(); err == nil {
		add("Home", home)
		add("Pictures", picturesFolder(home))
	}
	if runtime.GOOS == "windows" {
		for letter := 'A'; letter <= 'Z'; letter++ {
			add(string(letter)+":", string(letter)+`:\`)
		}
		return found
	}
	user := os.Getenv("USER")
	for _, root := range []string{"/run/media/" + user, "/media/" + user, "/media", "/Volumes"} {
		entries, _ := os.ReadDir(root) // most systems have one of these only
		for _, entry := range entries {
			if !hidden(entry.Name()) && (root != "/media" || entry.Name() != user) {
				add(entry.Name(), filepath.Join(root, entry.Name()))
			}
		}
	}
	return found
}

// picturesFolder asks the desktop where pictures are kept: on Linux the folder
// has another name in every language (freedesktop.org, xdg-user-dirs).
func picturesFolder(home string) string {
	config := os.Getenv("XDG_CONFIG_HOME")
	if config == "" {
		config = filepath.Join(home, ".config")
	}
	text, err := os.ReadFile(filepath.Join(config, "user-dirs.dirs"))
	if err == nil {
		for line := range strings.Lines(string(text)) {
			if path, ok := strings.CutPrefix(strings.TrimSpace(line), "XDG_PICTURES_DIR="); ok {
				return strings.Replace(strings.Trim(path, `"`), "$HOME", home, 1)
			}
		}
	}
	return filepath.Join(home, "Pictures")
}

func hidden(name string) bool { return strings.HasPrefix(name, ".") }
