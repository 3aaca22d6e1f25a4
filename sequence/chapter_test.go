package sequence

import (
	"encoding/json"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// chaptered hangs one photo a spread; "1 1 . 2" puts the first two spreads into
// chapter 1 and the last into chapter 2. Chapters 1 to named have names.
func chaptered(runs string, named int) Sequence {
	var q Sequence
	for i, c := range strings.Fields(runs) {
		s := Spread{ID: SpreadID(i + 1), Left: PhotoID(i + 1)}
		if c != "." {
			s.Chapter = ChapterID(c[0] - '0')
		}
		q.Spreads, q.Last = append(q.Spreads, s), s.ID
	}
	names := []string{"Trieste", "Il traghetto", "Στον σταθμό", "Bari"}
	for i := range named {
		q.Chapters, q.LastChapter = append(q.Chapters, Chapter{ChapterID(i + 1), names[i]}), ChapterID(i+1)
	}
	return q
}

func TestAChapterIsANamedUnbrokenRun(t *testing.T) {
	for _, c := range []struct {
		name  string
		q     Sequence
		words string // of the refusal; "" when it keeps the rules
	}{
		{"no chapter", chaptered(". . .", 0), ""},
		{"one run", chaptered(". 1 1 .", 1), ""},
		{"two runs that touch", chaptered("1 1 2", 2), ""},
		{"the later chapter comes first", chaptered("2 2 . 1", 2), ""},
		{"torn apart by a spread of none", chaptered("1 . 1", 1), "Chapter “Trieste” would lie in two places."},
		{"torn apart by another chapter", chaptered("1 2 1", 2), "Chapter “Trieste” would lie in two places."},
		{"a spread of an unnamed chapter", chaptered("1 2", 1), "There is no chapter 2."},
		{"a name without spreads", chaptered("1 1", 2), "Chapter “Il traghetto” would hold no spread."},
		{"a name of spaces", withName("\u2003 "), "A chapter needs a name."},
		{"a name of two lines", withName("Trieste\nBari"), "A chapter's name is one line of text."},
		{"a name as long as may be", withName(strings.Repeat("駅", longestName)), ""},
		{"a longer name", withName(strings.Repeat("駅", longestName+1)), "A chapter's name has at most 120 characters."},
		{"a number beyond those given", Sequence{Chapters: []Chapter{{7, "Bari"}}}, "Chapter number 7 cannot be used here."},
		{"a note as long as may be", withNote(longestText), ""},
		{"a longer note", withNote(longestText + 1), "That note is longer than 2000 characters."},
	} {
		t.Run(c.name, func(t *testing.T) {
			err := c.q.Check()
			if c.words == "" && err != nil {
				t.Fatal(err)
			}
			if c.words != "" && (CodeOf(err) != Invalid || !strings.HasPrefix(err.Error(), c.words)) {
				t.Errorf("got %v, want %q", err, c.words)
			}
		})
	}
}

func withName(name string) Sequence {
	q := chaptered("1", 1)
	q.Chapters[0].Name = name
	return q
}

func withNote(runes int) Sequence {
	q := chaptered(".", 0)
	q.Spreads[0].Note = strings.Repeat("ž", runes)
	return q
}

func TestChaptersOfANewOrderAreGathered(t *testing.T) {
	for _, c := range []struct{ name, runs, want string }{
		{"what keeps the rules stays", ". 1 1 . 2", ". 1 1 . 2"},
		{"what lies within joins", "1 . . 1 2", "1 1 1 1 2"},
		{"of two parts the longer stays", "1 2 2 1 1", ". 2 2 1 1"},
		{"of two like parts the earlier stays", "1 2 1", "1 2 ."},
		{"a chapter that nobody named is none", "1 3", "1 ."},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := chaptered(c.runs, 2).Gathered()
			if diff := cmp.Diff(chaptered(c.want, 0).Spreads, got.Spreads); diff != "" {
				t.Error(diff)
			}
			if err := got.Check(); err != nil {
				t.Error(err)
			}
		})
	}
	r := rand.New(rand.NewPCG(5, 6))
	for range 2000 {
		q := randomSequence(r, 14)
		if diff := cmp.Diff(q, q.Gathered(), cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("a wall that keeps the rules was altered:\n%s", diff)
		}
		r.Shuffle(len(q.Spreads), func(i, j int) { q.Spreads[i], q.Spreads[j] = q.Spreads[j], q.Spreads[i] })
		if err := q.Gathered().Check(); err != nil {
			t.Fatalf("%v\n%+v", err, q)
		}
	}
}

func TestAWallReadBackKeepsTheChaptersItStillHolds(t *testing.T) {
	q := chaptered("1 1 . 2", 2)
	h := q.Hanging()
	h.Spreads = []Facing{h.Spreads[2], h.Spreads[0], {Left: 9}, h.Spreads[1]}
	got := q.Hung(h)
	if err := got.Check(); err != nil {
		t.Fatal(err)
	}
	var chapters []ChapterID
	for _, s := range got.Spreads {
		chapters = append(chapters, s.Chapter)
	}
	if diff := cmp.Diff([]ChapterID{0, 1, 1, 1}, chapters); diff != "" {
		t.Error(diff)
	}
}

func TestAWallFromBeforeThereWereChaptersReadsAndIsWrittenAsItWas(t *testing.T) {
	const written = `{"revision":3,"opening":7,"spreads":[{"id":1,"left":3,"right":4,"pinned":true}],"box":[2],"last":1}`
	var q Sequence
	if err := json.Unmarshal([]byte(written), &q); err != nil {
		t.Fatal(err)
	}
	again, err := json.Marshal(q.Clone())
	if err != nil || string(again) != written {
		t.Errorf("got %s, %v", again, err)
	}
}

func TestCompareTellsChaptersAndNotes(t *testing.T) {
	earlier := chaptered("1 1 2 2 .", 2)
	renamed := chaptered("1 1 2 2 .", 2)
	renamed.Chapters[1].Name = "La nave"
	reshaped := chaptered("1 2 2 2 .", 2)
	noted := chaptered("1 1 2 2 .", 2)
	noted.Spreads[4].Note = "the same blue"
	for _, c := range []struct {
		name  string
		later Sequence
		want  Diff
		words string
	}{
		{"nothing changed", earlier, Diff{}, "the same pairs in the same order"},
		{"a chapter begun", chaptered("1 1 2 2 3", 3), Diff{Begun: []Chapter{{3, "Στον σταθμό"}}}, "one chapter begun"},
		{"two ended", chaptered(". . . . .", 0), Diff{Ended: []Chapter{{1, "Trieste"}, {2, "Il traghetto"}}}, "two chapters ended"},
		{"one renamed", renamed, Diff{Renamed: []Chapter{{2, "La nave"}}}, "one chapter renamed"},
		{"a spread gone over", reshaped, Diff{Reshaped: []Chapter{{1, "Trieste"}, {2, "Il traghetto"}}}, "two chapters with other spreads"},
		{"a note written", noted, Diff{Noted: 1}, "one note changed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := Compare(earlier, c.later)
			if diff := cmp.Diff(c.want, got, cmpopts.IgnoreFields(Diff{}, "Tau"), cmpopts.EquateEmpty()); diff != "" {
				t.Error(diff)
			}
			if got.Words() != c.words {
				t.Errorf("%q, want %q", got.Words(), c.words)
			}
		})
	}
}
