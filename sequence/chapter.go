package sequence

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// ChapterID names a chapter within its title for as long as the title lives; it
// is never given to another chapter.
type ChapterID int

// Chapter is a named run of spreads. Which spreads it holds is said by the
// spreads; it lives as long as one of them does.
type Chapter struct {
	ID   ChapterID `json:"id"`
	Name string    `json:"name"` // one line in any script
}

// longestName is how long a chapter's name may be, in runes. No source: it must
// stand in one line above its first spread, and a heading in any script fits.
const longestName = 120

// Chapter returns a chapter by its number; ok is false when there is none.
func (q Sequence) Chapter(id ChapterID) (c Chapter, ok bool) {
	i, held := q.chapterAt(id)
	if !held {
		return Chapter{}, false
	}
	return q.Chapters[i], true
}

func (q Sequence) chapterAt(id ChapterID) (int, bool) {
	return slices.BinarySearchFunc(q.Chapters, id, func(c Chapter, id ChapterID) int { return int(c.ID - id) })
}

// Run returns the positions of a chapter's first and last spread in reading
// order, or -1 and -1 when it holds none.
func (q Sequence) Run(id ChapterID) (first, last int) {
	first, last = -1, -1
	for i, s := range q.Spreads {
		if s.Chapter != id {
			continue
		}
		if first < 0 {
			first = i
		}
		last = i
	}
	return first, last
}

// name begins a chapter when it had no name, ends it when it has none any more.
func (q *Sequence) name(s Step) error {
	i, held := q.chapterAt(s.Chapter)
	was := ""
	if held {
		was = q.Chapters[i].Name
	}
	switch {
	case s.Chapter <= 0:
		return misfit(s, "it names no chapter")
	case was != s.WasText:
		return misfit(s, fmt.Sprintf("chapter %d is called %q, not %q", s.Chapter, was, s.WasText))
	case was == s.NowText:
		return misfit(s, "it is so already")
	case s.NowText == "":
		q.Chapters = slices.Delete(q.Chapters, i, i+1)
	case held:
		q.Chapters[i].Name = s.NowText
	default:
		q.Chapters = slices.Insert(q.Chapters, i, Chapter{s.Chapter, s.NowText})
		q.LastChapter = max(q.LastChapter, s.Chapter)
	}
	return nil
}

// join puts a spread into a chapter, out of one, or out of one into another.
func (q *Sequence) join(s Step) error {
	return q.alter(s, func(spread *Spread) error {
		return replace(s, &spread.Chapter, s.WasChapter, s.NowChapter)
	})
}

func (q *Sequence) note(s Step) error {
	return q.alter(s, func(spread *Spread) error {
		return replace(s, &spread.Note, s.WasText, s.NowText)
	})
}

// alter hands out the spread that a step names.
func (q *Sequence) alter(s Step, do func(*Spread) error) error {
	if s.Spread == nil || q.Index(s.Spread.ID) < 0 {
		return misfit(s, "there is no such spread")
	}
	return do(&q.Spreads[q.Index(s.Spread.ID)])
}

// replace sets a value that must be what the step says it was.
func replace[T comparable](s Step, field *T, was, now T) error {
	if *field != was {
		return misfit(s, fmt.Sprintf("spread %d has %#v there, not %#v", s.Spread.ID, *field, was))
	}
	if was == now {
		return misfit(s, "it is so already")
	}
	*field = now
	return nil
}

