package sequence

func (d *Diff) compareChapters(earlier, later Sequence) {
	was, is := earlier.chapterOf(), later.chapterOf()
	torn := make(map[ChapterID]bool)
	for photo, chapter := range is {
		if before, hung := was[photo]; hung && before != chapter {
			torn[before], torn[chapter] = true, true
		}
	}
	for _, c := range later.Chapters {
		before, ok := earlier.Chapter(c.ID)
		switch {
		case !ok:
			d.Begun = append(d.Begun, c)
			continue
		case before.Name != c.Name:
			d.Renamed = append(d.Renamed, c)
		}
		if torn[c.ID] {
			d.Reshaped = append(d.Reshaped, c)
		}
	}
	for _, c := range earlier.Chapters {
		if _, ok := later.Chapter(c.ID); !ok {
			d.Ended = append(d.Ended, c)
		}
	}
}

// chapterOf tells the chapter of every photo on a spread, 0 for none.
func (q Sequence) chapterOf() map[PhotoID]ChapterID {
	of := make(map[PhotoID]ChapterID)
	for _, s := range q.Spreads {
		of[s.Left], of[s.Right] = s.Chapter, s.Chapter
	}
	delete(of, 0)
	return of
}

// noted counts the spreads of later whose photos shared one before, with
// another note.
func noted(earlier, later Sequence) int {
	notes := make(map[Pair]string)
	for _, s := range earlier.Spreads {
		notes[s.Pair()] = s.Note
	}
	n := 0
	for _, s := range later.Spreads {
		if note, ok := notes[s.Pair()]; ok && !s.Empty() && note != s.Note {
			n++
		}
	}
	return n
}

// together tells the lifts of a whole chapter as one: all photos that hang in it
// on both walls were lifted, and it was put down in one run.
func together(earlier, later Sequence, lifts []Lift) []Lift {
	was, is := earlier.chapterOf(), later.chapterOf()
	stays := make(map[ChapterID]bool) // some of it was not lifted
	lifted := make(map[PhotoID]bool)
	for _, l := range lifts {
		for _, id := range l.Photos {
			lifted[id] = true
		}
	}
	for photo, c := range is {
		before, hung := was[photo]
		if hung && (before != c || !lifted[photo]) {
			stays[c] = true
		}
	}
	var told []Lift
	at := make(map[ChapterID]int)
	for _, l := range lifts {
		id := is[l.Photos[0]]
		c, named := later.Chapter(id)
		if !named || stays[id] {
			told = append(told, l)
			continue
		}
		i, begun := at[id]
		if !begun {
			at[id] = len(told)
			told = append(told, Lift{Photos: l.Photos, Chapter: c.Name, To: l.To})
			continue
		}
		told[i].Photos = append(told[i].Photos, l.Photos...)
		if l.To == End {
			told[i].To = End
		}
	}
	return told
}
