package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// patience is how long a test waits for what should come about at once. Only a
// failing test waits that long.
const patience = 45 * time.Second

// tab is one browser tab on the app. What goes wrong in the page by itself is
// gathered and fails the test at its end: requests off this machine, thrown
// and logged errors, breaches of the content-security policy.
type tab struct {
	t       testing.TB
	app     *app
	address string // the app's, which stays when the app is started anew
	ctx     context.Context

	mu      sync.Mutex
	stays   bool // on a page that asks whether to leave it
	asked   int  // how often a page asked that
	faults  []string
	allowed []string

	told map[string]bool // accessibility faults told already

	traced func(event any) // hears of a trace while one is made
}

// listening is put into every page before its own script: it keeps what the
// status line said and what the content-security policy forbade.
const listening = `
window.said = [];
window.forbidden = [];
document.addEventListener("securitypolicyviolation", (e) => window.forbidden.push(e.violatedDirective + " " + e.blockedURI + " " + e.sample));
document.addEventListener("DOMContentLoaded", () => {
	const line = document.querySelector("[data-live]");
	if (line) new MutationObserver(() => window.said.push(line.textContent)).observe(line, { childList: true, characterData: true, subtree: true });
});`

// size is that of a window, in CSS pixels.
type size struct{ width, height int64 }

var desktop = size{1280, 900}

// visit opens the app's title in a tab with a storage of its own, and waits
// until the wall is there.
func (a *app) visit(as size, how ...chromedp.EmulateViewportOption) *tab {
	a.t.Helper()
	browser, err := theBrowser()
	if err != nil {
		a.t.Fatal(err)
	}
	b := a.tab(browser, as, how, chromedp.WithNewBrowserContext())
	b.open(a.wallAddress())
	b.sees(notation(a.wall()))
	return b
}

// beside opens a second tab of the same person's browser.
func (b *tab) beside() *tab {
	b.t.Helper()
	second := b.app.tab(b.ctx, desktop, nil)
	second.open(b.app.wallAddress())
	second.sees(notation(b.app.wall()))
	return second
}

func (a *app) tab(parent context.Context, as size, how []chromedp.EmulateViewportOption, options ...chromedp.ContextOption) *tab {
	a.t.Helper()
	b := &tab{t: a.t, app: a, address: a.address}
	ctx, leave := chromedp.NewContext(parent, append(options, chromedp.WithListener(b.watch))...)
	b.ctx = ctx
	a.t.Cleanup(func() {
		b.settle()
		leave()
	})
	if err := chromedp.Do(ctx); err != nil { // the tab lives as long as this context
		a.t.Fatalf("opening a tab: %v", err)
	}
	b.do(chromedp.EmulateViewport(as.width, as.height, how...), chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: listening})
		return err
	}))
	return b
}

// watch runs on the goroutine that reads the browser's messages.
func (b *tab) watch(event any) {
	b.mu.Lock()
	traced := b.traced
	b.mu.Unlock()
	if traced != nil {
		traced(event)
	}
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		u := e.Request.URL
		if !strings.HasPrefix(u, b.address+"/") && !strings.HasPrefix(u, "blob:"+b.address) && !strings.HasPrefix(u, "data:") && u != "about:blank" {
			b.fault("the page asks for " + u + ", which is not ours")
		}
	case *page.EventJavascriptDialogOpening:
		if e.Type != page.DialogTypeBeforeunload {
			b.fault("the page opened a dialog: " + e.Message)
		}
		go b.answer()
	case *runtime.EventExceptionThrown:
		words := e.ExceptionDetails.Text
		if e.ExceptionDetails.Exception != nil {
			words += " " + e.ExceptionDetails.Exception.Description
		}
		b.fault("the page threw: " + words)
	case *runtime.EventConsoleAPICalled:
		if e.Type == runtime.ConsoleAPICalledTypeError || e.Type == runtime.ConsoleAPICalledTypeWarning {
			said, _ := json.Marshal(e.Args)
			b.fault("the page complained: " + string(said))
		}
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError || e.Entry.Level == log.EntryLevelWarning {
			b.fault(fmt.Sprintf("the browser complained: %s (%s) %s", e.Entry.Text, e.Entry.Source, e.Entry.URL))
		}
	}
}

// answer leaves a page that asks whether to leave it, unless the person stays.
func (b *tab) answer() {
	b.mu.Lock()
	b.asked++
	leave := !b.stays
	b.mu.Unlock()
	if _, err := chromedp.Call(b.ctx, page.HandleJavaScriptDialog, page.HandleJavaScriptDialogParams{Accept: leave}); err != nil {
		b.fault(err.Error())
	}
}

func (b *tab) fault(words string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.faults = append(b.faults, words)
}

// allow lets complaints pass that contain these words: the browser logs every
// refused request, and some tests are about refusals.
func (b *tab) allow(words ...string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.allowed = append(b.allowed, words...)
}

// settle fails the test for what went wrong in the page.
func (b *tab) settle() {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, 5*time.Second)
	defer cancel()
	if forbidden, err := chromedp.Run(ctx, chromedp.Evaluate[[]string]("window.forbidden ?? []")); err == nil {
		for _, what := range forbidden {
			b.fault("the content-security policy forbade " + what)
		}
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, fault := range b.faults {
		allowed := false
		for _, words := range b.allowed {
			allowed = allowed || strings.Contains(fault, words)
		}
		if !allowed {
			b.t.Error(fault)
		}
	}
}

