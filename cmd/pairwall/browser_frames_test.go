package main

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/tracing"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"pairwall/sequence"
)

// BenchmarkFramesOf500Cards measures how the wall moves under the hand. Of each
// part it prints, in milliseconds: the time between two frames as the page sees
// them (99th percentile and longest), which on a shared machine without a
// graphics card also counts others' work; and the processor time that the page's
// main thread spent on one task (the same two), which does not. Set
// PAIRWALL_TRACE to see where the time of the longest tasks went.
func BenchmarkFramesOf500Cards(b *testing.B) {
	a := startApp(b)
	a.multiply(500)
	a.pairs(200)
	for _, part := range []struct {
		name string
		does func(b *testing.B, t *tab)
	}{
		{"dragging", draggingAbout}, {"dragging over pages that push on", pushingAbout}, {"dragging at the edge", draggingAtTheEdge},
		{"scrolling", scrolling}, {"stepping back and in", stepping}, {"sizing", sizing}, {"squinting", squinting}, {"choosing", walkingAbout}, {"dropping", dropping},
		{"dragging beside an import of 300", func(b *testing.B, t *tab) { a.bringing(b, 300); draggingAbout(b, t) }},
		{"scrolling beside an import of 300", func(b *testing.B, t *tab) { a.bringing(b, 300); scrolling(b, t) }},
	} {
		b.Run(part.name, func(b *testing.B) {
			mine := *a // so that what goes wrong in one part fails that part
			mine.t = b
			on := mine.visit(desktop) // in a browser that remembers nothing of the parts before
			on.until("the pictures in sight are there", picturesThere)
			time.Sleep(2 * time.Second) // piles, sharper pictures: what comes in the first moments after opening
			for b.Loop() {
				on.measured(b, part.does).report(b)
			}
		})
	}
}

// BenchmarkTableOf1500Prints measures likewise how a large table is laid anew:
// the longest task is what the maker waits for.
func BenchmarkTableOf1500Prints(b *testing.B) {
	a := startApp(b)
	a.multiply(1500)
	on := a.visit(desktop)
	on.click(".piled input")
	on.until("all lie there", `document.querySelectorAll('[data-region="table"] .print').length === 1500 && !document.querySelector("[data-veiled]")`)
	for _, order := range []string{"taken", "place", "colour", "light", "feeling", "kind", "came"} {
		b.Run(order, func(b *testing.B) {
			for b.Loop() {
				on.measured(b, func(_ *testing.B, t *tab) {
					read[chromedp.Void](t, call(`(order, key) => { const list = document.querySelector(key); list.value = order; list.dispatchEvent(new Event("change", { bubbles: true })); }`, order, layouts))
					read[chromedp.Void](t, threeFrames)
					t.gone("[data-veiled]")
				}).report(b)
			}
		})
	}
}

const picturesThere = `[...document.querySelectorAll("[data-photo] img")].filter((img) => { const b = img.getBoundingClientRect(); return b.bottom > 0 && b.top < innerHeight; }).every((img) => img.complete && img.naturalWidth > 0)`

// draggingAbout carries a print from the table over the wall, for some seconds.
func draggingAbout(_ *testing.B, b *tab) { wander(b, 0) }

func pushingAbout(_ *testing.B, b *tab) { wander(b, 26) }

func wander(b *tab, shift float64) {
	b.do(scrollTo(0))
	from := b.spot(card(420))
	b.lift(from)
	for i := range 180 {
		x, y := float64(i*37%1100), float64(i*11%330)
		b.mouse(chromedp.MouseMoved, point{60 + x + shift, 170 + y}, 1, 0)
	}
	b.key(kb.Escape)
	b.mouse(chromedp.MouseReleased, from, 0, 1)
}

