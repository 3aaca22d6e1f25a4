package main

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"

	"pairwall/sequence"
	"pairwall/store"
)

// folderOf makes a folder with copies of real photographs, the first n of the
// day in Rome.
func folderOf(t *testing.T, n int) string {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "Rome in May")
	if err := os.Mkdir(folder, 0o700); err != nil {
		t.Fatal(err)
	}
	names, err := fs.Glob(os.DirFS(realPhotographs(t)), "rome-2024/*.jpg")
	if err != nil || len(names) < n {
		t.Fatalf("there are %d photographs, %v", len(names), err)
	}
	for _, name := range names[:n] {
		copyFile(t, filepath.Join(realPhotographs(t), name), filepath.Join(folder, filepath.Base(name)))
	}
	return folder
}

func copyFile(t *testing.T, from, to string) {
	t.Helper()
	content, err := os.ReadFile(from)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(to, content, 0o600); err != nil {
		t.Fatal(err)
	}
}

// begin opens the program on no data at all and makes a title in the browser.
func begin(t testing.TB, name string) *tab {
	t.Helper()
	browser, err := theBrowser()
	if err != nil {
		t.Fatal(err)
	}
	a := serveData(t, t.TempDir())
	b := a.tab(browser, desktop, nil, chromedp.WithNewBrowserContext())
	b.open(a.address)
	b.there(panel("titles"))
	b.write(panel("titles")+" input", name)
	b.click(panel("titles") + " " + act("save-name"))
	b.says("h1", name)
	title, err := a.store.TitleNamed(t.Context(), name)
	if err != nil {
		t.Fatal(err)
	}
	a.title = title.ID
	b.shows("[-] [-]")
	return b
}

// named finds the one element among those selected that says words.
func (b *tab) named(selector, words string) string {
	b.t.Helper()
	path := ""
	b.wait(selector+" saying "+words, func() bool {
		path = read[string](b, call(`(selector, words) => {
			const is = (el) => el.textContent.includes(words) || el.getAttribute("aria-label")?.includes(words);
			let el = [...document.querySelectorAll(selector)].find(is);
			const steps = [];
			for (; el && el !== document.documentElement; el = el.parentElement)
				steps.unshift(":nth-child(" + ([...el.parentElement.children].indexOf(el) + 1) + ")");
			return steps.join(" > ");
		}`, selector, words))
		return path != ""
	}, func() string { return "" })
	return "html > " + path
}

func (b *tab) cards() int {
	b.t.Helper()
	return read[int](b, `document.querySelectorAll('[data-region="table"] [data-photo]').length`)
}

// cardsAndPiled counts those that lie within closed piles, too.
func (b *tab) cardsAndPiled() int {
	b.t.Helper()
	return read[int](b, `new Set([...document.querySelectorAll('[data-region="table"] :is([data-photo], [data-of])')].flatMap((el) => (el.dataset.of ?? el.dataset.photo).split(" "))).size`)
}

func TestAFolderIsBroughtInAndADamagedFileIsToldWithItsReason(t *testing.T) {
	b := begin(t, "First walk")
	folder := folderOf(t, 4)
	if err := os.WriteFile(filepath.Join(folder, "torn.jpg"), []byte("\xff\xd8\xff\xe0 torn off"), 0o600); err != nil {
		t.Fatal(err)
	}
	t.Setenv("HOME", filepath.Dir(folder)) // where the chooser begins

	b.click(".bare " + act("bring"))
	b.says(panel("bring")+" .here", filepath.Dir(folder))
	b.says(b.named(panel("bring")+" "+act("open-folder"), "Rome in May"), "5 pictures")
	b.click(b.named(panel("bring")+" "+act("open-folder"), "Rome in May"))
	b.says(panel("bring")+" .here", folder)
	b.click(panel("bring") + " " + act("bring-folder"))

	refused := fmt.Sprintf(`[data-refused=%q]`, filepath.Join(folder, "torn.jpg"))
	b.there(refused)
	words := strings.TrimPrefix(b.text(refused), "torn.jpg")
	if reason, _, _ := strings.Cut(words, folder); len(strings.Fields(reason)) < 4 {
		t.Errorf("the reason is told as %q", reason)
	}
	b.wait("four cards lie on the table", func() bool { return b.cards() == 4 }, func() string { return fmt.Sprintf("; %d do", b.cards()) })
	b.click(panel("bring") + " " + act("close"))
	b.drag(card(1), between(0), "new spread here")
	b.sees("[-] (- 1) [-]")
	b.until("its picture is drawn", `(() => { const img = document.querySelector('[data-region="wall"] [data-photo="1"] img'); return img.complete && img.naturalWidth > 0; })()`)
}

