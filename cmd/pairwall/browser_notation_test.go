package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pairwall/sequence"
)

// A wall is written in one line, so that a test reads as what is to be seen:
//
//	[1] (2 3) (- 4 pinned) (5 - across) [-] box 6 7
//
// The opening page stands in front and the closing page behind, both in square
// brackets; each spread is a pair of pages in round ones. - is a blank page.

func notation(q sequence.Sequence) string {
	var b strings.Builder
	fmt.Fprintf(&b, "[%s]", onPage(q.Opening))
	for _, s := range q.Spreads {
		fmt.Fprintf(&b, " (%s %s", onPage(s.Left), onPage(s.Right))
		if s.Across {
			b.WriteString(" across")
		}
		if s.Pinned {
			b.WriteString(" pinned")
		}
		b.WriteString(")")
	}
	fmt.Fprintf(&b, " [%s]", onPage(q.Closing))
	if len(q.Box) > 0 {
		b.WriteString(" box")
		for _, photo := range q.Box {
			fmt.Fprintf(&b, " %d", photo)
		}
	}
	return b.String()
}

func onPage(photo sequence.PhotoID) string {
	if photo == 0 {
		return "-"
	}
	return strconv.Itoa(int(photo))
}

// readNotation is the wall that now becomes when it is hung as written. Every
// spread gets a number that no spread had before.
func readNotation(t testing.TB, now sequence.Sequence, written string) sequence.Sequence {
	t.Helper()
	q := sequence.Sequence{Revision: now.Revision, Spreads: []sequence.Spread{}, Box: []sequence.PhotoID{}, Last: now.Last}
	pages, box, _ := strings.Cut(written, " box ")
	for _, word := range strings.Fields(box) {
		q.Box = append(q.Box, photoIn(t, word))
	}
	opening, rest, _ := strings.Cut(pages, " ")
	between := strings.LastIndex(rest, "[")
	q.Opening, q.Closing = photoIn(t, opening), photoIn(t, rest[between:])
	for spread := range strings.SplitSeq(rest[:between], ")") {
		words := strings.Fields(strings.TrimLeft(spread, " ("))
		if len(words) == 0 {
			continue
		}
		q.Last++
		s := sequence.Spread{ID: q.Last, Left: photoIn(t, words[0]), Right: photoIn(t, words[1])}
		s.Across, s.Pinned = slices.Contains(words, "across"), slices.Contains(words, "pinned")
		q.Spreads = append(q.Spreads, s)
	}
	return q
}

func photoIn(t testing.TB, word string) sequence.PhotoID {
	t.Helper()
	word = strings.Trim(word, "[]")
	if word == "-" {
		return 0
	}
	n, err := strconv.Atoi(word)
	if err != nil {
		t.Fatalf("%q is no photo of a wall", word)
	}
	return sequence.PhotoID(n)
}

// seen is the same line read off the screen, by a script in the page. It tells
// when the numbers always in sight are not those of the cards that lie there.
const seen = `(() => {
	const photos = (el) => [...(el?.querySelectorAll("[data-photo]") ?? [])].map((card) => card.dataset.photo);
	const region = (name) => document.querySelector('[data-region="' + name + '"]');
	if (!region("wall") || !region("table") || !region("box")) return "no wall yet";
	const page = (row, side) => photos(row.querySelector('[data-page="' + side + '"]')).join("+") || "-";
	const rows = [...region("wall").querySelectorAll(":scope > [data-spread]")];
	const line = rows.map((row) => {
		if (row.querySelector('[data-page="opening"]')) return "[" + page(row, "opening") + "]";
		if (row.querySelector('[data-page="closing"]')) return "[" + page(row, "closing") + "]";
		const marks = (row.hasAttribute("data-across") ? " across" : "") + (row.hasAttribute("data-pinned") ? " pinned" : "");
		return "(" + page(row, "left") + " " + page(row, "right") + marks + ")";
	});
	const box = photos(region("box"));
	if (box.length > 0) line.push("box", ...box);
	const told = (name) => Number(document.querySelector('[data-count="' + name + '"]')?.textContent);
	for (const name of ["wall", "table", "box"]) {
		const under = [...region(name).querySelectorAll("[data-of]")].map((pile) => pile.dataset.of.split(" ").length - 1);
		const hidden = name === "table" ? Number(document.querySelector("[data-hidden]")?.dataset.hidden ?? 0) : 0;
		const there = photos(region(name)).length + under.reduce((all, n) => all + n, 0) + hidden;
		if (told(name) !== there) line.push("BUT " + told(name) + " told and " + there + " seen: " + name);
	}
	if (told("pages") !== 2 * rows.length - 2) line.push("BUT " + told("pages") + " pages told");
	return line.join(" ");
})()`