// draggingAtTheEdge holds a print at the lower edge of the wall, so that it scrolls.
func draggingAtTheEdge(_ *testing.B, b *tab) {
	b.do(scrollTo(0))
	from := b.spot(card(420))
	edge := read[float64](b, `document.querySelector(".tray").getBoundingClientRect().top - 8`)
	b.lift(from)
	for i := range 150 {
		b.mouse(chromedp.MouseMoved, point{600 + float64(i%40), edge}, 1, 0)
	}
	b.key(kb.Escape)
	b.mouse(chromedp.MouseReleased, from, 0, 1)
}

func scrolling(_ *testing.B, b *tab) {
	b.do(scrollTo(0))
	for range 150 {
		b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, input.DispatchMouseEvent, input.DispatchMouseEventParams{Type: input.DispatchMouseEventTypeMouseWheel, X: 600, Y: 300, DeltaX: 0.01, DeltaY: 110})
			return err
		}))
	}
}

// stepping goes back from the wall step by step until all of it is in sight, and in again.
func stepping(_ *testing.B, b *tab) {
	b.do(scrollTo(0))
	b.click(`[data-view="size"]`)
	for _, way := range []string{kb.ArrowLeft, kb.ArrowRight} {
		for range 8 {
			b.key(way)
			b.until("one stands still", `document.getAnimations().length === 0`)
		}
	}
}

// squinting closes the eyes and opens them, from where one stands and from where all is in sight.
func squinting(_ *testing.B, b *tab) {
	b.do(scrollTo(0))
	for range 2 {
		for range 6 {
			b.key("q")
			read[chromedp.Void](b, threeFrames)
		}
		b.click(`[data-view="size"]`)
		b.key(kb.Home)
	}
}

const threeFrames = `new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => requestAnimationFrame(() => done()))))`

// sizing draws the slider of the pages' size from one end towards the other.
func sizing(_ *testing.B, b *tab) {
	b.do(scrollTo(0))
	b.click(`[data-view="size"]`)
	for range 40 {
		b.key(kb.ArrowLeft)
	}
	for range 40 {
		b.key(kb.ArrowRight)
	}
}

// walkingAbout moves the focus over the wall, which chooses as it goes.
func walkingAbout(_ *testing.B, b *tab) {
	b.do(scrollTo(0))
	b.click(card(1))
	for range 60 {
		b.key(kb.ArrowRight)
	}
}

// dropping swaps photos on the wall and waits each time until the program has it.
func dropping(of *testing.B, b *tab) {
	b.do(scrollTo(0))
	read[chromedp.Void](b, `performance.clearResourceTimings()`)
	const drops = 12
	for i := range drops {
		before := b.app.wall().Revision
		from, to := b.spots(onSpread(1, sequence.Left), onSpread(2, sequence.Side([]string{"left", "right"}[i%2])))
		b.lift(from)
		b.carry(from, to)
		b.there("[data-aimed]")
		b.letGo(to)
		b.wait("the program has it", func() bool { return b.app.wall().Revision > before }, func() string { return "" })
	}
	took := read[[]float64](b, `performance.getEntriesByType("resource").filter((e) => e.name.endsWith("/changes")).map((e) => e.responseEnd - e.startTime)`)
	if len(took) > 0 {
		slices.Sort(took)
		of.ReportMetric(took[len(took)/2], "ms-acknowledged-median")
		of.ReportMetric(took[len(took)-1], "ms-acknowledged-longest")
	}
}

func scrollTo(y int) chromedp.Action[chromedp.Void] {
	return chromedp.Evaluate[chromedp.Void](fmt.Sprintf("void scrollTo(0, %d)", y))
}

// bringing begins to bring so many photographs into the title.
func (a *app) bringing(b *testing.B, n int) {
	folder := b.TempDir()
	manyFrom(b, folder, n)
	a.post("brings", map[string]any{"folders": []string{folder}})
}

