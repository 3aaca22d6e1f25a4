package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/pages"
)

// Pages is the format and the page plan of a title as they stand, with what
// undo and redo would do to them.
type Pages struct {
	Revision int64        `json:"revision"` // how many acts led here
	Format   pages.Format `json:"format"`
	Plan     pages.Plan   `json:"plan"`
	Undo     string       `json:"undo"` // the act that would be undone, in words; "" for none
	Redo     string       `json:"redo"` // the act that would be done again, in words; "" for none
	Reached  time.Time    `json:"-"`    // when they became what they are; zero while nothing was decided
}

// PagesWanted is a format and a plan as the maker wants them.
type PagesWanted struct {
	Revision int64        `json:"revision"` // of the pages the maker sees
	Act      string       `json:"act"`      // what is done, in words
	Format   pages.Format `json:"format"`
	Plan     pages.Plan   `json:"plan"`
}

// Pages returns how a title's wall sits on its pages. A title of which nothing
// was decided has pages.FirstFormat and pages.FirstPlan.
//
// Error: NotFound when there is no such title.
func (s *Store) Pages(ctx context.Context, title sequence.TitleID) (Pages, error) {
	kept, err := readPages(ctx, s.db, title)
	return kept.Pages, s.coded(ctx, err)
}

// SavePages keeps a format and a plan; the binding goes to the title.
//
// Whatever the error, the Pages returned are the present ones, if they could be
// read. Errors: Stale when they were made on another revision; Invalid when
// they cannot be made, name a photo the title does not have, change nothing, or
// do not say what is done; NotFound when there is no such title.
func (s *Store) SavePages(ctx context.Context, title sequence.TitleID, want PagesWanted, from string) (Pages, error) {
	want.Plan = want.Plan.Tidied()
	if err := want.check(); err != nil {
		now, _ := s.Pages(ctx, title)
		return now, err
	}
	return s.repage(ctx, title, want.Revision, from, func(_ *sql.Tx, was pagesKept) (sequence.Entry, parts, error) {
		next, err := partsOf(want.Format, want.Plan)
		return sequence.NextAct(was.last, sequence.Change{Act: want.Act}), next, err
	})
}

func (w PagesWanted) check() error {
	if strings.TrimSpace(w.Act) == "" { // the undo button would say nothing
		return &sequence.Error{Code: sequence.Invalid, Message: "This act does not say what it does."}
	}
	if err := w.Format.Check(); err != nil {
		return err
	}
	return w.Plan.Check(w.Format)
}

// UndoPages takes back the act that Pages.Undo tells of.
//
// Errors and Pages as for SavePages; NotFound also when there is nothing to undo.
func (s *Store) UndoPages(ctx context.Context, title sequence.TitleID, revision int64, from string) (Pages, error) {
	return s.stepPages(ctx, title, revision, from, sequence.NextUndo, func(last sequence.Entry) int64 { return last.UndoNext })
}

// RedoPages does again the act that Pages.Redo tells of.
//
// Errors and Pages as for SavePages; NotFound also when there is nothing to redo.
func (s *Store) RedoPages(ctx context.Context, title sequence.TitleID, revision int64, from string) (Pages, error) {
	return s.stepPages(ctx, title, revision, from, sequence.NextRedo, func(last sequence.Entry) int64 { return last.RedoNext })
}

// stepPages goes back to the state before the target, which is one undo or redo
// away: all that came after it has been taken back itself.
func (s *Store) stepPages(ctx context.Context, title sequence.TitleID, revision int64, from string,
	next func(last, target, before sequence.Entry) (sequence.Entry, error), towards func(sequence.Entry) int64) (Pages, error) {
	return s.repage(ctx, title, revision, from, func(tx *sql.Tx, was pagesKept) (entry sequence.Entry, state parts, err error) {
		at := towards(was.last)
		var target, before sequence.Entry
		if at > 0 {
			if target, err = readPageAct(ctx, tx, title, at); err != nil {
				return entry, nil, err
			}
			if before, err = readPageAct(ctx, tx, title, at-1); err != nil {
				return entry, nil, err
			}
		}
		if entry, err = next(was.last, target, before); err != nil {
			return entry, nil, err
		}
		state, err = readParts(ctx, tx, title, at-1)
		return entry, state, err
	})
}

