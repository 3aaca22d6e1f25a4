//go:build unix

package store

import (
	"os"
	"strings"
	"syscall"
	"testing"
)

// The system lets root write anywhere, so the folder is shown to a process of
// a user who is not.
func TestAReadOnlyFolderIsRefusedInPlainWords(t *testing.T) {
	for promise, prepare := range map[string]func(dir string){
		"an empty folder":                func(string) {},
		"a folder with a data file":      func(dir string) { openStore(t, dir).Close() },
		"a data file that is open":       func(dir string) { newTitle(t, openStore(t, dir), "Adria", 0) },
		"a folder where only files stay": func(dir string) { openStore(t, dir).Close(); os.Chmod(dataFile(dir), 0o444) },
	} {
		t.Run(promise, func(t *testing.T) {
			dir := publicFolder(t)
			prepare(dir)
			if err := os.Chmod(dir, 0o555); err != nil {
				t.Fatal(err)
			}
			defer os.Chmod(dir, 0o755)
			child := cast(t, "open", dir, 0)
			if os.Getuid() == 0 {
				child.Path = publicCopy(t, child.Path)
				child.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
			}
			said, err := child.Output()
			if err == nil {
				t.Fatal("it was opened")
			}
			if told := string(said); !strings.HasPrefix(told, "unreadable: Pairwall is not allowed to read and write ") || !strings.Contains(told, "choose another data folder") {
				t.Fatalf("said %q", told)
			}
		})
	}
}

// publicFolder is a temporary folder that other users can reach, as t.TempDir
// is not.
func publicFolder(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "pairwall-store-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	if err := os.Chmod(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	return dir
}

func publicCopy(t *testing.T, program string) string {
	t.Helper()
	content, err := os.ReadFile(program)
	if err != nil {
		t.Fatal(err)
	}
	path := publicFolder(t) + "/store.test"
	if err := os.WriteFile(path, content, 0o755); err != nil {
		t.Fatal(err)
	}
	return path
}