// BenchmarkFirstPaint measures, from the start of the program, until the wall
// of 500 cards is to be seen.
func BenchmarkFirstPaint(b *testing.B) {
	a := startApp(b)
	a.multiply(500)
	a.pairs(200)
	a.stop()
	program, err := theProgram()
	if err != nil {
		b.Fatal(err)
	}
	browser, err := theBrowser()
	if err != nil {
		b.Fatal(err)
	}
	address := strings.TrimPrefix(a.address, "http://")
	tab := a.tab(browser, desktop, nil, chromedp.WithNewBrowserContext())
	for b.Loop() {
		ctx, stop := context.WithCancel(b.Context())
		start := time.Now()
		run := exec.CommandContext(ctx, program, "--data", a.data, "--listen", address, "--no-browser")
		if err := run.Start(); err != nil {
			b.Fatal(err)
		}
		for {
			answer, err := http.Get(a.address + "/")
			if err == nil {
				_ = answer.Body.Close()
				break
			}
			time.Sleep(2 * time.Millisecond)
		}
		listens := time.Since(start)
		tab.open("about:blank")
		tab.open(a.wallAddress())
		tab.until("the wall is to be seen", `document.querySelectorAll(".wall [data-photo]").length > 300`)
		tab.until("its pictures, too", picturesThere)
		paint := read[float64](tab, `performance.getEntriesByName("first-contentful-paint")[0].startTime`)
		b.ReportMetric(float64(listens.Milliseconds()), "ms-until-it-answers")
		b.ReportMetric(paint, "ms-first-paint-after-that")
		b.ReportMetric(read[float64](tab, `Math.max(...performance.getEntriesByType("resource").filter((e) => e.name.includes("/160.jpg")).slice(0, 40).map((e) => e.responseEnd))`), "ms-first-pictures-after-that")
		tab.open("about:blank")
		stop()
		_ = run.Wait()
	}
}

// traced is one event of Chromium's trace; times in microseconds.
type traced struct {
	Name     string
	Category string `json:"cat"`
	Phase    string `json:"ph"`
	Start    int64  `json:"ts"`
	Took     int64  `json:"dur"`
	Work     int64  `json:"tdur"`
	Thread   int64  `json:"tid"`
	Process  int64  `json:"pid"`
	Args     struct {
		Name         string
		ElementCount int // styled anew
		Data         struct {
			Type         string
			FunctionName string
		}
		BeginData struct { // of a layout
			DirtyObjects, TotalObjects int
			PartialLayout              bool
		}
	}
}

// frames is what was measured, in milliseconds.
type frames struct {
	apart  []float64 // between two frames
	tasks  []float64 // processor time of each task of the main thread
	longer []closely
}

// closely is what a long task was made of.
type closely struct {
	work  int64 // processor time, microseconds
	words string
}

const mostTold = 8 // long tasks of a part; go test tells ten lines of a benchmark

func (b *tab) measured(of *testing.B, does func(*testing.B, *tab)) frames {
	events := b.trace(func() {
		read[chromedp.Void](b, `(() => {
			window.ticks = [];
			const tick = (now) => { window.ticks.push(now); window.ticking = requestAnimationFrame(tick); };
			window.ticking = requestAnimationFrame(tick);
		})()`)
		does(of, b)
		read[chromedp.Void](b, `cancelAnimationFrame(window.ticking)`)
	})
	var f frames
	ticks := read[[]float64](b, "window.ticks")
	for i := 1; i < len(ticks); i++ {
		f.apart = append(f.apart, ticks[i]-ticks[i-1])
	}
	main := make(map[[2]int64]bool)
	for _, e := range events {
		if e.Name == "thread_name" && e.Args.Name == "CrRendererMain" {
			main[[2]int64{e.Process, e.Thread}] = true
		}
	}
	events = slices.DeleteFunc(events, func(e traced) bool { return e.Phase != "X" || !main[[2]int64{e.Process, e.Thread}] })
	slices.SortFunc(events, func(a, b traced) int { return cmp.Compare(a.Start, b.Start) })
	for _, e := range events {
		if strings.Contains(e.Name, "RunTask") {
			f.tasks = append(f.tasks, float64(e.Work)/1000)
			if os.Getenv("PAIRWALL_TRACE") != "" && e.Work > 9000 {
				f.longer = append(f.longer, closely{e.Work, within(events, e)})
			}
		}
	}
	return f
}