// repage is what every act on the pages goes through.
func (s *Store) repage(ctx context.Context, title sequence.TitleID, revision int64, from string,
	next func(*sql.Tx, pagesKept) (sequence.Entry, parts, error)) (Pages, error) {
	var was, now pagesKept
	err := s.write(ctx, func(tx *sql.Tx) (err error) {
		if was, err = readPages(ctx, tx, title); err != nil {
			return err
		}
		if revision != was.Revision {
			return &sequence.Error{Code: sequence.Stale,
				Message: fmt.Sprintf("The pages have changed since: this was done on state %d, they are at %d.", revision, was.Revision),
				Hint:    "Look at the pages as they are now and do it again if you still want it."}
		}
		if was.fresh {
			if err := was.begin(ctx, tx, title, s.now()); err != nil {
				return err
			}
		}
		entry, state, err := next(tx, was)
		if err != nil {
			return err
		}
		entry.At, entry.From = s.now(), from
		if err := enterPages(ctx, tx, title, entry, was.parts, state); err != nil {
			return err
		}
		now, err = readPages(ctx, tx, title)
		return err
	})
	if err != nil {
		return was.Pages, err
	}
	return now.Pages, nil
}

// pagesKept are the pages with the end of their journal.
type pagesKept struct {
	Pages
	last  sequence.Entry
	parts parts
	fresh bool // nothing is kept yet
}

// begin keeps what the title began with, so that the first act can be undone
// even if the program comes to begin with something else.
func (k pagesKept) begin(ctx context.Context, tx *sql.Tx, title sequence.TitleID, at time.Time) error {
	return enterPages(ctx, tx, title, sequence.Entry{Way: sequence.Act, At: at}, nil, k.parts)
}