func TestBringingInCanBeStoppedAndGoOn(t *testing.T) {
	b := begin(t, "Second walk")
	folder := folderOf(t, 19)
	more := manyFrom(t, folder, 500) // so many that a fast machine is not done before one presses
	t.Setenv("HOME", folder)

	b.click(".bare " + act("bring"))
	b.says(panel("bring")+" .here", folder)
	b.click(panel("bring") + " " + act("bring-folder"))
	b.wait("cards appear while it runs", func() bool { return b.cards() > 0 }, func() string { return "" })
	b.click(panel("bring") + " " + act("cancel-bring"))
	b.there(panel("bring") + " " + act("go-on"))
	b.gone(panel("bring") + " " + act("cancel-bring"))

	jobs, err := b.app.store.Brings(t.Context(), b.app.title)
	if err != nil || len(jobs) != 1 || jobs[0].State != store.Cancelled {
		t.Fatalf("the bringing-in is kept as %+v, %v", jobs, err)
	}
	photos, err := b.app.store.Photos(t.Context(), b.app.title)
	if err != nil || len(photos) == 0 || len(photos) >= 19+len(more) {
		t.Fatalf("%d photos were in when it was stopped, %v", len(photos), err)
	}
	all := 19
	for _, path := range more { // those that are in stay; the others need not be waited for
		if slices.ContainsFunc(photos, func(p sequence.Photo) bool { return p.Path == path }) {
			all++
		} else if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
	}
	b.click(panel("bring") + " " + act("go-on"))
	b.wait("all cards lie on the table", func() bool { return b.cardsAndPiled() == all }, func() string { return fmt.Sprintf("; %d of %d do", b.cardsAndPiled(), all) })
	b.gone(panel("bring") + " " + act("go-on"))
}

// manyFrom adds n more photographs to a folder, to be found behind those in it:
// real ones, each told from the others by a few bytes behind its end.
func manyFrom(t testing.TB, folder string, n int) []string {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(realPhotographs(t), "rome-2024", "*.jpg"))
	if err != nil || len(names) == 0 {
		t.Fatal("no photographs: ", err)
	}
	paths := make([]string, n)
	for i := range n {
		content, err := os.ReadFile(names[i%len(names)])
		if err != nil {
			t.Fatal(err)
		}
		paths[i] = filepath.Join(folder, fmt.Sprintf("more-%03d.jpg", i))
		if err := os.WriteFile(paths[i], fmt.Appendf(content, "%d %d", i, time.Now().UnixNano()), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return paths
}

func TestDroppedFilesAreBroughtInAndKept(t *testing.T) {
	b := begin(t, "Third walk")
	files, err := filepath.Glob(filepath.Join(folderOf(t, 3), "*.jpg"))
	if err != nil {
		t.Fatal(err)
	}
	b.drop(point{640, 300}, files[:2]...)
	b.wait("two cards lie on the table", func() bool { return b.cards() == 2 }, func() string { return fmt.Sprintf("; %d do", b.cards()) })
	b.there(panel("bring"))
	b.gone(".veil")

	b.do(chromedp.SetUploadFiles(chromedp.CSS(panel("bring")+` input[type="file"]`), files[2:]))
	b.wait("the chosen file lies there, too", func() bool { return b.cards() == 3 }, func() string { return fmt.Sprintf("; %d do", b.cards()) })
	photos, err := b.app.store.Photos(t.Context(), b.app.title)
	if err != nil || len(photos) != 3 {
		t.Fatalf("%d photos are kept, %v", len(photos), err)
	}
	for _, photo := range photos {
		if !strings.HasPrefix(photo.Path, filepath.Join(b.app.data, "dropped")) {
			t.Errorf("the copy of %s lies at %s", photo.Name, photo.Path)
		}
	}
}

// drop lets files go over the page, as they come from a file manager.
func (b *tab) drop(at point, files ...string) {
	b.t.Helper()
	data := input.DragData{Items: []*input.DragDataItem{}, Files: files, DragOperationsMask: 1}
	for _, kind := range []input.DispatchDragEventType{input.DispatchDragEventTypeDragEnter, input.DispatchDragEventTypeDragOver, input.DispatchDragEventTypeDrop} {
		if kind == input.DispatchDragEventTypeDrop {
			b.there(".veil")
		}
		b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, input.DispatchDragEvent, input.DispatchDragEventParams{Type: kind, X: at.X, Y: at.Y, Data: &data})
			return err
		}))
	}
}

func TestATitleThatIsTakenIsRefusedInWords(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)
	b.allow("409")

	b.click(act("titles"))
	b.says(panel("titles"), titleName)
	b.write(panel("titles")+" .begin input", titleName)
	b.click(panel("titles") + " .begin " + act("save-name"))
	b.there(panel("titles") + ` [role="alert"]`)
	b.says(panel("titles")+` [role="alert"]`, titleName)
	b.click(act("open-title"))
	b.shows("[-] [-]")
}