// within tells what a task was made of.
func within(events []traced, task traced) string {
	sums := make(map[string]int64)
	for _, e := range events {
		if e.Process == task.Process && e.Thread == task.Thread && e.Start >= task.Start && e.Start < task.Start+task.Took && e.Name != task.Name {
			name := strings.TrimSpace(e.Name + " " + e.Args.Data.Type + e.Args.Data.FunctionName)
			if e.Args.ElementCount > 0 {
				name += fmt.Sprintf(" of %d", e.Args.ElementCount)
			}
			if e.Name == "Layout" {
				name += fmt.Sprintf(" of %d/%d partial %t", e.Args.BeginData.DirtyObjects, e.Args.BeginData.TotalObjects, e.Args.BeginData.PartialLayout)
			}
			sums[name] += e.Work
		}
	}
	names := make([]string, 0, len(sums))
	for name := range sums {
		names = append(names, name)
	}
	slices.SortFunc(names, func(a, b string) int { return cmp.Compare(sums[b], sums[a]) })
	line := fmt.Sprintf("%.1f ms:", float64(task.Work)/1000)
	for _, name := range names[:min(14, len(names))] {
		line += fmt.Sprintf(" %s %.1f,", name, float64(sums[name])/1000)
	}
	return line
}

// trace gives the browser's trace of what is done.
func (b *tab) trace(does func()) []traced {
	var mu sync.Mutex
	var events []traced
	complete := make(chan struct{})
	b.mu.Lock()
	b.traced = func(event any) {
		switch e := event.(type) {
		case *tracing.EventDataCollected:
			mu.Lock()
			defer mu.Unlock()
			for _, value := range e.Value {
				var one traced
				if json.Unmarshal(value, &one) == nil {
					events = append(events, one)
				}
			}
		case *tracing.EventTracingComplete:
			close(complete)
		}
	}
	b.mu.Unlock()
	categories := []string{"toplevel"}
	if os.Getenv("PAIRWALL_TRACE") != "" { // looking closely costs time that would be counted
		categories = append(categories, "devtools.timeline", "blink", "cc")
	}
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, tracing.Start, tracing.StartParams{TraceConfig: &tracing.TraceConfig{
			IncludedCategories: categories, ExcludedCategories: []string{"*"}}})
		return err
	}))
	end := func() {
		b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, tracing.End, cdp.Empty{})
			return err
		}))
		<-complete
		b.mu.Lock()
		b.traced = nil
		b.mu.Unlock()
	}
	func() {
		defer end() // also when it fails: a browser makes one trace at a time
		does()
	}()
	mu.Lock()
	defer mu.Unlock()
	return events
}

func (f frames) report(b *testing.B) {
	b.Helper()
	high := func(of []float64, part float64) float64 {
		if len(of) == 0 {
			return 0
		}
		slices.Sort(of)
		return of[min(len(of)-1, int(part*float64(len(of))))]
	}
	over, all := 0, 0.0
	for _, work := range f.tasks {
		all += work
		if work >= 16.7 {
			over++
		}
	}
	b.ReportMetric(high(f.apart, 0.99), "ms-between-frames-p99")
	b.ReportMetric(high(f.apart, 1), "ms-between-frames-longest")
	b.ReportMetric(high(f.tasks, 1), "ms-work-longest")
	b.ReportMetric(all/float64(max(1, len(f.apart))), "ms-work-a-frame")
	b.ReportMetric(100*(1-float64(over)/float64(max(1, len(f.apart)))), "%-frames-with-work-under-16.7ms")
	b.ReportMetric(float64(len(f.apart)), "frames")
	b.ReportMetric(0, "ns/op")
	slices.SortFunc(f.longer, func(a, b closely) int { return cmp.Compare(b.work, a.work) })
	for _, task := range f.longer[:min(len(f.longer), mostTold)] {
		b.Log(task.words)
	}
}