func enterPages(ctx context.Context, tx *sql.Tx, title sequence.TitleID, entry sequence.Entry, was, now parts) error {
	changed := was.differing(now)
	if len(changed) == 0 {
		return &sequence.Error{Code: sequence.Invalid, Message: "This act changes nothing."}
	}
	_, err := tx.ExecContext(ctx, `INSERT INTO page_acts (title_id, revision, way, of, undo_next, redo_next, at, origin, act) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		title, entry.Revision, string(entry.Way), entry.Of, entry.UndoNext, entry.RedoNext, written(entry.At), entry.From, entry.Change.Act)
	if err != nil {
		return err
	}
	for part, said := range changed {
		if err := photoThere(ctx, tx, title, part); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `INSERT INTO page_parts (title_id, part, revision, said) VALUES (?, ?, ?, ?)`, title, part, entry.Revision, said); err != nil {
			return err
		}
	}
	_, err = tx.ExecContext(ctx, `UPDATE titles SET binding = ? ->> '$.binding' WHERE id = ?`, now[formatPart], title)
	return err
}

func photoThere(ctx context.Context, tx *sql.Tx, title sequence.TitleID, part string) error {
	number, ofPhoto := strings.CutPrefix(part, photoPart)
	if !ofPhoto {
		return nil
	}
	var there int
	err := tx.QueryRowContext(ctx, `SELECT count(*) FROM photos WHERE title_id = ? AND number = ?`, title, number).Scan(&there)
	if err == nil && there == 0 {
		err = &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("This title has no photo %s.", number), Hint: "Reload the page to see the photos it has."}
	}
	return err
}

const pageActColumns = `SELECT revision, way, of, undo_next, redo_next, at, origin, act FROM page_acts WHERE title_id = ? `

func readPageAct(ctx context.Context, q querier, title sequence.TitleID, revision int64) (sequence.Entry, error) {
	return scanPageAct(q.QueryRowContext(ctx, pageActColumns+`AND revision = ?`, title, revision))
}

func scanPageAct(row scanner) (e sequence.Entry, err error) {
	err = row.Scan(&e.Revision, &e.Way, &e.Of, &e.UndoNext, &e.RedoNext, moment{&e.At}, &e.From, &e.Change.Act)
	return e, err
}

// readPages needs no transaction: what led to a revision never changes.
func readPages(ctx context.Context, q querier, title sequence.TitleID) (k pagesKept, err error) {
	var binding string
	err = q.QueryRowContext(ctx, `SELECT binding, NOT EXISTS (SELECT 1 FROM page_acts WHERE title_id = titles.id) FROM titles WHERE id = ?`, title).Scan(&binding, &k.fresh)
	if errors.Is(err, sql.ErrNoRows) {
		return k, missing("title", title)
	}
	if err != nil {
		return k, err
	}
	if k.fresh {
		k.Format, k.Plan = pages.FirstFormat.Bound(pages.Binding(binding)), pages.FirstPlan
		k.parts, err = partsOf(k.Format, k.Plan)
		return k, err
	}
	if k.last, err = scanPageAct(q.QueryRowContext(ctx, pageActColumns+`ORDER BY revision DESC LIMIT 1`, title)); err != nil {
		return k, err
	}
	if k.parts, err = readParts(ctx, q, title, k.last.Revision); err != nil {
		return k, err
	}
	if k.Format, k.Plan, err = k.parts.read(); err != nil {
		return k, err
	}
	k.Revision, k.Reached = k.last.Revision, k.last.At
	err = q.QueryRowContext(ctx, `SELECT coalesce((SELECT act FROM page_acts WHERE title_id = ?1 AND revision = ?2), ''),
			coalesce((SELECT act FROM page_acts WHERE title_id = ?1 AND revision = ?3), '')`,
		title, k.last.UndoNext, k.last.RedoNext).Scan(&k.Undo, &k.Redo)
	return k, err
}

// parts are a format and a plan taken apart, as JSON by the name of each part.
type parts map[string]string

const (
	formatPart = "format"
	planPart   = "plan"
	photoPart  = "photo/" // and the photo's number
	nothing    = "null"
)

func partsOf(f pages.Format, p pages.Plan) (parts, error) {
	placements := p.Placements
	p.Placements = nil
	said := map[string]any{formatPart: f, planPart: p}
	for _, one := range placements {
		said[photoPart+strconv.Itoa(int(one.Photo))] = one
	}
	all := make(parts, len(said))
	for part, value := range said {
		text, err := json.Marshal(value)
		if err != nil {
			return nil, err
		}
		all[part] = string(text)
	}
	return all, nil
}

// read puts parts together again.
func (p parts) read() (f pages.Format, plan pages.Plan, err error) {
	if err := json.Unmarshal([]byte(p[formatPart]), &f); err != nil {
		return f, plan, err
	}
	if err := json.Unmarshal([]byte(p[planPart]), &plan); err != nil {
		return f, plan, err
	}
	for part, said := range p {
		if !strings.HasPrefix(part, photoPart) || said == nothing {
			continue
		}
		var one pages.Placement
		if err := json.Unmarshal([]byte(said), &one); err != nil {
			return f, plan, err
		}
		plan.Placements = append(plan.Placements, one)
	}
	return f, plan.Tidied(), nil
}

// differing are the parts of next that are not as they were, with null for those
// it lacks.
func (p parts) differing(next parts) parts {
	changed := make(parts)
	for part, said := range next {
		if was, ok := p[part]; !ok || was != said {
			changed[part] = said
		}
	}
	for part, was := range p {
		if _, stays := next[part]; !stays && was != nothing {
			changed[part] = nothing
		}
	}
	return changed
}

func readParts(ctx context.Context, q querier, title sequence.TitleID, revision int64) (parts, error) {
	rows, err := q.QueryContext(ctx, `SELECT part, said FROM page_parts p WHERE title_id = ?1 AND revision =
		(SELECT max(revision) FROM page_parts WHERE title_id = ?1 AND part = p.part AND revision <= ?2)`, title, revision)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	all := make(parts)
	for rows.Next() {
		var part, said string
		if err := rows.Scan(&part, &said); err != nil {
			return nil, err
		}
		all[part] = said
	}
	return all, rows.Err()
}