// checkChapters names the first rule of chapters and notes that q breaks: a
// chapter has a name and at least one spread, and its spreads follow each other.
func (q Sequence) checkChapters() error {
	for i, c := range q.Chapters {
		if c.ID <= 0 || c.ID > q.LastChapter || i > 0 && q.Chapters[i-1].ID >= c.ID {
			return &Error{Code: Invalid, Message: fmt.Sprintf("Chapter number %d cannot be used here.", c.ID)}
		}
		if err := checkName(c.Name); err != nil {
			return err
		}
	}
	begun, before := make(map[ChapterID]bool), ChapterID(0)
	for _, s := range q.Spreads {
		if utf8.RuneCountInString(s.Note) > longestText {
			return &Error{Code: Invalid, Message: fmt.Sprintf("That note is longer than %d characters.", longestText), Hint: "Shorten it."}
		}
		if s.Chapter != 0 && s.Chapter != before {
			c, ok := q.Chapter(s.Chapter)
			if !ok {
				return &Error{Code: Invalid, Message: fmt.Sprintf("There is no chapter %d.", s.Chapter)}
			}
			if begun[s.Chapter] {
				return &Error{Code: Invalid, Message: fmt.Sprintf("Chapter “%s” would lie in two places.", c.Name),
					Hint: "The spreads of a chapter follow each other. Take those between out first."}
			}
			begun[s.Chapter] = true
		}
		before = s.Chapter
	}
	for _, c := range q.Chapters {
		if !begun[c.ID] {
			return &Error{Code: Invalid, Message: fmt.Sprintf("Chapter “%s” would hold no spread.", c.Name), Hint: "End the chapter."}
		}
	}
	return nil
}

// checkName returns an Invalid error for what cannot be a chapter's name.
func checkName(name string) error {
	blank := strings.TrimFunc(name, unicode.IsSpace) == ""
	switch {
	case blank:
		return &Error{Code: Invalid, Message: "A chapter needs a name.", Hint: "Type a few words."}
	case utf8.RuneCountInString(name) > longestName:
		return &Error{Code: Invalid, Message: fmt.Sprintf("A chapter's name has at most %d characters.", longestName), Hint: "Shorten it."}
	case strings.ContainsFunc(name, unicode.IsControl):
		return &Error{Code: Invalid, Message: "A chapter's name is one line of text."}
	}
	return nil
}

// Gathered returns q with its chapters brought under the rules, for whoever has
// put spreads in another order: spreads of none between two of one chapter join
// it, of a chapter torn apart the longest part stays (the earlier of equals),
// and a chapter without spreads ends. A sequence that keeps the rules stays as
// it is.
func (q Sequence) Gathered() Sequence {
	q = q.Clone()
	q.closeGaps()
	for _, c := range q.Chapters {
		from, to := q.longestPart(c.ID)
		for i := range q.Spreads {
			if q.Spreads[i].Chapter == c.ID && (i < from || i >= to) {
				q.Spreads[i].Chapter = 0
			}
		}
	}
	for i := range q.Spreads {
		if _, ok := q.chapterAt(q.Spreads[i].Chapter); !ok {
			q.Spreads[i].Chapter = 0
		}
	}
	q.Chapters = slices.DeleteFunc(q.Chapters, func(c Chapter) bool {
		first, _ := q.Run(c.ID)
		return first < 0
	})
	return q
}

// closeGaps lets spreads of no chapter join the one they lie within.
func (q *Sequence) closeGaps() {
	for i := 0; i < len(q.Spreads); i++ {
		end := i
		for end < len(q.Spreads) && q.Spreads[end].Chapter == 0 {
			end++
		}
		if i > 0 && end < len(q.Spreads) && q.Spreads[i-1].Chapter == q.Spreads[end].Chapter {
			for k := i; k < end; k++ {
				q.Spreads[k].Chapter = q.Spreads[end].Chapter
			}
		}
		i = max(i, end-1)
	}
}

// longestPart returns the half-open range of a chapter's longest unbroken part.
func (q Sequence) longestPart(id ChapterID) (from, to int) {
	for i := 0; i < len(q.Spreads); i++ {
		end := i
		for end < len(q.Spreads) && q.Spreads[end].Chapter == id {
			end++
		}
		if end-i > to-from {
			from, to = i, end
		}
		i = max(i, end-1)
	}
	return from, to
}
