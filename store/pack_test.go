package store

import (
	"database/sql"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence"
	"pairwall/sequence/place"
)

// packable is a title with something in every corner: places, a named version,
// acts taken back, a pair kept apart.
func packable(t *testing.T, s *Store) sequence.TitleID {
	t.Helper()
	title := newTitle(t, s, "Round the Adriatic", 8)
	apply(t, s, title, 1, 2)
	if _, err := s.KeepVersion(ctx, title, "first"); err != nil {
		t.Fatal(err)
	}
	apply(t, s, title, 3, 4)
	where := &place.Where{LatLng: place.LatLng{Lat: 45.123456, Lng: 13.654321}, Radius: 20, Source: place.FromMaker}
	wall := wallOf(t, s, title)
	photo, err := s.Photo(ctx, title, 5)
	if err != nil {
		t.Fatal(err)
	}
	say := sequence.Change{Revision: wall.Sequence.Revision, Act: "say 5 was taken in my own street", Steps: []sequence.Step{},
		Says: []sequence.Statement{{Photo: 5, Fact: sequence.WhereFact, Was: photo.Fact(sequence.WhereFact), Now: sequence.Value{Where: where}}}}
	if _, _, err := s.Apply(ctx, title, say, "a test"); err != nil {
		t.Fatal(err)
	}
	if err := s.KeepApart(ctx, title, sequence.Pair{6, 7}, true); err != nil {
		t.Fatal(err)
	}
	return title
}

func nowhere(string) (string, bool) { return "", false }

func packed(t *testing.T, s *Store, title sequence.TitleID, places bool) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "title.db")
	if err := s.Pack(ctx, title, path, places); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestATitlePackedWithItsPlacesIsUnpackedElsewhereAsItWas(t *testing.T) {
	here, _ := newStore(t)
	title := packable(t, here)
	newTitle(t, here, "Another", 3)
	there, _ := newStore(t)
	newTitle(t, there, "Lagoon", 2)
	newTitle(t, there, "round the  ADRIATIC", 1) // the same name, as people see names

	got, err := there.Unpack(ctx, packed(t, here, title, true), func(hash string) (string, bool) { return "/elsewhere/" + hash, true })
	if err != nil {
		t.Fatal(err)
	}
	if got.Name != "Round the Adriatic (2)" {
		t.Errorf("it is named %q", got.Name)
	}
	if diff := cmp.Diff(wallOf(t, here, title), wallOf(t, there, got.ID)); diff != "" {
		t.Errorf("the wall is another: %s", diff)
	}
	if diff := cmp.Diff(replays(t, here, title), replays(t, there, got.ID)); diff != "" {
		t.Errorf("the journal is another: %s", diff)
	}
	was, _ := here.Photos(ctx, title)
	is, err := there.Photos(ctx, got.ID)
	if err != nil || len(is) != len(was) {
		t.Fatalf("%d photos, %v", len(is), err)
	}
	for i := range is {
		if is[i].Path != "/elsewhere/"+is[i].Hash {
			t.Errorf("the original of %d is looked for at %s", is[i].Number, is[i].Path)
		}
		is[i].Path = was[i].Path
	}
	if diff := cmp.Diff(was, is); diff != "" {
		t.Errorf("the photos are others: %s", diff)
	}
	apart, err := there.Apart(ctx, got.ID)
	if err != nil || len(apart) != 1 {
		t.Errorf("kept apart: %v, %v", apart, err)
	}
	list, err := there.Versions(ctx, got.ID)
	if err != nil || len(list) == 0 || list[len(list)-1].Name != "first" {
		t.Errorf("versions: %+v, %v", list, err)
	}
	if _, _, err := there.Undo(ctx, got.ID, wallOf(t, there, got.ID).Sequence.Revision, "a test"); err != nil {
		t.Errorf("it cannot be gone on with: %v", err)
	}
	if titles, _ := there.Titles(ctx); len(titles) != 3 {
		t.Errorf("%d titles are there", len(titles))
	}
}

func TestATitleIsUnpackedBesideItself(t *testing.T) {
	s, _ := newStore(t)
	title := packable(t, s)
	for range 2 {
		if _, err := s.Unpack(ctx, packed(t, s, title, true), nowhere); err != nil {
			t.Fatal(err)
		}
	}
	rows, err := texts(ctx, s.db, `SELECT "table" FROM pragma_foreign_key_check`)
	if err != nil || len(rows) > 0 {
		t.Errorf("rows that refer to nothing: %v, %v", rows, err)
	}
}

// A position is a number and a street a word: neither may be anywhere in the
// file, not even in pages SQLite has no more use for.
func TestATitlePackedWithoutPlacesSaysNothingOfThem(t *testing.T) {
	s, _ := newStore(t)
	title := packable(t, s)
	for places, want := range map[bool]bool{true: true, false: false} {
		path := packed(t, s, title, places)
		content, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		photos, _ := s.Photos(ctx, title)
		for _, told := range []string{"my own street", "45.123456", filepath.Dir(photos[0].Path)} {
			if strings.Contains(string(content), told) != want {
				t.Errorf("places %v: %q is told: %v", places, told, !want)
			}
		}
		other, _ := newStore(t)
		got, err := other.Unpack(ctx, path, nowhere)
		if err != nil {
			t.Fatal(err)
		}
		replays(t, other, got.ID)
		there, _ := other.Photos(ctx, got.ID)
		for _, p := range there {
			if (p.Where != nil) != (want && photos[p.Number-1].Where != nil) {
				t.Errorf("places %v: photo %d is at %v", places, p.Number, p.Where)
			}
		}
	}
}

func TestWhatIsNoPackIsRefusedAndNothingChanges(t *testing.T) {
	s, _ := newStore(t)
	title := packable(t, s)
	spoil := func(how func(path string)) string {
		path := packed(t, s, title, true)
		how(path)
		return path
	}
	statement := func(sqlText string) func(string) {
		return func(path string) {
			db, err := sql.Open("sqlite3", uri(path, nil))
			if err != nil {
				t.Fatal(err)
			}
			defer db.Close()
			if _, err := db.Exec(sqlText); err != nil {
				t.Fatal(err)
			}
		}
	}
	for name, path := range map[string]string{
		"text":       spoil(func(path string) { _ = os.WriteFile(path, []byte("nothing of ours"), 0o600) }),
		"empty":      spoil(func(path string) { _ = os.WriteFile(path, nil, 0o600) }),
		"cut off":    spoil(func(path string) { _ = os.Truncate(path, 9000) }),
		"a trigger":  spoil(statement(`CREATE TRIGGER t AFTER INSERT ON photos BEGIN DELETE FROM photos; END`)),
		"a view":     spoil(statement(`CREATE VIEW everything AS SELECT * FROM photos`)),
		"no title":   spoil(statement(`PRAGMA foreign_keys = OFF; DELETE FROM titles`)),
		"two titles": spoil(statement(`INSERT INTO titles (name, folded, created) SELECT 'b', 'b', created FROM titles`)),
	} {
		if _, err := s.Unpack(ctx, path, nowhere); sequence.CodeOf(err) != sequence.Damaged {
			t.Errorf("%s: %v", name, err)
		}
	}
	if titles, _ := s.Titles(ctx); len(titles) != 1 {
		t.Errorf("%d titles are there", len(titles))
	}
}