// do carries out browser actions and ends the test when one fails.
func (b *tab) do(actions ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	if err := chromedp.Do(ctx, actions...); err != nil {
		b.fail(err.Error())
	}
}

func (b *tab) open(address string) {
	b.t.Helper()
	b.do(chromedp.Navigate(address))
}

func (b *tab) reload() {
	b.t.Helper()
	b.do(chromedp.Reload())
}

// read evaluates an expression in the page; a promise is waited for.
func read[T any](b *tab, expression string) T {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	value, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		b.fail(fmt.Sprintf("%v, reading %.300s", err, expression))
	}
	return value
}

// call writes a call of a function with arguments, for read.
func call(function string, arguments ...any) string {
	written := make([]string, len(arguments))
	for i, a := range arguments {
		value, err := json.Marshal(a)
		if err != nil {
			panic(err)
		}
		written[i] = string(value)
	}
	return "(" + function + ")(" + strings.Join(written, ", ") + ")"
}

// until waits for an expression to be true in the page.
func (b *tab) until(what, expression string) {
	b.t.Helper()
	b.wait(what, func() bool { return read[bool](b, "Boolean("+expression+")") }, func() string { return "" })
}

// wait asks again and again; instead tells at the end what was there instead.
func (b *tab) wait(what string, is func() bool, instead func() string) {
	b.t.Helper()
	for deadline := time.Now().Add(patience); time.Now().Before(deadline); time.Sleep(15 * time.Millisecond) {
		if is() {
			return
		}
	}
	b.fail("it did not come about: " + what + instead())
}

// fail ends the test, with a picture of the screen.
func (b *tab) fail(words string) {
	b.t.Helper()
	b.pictured(b.t.Name())
	b.t.Fatal(words)
}

// pictured takes a picture of the screen when PAIRWALL_SHOTS names a folder for
// such.
func (b *tab) pictured(name string) {
	if dir := os.Getenv("PAIRWALL_SHOTS"); dir != "" {
		ctx, cancel := context.WithTimeout(b.ctx, 5*time.Second)
		defer cancel()
		if png, err := chromedp.Run(ctx, chromedp.CaptureScreenshot()); err == nil {
			_ = os.WriteFile(filepath.Join(dir, strings.ReplaceAll(name, "/", "-")+".png"), png, 0o600)
		}
	}
}

// sees waits until both the screen and the data file have the wall as written.
func (b *tab) sees(want string) {
	b.t.Helper()
	b.shows(want)
	stored := ""
	b.wait("the data file has "+want,
		func() bool { stored = notation(b.app.wall()); return stored == want },
		func() string { return "; it has " + stored })
}

// shows waits until the screen has the wall as written.
func (b *tab) shows(want string) {
	b.t.Helper()
	shown := ""
	b.wait("the screen shows "+want,
		func() bool { shown = read[string](b, seen); return shown == want },
		func() string { return "; it shows " + shown })
}

// unchanged makes sure that nothing was done: the journal is as long as it was.
func (b *tab) unchanged(revision int64) {
	b.t.Helper()
	if now := b.app.wall(); now.Revision != revision {
		b.fail(fmt.Sprintf("the wall was changed, from state %d to %d: %s", revision, now.Revision, notation(now)))
	}
}

// hears waits until the status line said words, or has said them since the
// last time something was heard.
func (b *tab) hears(words string) {
	b.t.Helper()
	b.wait("the status line says "+words, func() bool {
		return read[bool](b, call(`(words) => {
			const i = window.said.findIndex((line) => line.includes(words));
			if (i >= 0) window.said.splice(0, i + 1);
			return i >= 0;
		}`, words))
	}, func() string { return fmt.Sprintf("; it says %q", read[[]string](b, "window.said")) })
}

// text is what an element says, "" while there is none.
func (b *tab) text(selector string) string {
	b.t.Helper()
	return read[string](b, call(`(s) => document.querySelector(s)?.textContent.replaceAll("\u00a0", " ").trim() ?? ""`, selector))
}

// says waits until an element contains words.
func (b *tab) says(selector, words string) {
	b.t.Helper()
	told := ""
	b.wait(selector+" says "+words,
		func() bool { told = b.text(selector); return strings.Contains(told, words) },
		func() string { return fmt.Sprintf("; it says %q", told) })
}

// there waits until an element is on the page; gone, until it is not.
func (b *tab) there(selector string) {
	b.t.Helper()
	b.until("there is "+selector, call("(s) => document.querySelector(s)", selector))
}

func (b *tab) gone(selector string) {
	b.t.Helper()
	b.until("there is no "+selector, call("(s) => !document.querySelector(s)", selector))
}

// post asks the program for something of the title as another window would.
func (a *app) post(what string, body any) {
	a.t.Helper()
	told, err := json.Marshal(body)
	if err != nil {
		a.t.Fatal(err)
	}
	request, err := http.NewRequestWithContext(a.t.Context(), http.MethodPost, fmt.Sprintf("%s/api/titles/%d/%s", a.address, a.title, what), bytes.NewReader(told))
	if err != nil {
		a.t.Fatal(err)
	}
	request.Header.Set("Pairwall-Window", "another")
	request.Header.Set("Content-Type", "application/json")
	answer, err := http.DefaultClient.Do(request)
	if err != nil {
		a.t.Fatal(err)
	}
	_ = answer.Body.Close()
	if answer.StatusCode >= 300 {
		a.t.Fatal(what, answer.Status)
	}
}
