package main

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// threeHundred makes files of distinct content out of the photographs with and
// without a small picture of their own, by a comment in each.
func threeHundred(b *testing.B) string {
	b.Helper()
	var from []string
	for _, folder := range []string{"rome-2024", "photos-cc0", "phone-p3-offset", "big-20mp", "no-exif"} {
		names, err := filepath.Glob(filepath.Join(realPhotographs(b), folder, "*.jpg"))
		if err != nil {
			b.Fatal(err)
		}
		from = append(from, names...)
	}
	folder := b.TempDir()
	for i := range 300 {
		data, err := os.ReadFile(from[i%len(from)])
		if err != nil {
			b.Fatal(err)
		}
		comment := fmt.Sprintf("copy %03d", i)
		file := append([]byte{0xFF, 0xD8, 0xFF, 0xFE, 0, byte(2 + len(comment))}, comment...)
		if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("%03d.jpg", i)), append(file, data[2:]...), 0o600); err != nil {
			b.Fatal(err)
		}
	}
	return folder
}

// whenShown brings a folder in from within the page and tells after how many
// seconds the first, half and all of its cards were drawn.
const whenShown = `(async () => {
	const start = performance.now();
	const at = {};
	await fetch("/api/titles/%d/brings", { method: "POST", headers: { "Content-Type": "application/json", "Pairwall-Window": "timing" }, body: JSON.stringify({ folders: [%q] }) });
	while (!(300 in at) && performance.now() - start < 60000) {
		await new Promise(requestAnimationFrame);
		const drawn = [...document.querySelectorAll(".tray-table .card img")].filter((i) => i.complete && i.naturalWidth > 0).length
			+ document.querySelectorAll(".arriving .blank").length;
		for (const n of [1, 150, 300]) if (drawn >= n && !(n in at)) at[n] = (performance.now() - start) / 1000;
	}
	return [at[1] ?? -1, at[150] ?? -1, at[300] ?? -1];
})()`

// BenchmarkCardsShow tells how soon the maker sees cards of three hundred files.
func BenchmarkCardsShow(b *testing.B) {
	folder := threeHundred(b)
	for b.Loop() {
		page := begin(b, titleName)
		title, err := page.app.store.TitleNamed(b.Context(), titleName)
		if err != nil {
			b.Fatal(err)
		}
		seconds := read[[]float64](page, fmt.Sprintf(whenShown, title.ID, folder))
		for i, n := range []string{"first", "150", "300"} {
			b.ReportMetric(seconds[i], n+"-s")
		}
		page.allow("net::ERR_") // the program ends in the midst of it
		page.open("about:blank")
		page.app.stop()
	}
}
