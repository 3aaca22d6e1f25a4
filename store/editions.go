package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/orders"
	"pairwall/sequence/edition/post"
	"pairwall/sequence/pages"
)

// EditionState is the edition of a title and all its copies.
type EditionState struct {
	Revision int             `json:"revision"` // of the edition; 0 while nothing was decided
	Edition  edition.Edition `json:"edition"`
	Copies   []edition.Copy  `json:"copies"`
	Tally    edition.Tally   `json:"tally"`
}

// Post is what the maker's parcels are made with.
type Post struct {
	Sender    orders.Addressee `json:"sender"` // its country is that of posting
	Materials []post.Material  `json:"materials"`
	Limits    []post.Limit     `json:"limits"`
	Tariff    post.Tariff      `json:"tariff"`
	Rates     []post.SDRRate   `json:"rates"`
	Tracked   bool             `json:"tracked"` // only services that are tracked
	Labels    pages.LabelStyle `json:"labels"`
	Thanks    string           `json:"thanks"` // words on the thank-you slips
}

// firstPost is what a maker begins with: the international limits and nothing
// invented.
func firstPost() Post {
	return Post{Sender: orders.Addressee{Lines: []string{}}, Materials: []post.Material{}, Limits: post.FirstLimits(), Tariff: post.Tariff{Zones: []post.Zone{}, Prices: []post.Price{}}, Rates: []post.SDRRate{}, Labels: pages.FirstLabelStyle}
}

// Check refuses lists that no parcel can be made with.
//
// Error: Invalid.
func (p Post) Check() error {
	if p.Sender.Country != "" && !p.Sender.Country.Known() {
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("%q is no country we know.", p.Sender.Country), Hint: "Choose one from the list."}
	}
	sender := orders.Order{Number: "sender", Copies: 1, To: p.Sender, Note: p.Thanks}.Tidy()
	return errors.Join(sender.Check(), post.CheckMaterials(p.Materials), post.CheckLimits(p.Limits), p.Tariff.Check(), post.CheckRates(p.Rates), p.Labels.Check())
}

// PostState is Post as it is kept.
type PostState struct {
	Revision int  `json:"revision"` // 0 while nothing was decided for this title
	Post     Post `json:"post"`
}

// decision reads what was decided of a kind into value, which holds what a title
// begins with. When another title lends it, the revision is 0.
func decision(ctx context.Context, q querier, title sequence.TitleID, kind string, lent bool, value any) (revision int, err error) {
	query := `SELECT CASE title_id WHEN ?1 THEN revision ELSE 0 END, value FROM decisions WHERE kind = ?2 AND (title_id = ?1 OR ?3) ORDER BY title_id <> ?1, at DESC, title_id LIMIT 1`
	err = q.QueryRowContext(ctx, query, title, kind, lent).Scan(&revision, asJSON{value})
	if errors.Is(err, sql.ErrNoRows) {
		return 0, nil
	}
	return revision, err
}

// decide keeps what was decided.
//
// Error: Stale when it was decided on another revision.
func (s *Store) decide(ctx context.Context, tx *sql.Tx, title sequence.TitleID, kind string, revision int, value any) error {
	var now int
	err := tx.QueryRowContext(ctx, `SELECT revision FROM decisions WHERE title_id = ? AND kind = ?`, title, kind).Scan(&now)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return err
	}
	if now != revision {
		return &sequence.Error{Code: sequence.Stale, Message: "This was changed in another window in the meantime.", Hint: "Look at it as it is now, then change it again."}
	}
	_, err = tx.ExecContext(ctx, `INSERT INTO decisions (title_id, kind, revision, at, value) VALUES (?, ?, 1, ?, ?)
		ON CONFLICT (title_id, kind) DO UPDATE SET revision = revision + 1, at = excluded.at, value = excluded.value`, title, kind, written(s.now()), asJSON{value})
	return orphan(err, title)
}

// Edition gives the edition of a title with all its copies, in the order of their
// series and numbers.
//
// Error: NotFound when there is no such title.
func (s *Store) Edition(ctx context.Context, title sequence.TitleID) (EditionState, error) {
	if _, err := s.Title(ctx, title); err != nil {
		return EditionState{}, err
	}
	state, err := readEdition(ctx, s.db, title)
	return state, s.coded(ctx, err)
}

func readEdition(ctx context.Context, q querier, title sequence.TitleID) (state EditionState, err error) {
	state.Edition = edition.FirstEdition
	if state.Revision, err = decision(ctx, q, title, "edition", false, &state.Edition); err != nil {
		return state, err
	}
	if state.Copies, err = readCopies(ctx, q, title, state.Edition); err != nil {
		return state, err
	}
	state.Tally = edition.Count(state.Copies)
	err = q.QueryRowContext(ctx, `SELECT coalesce(sum(o.copies - (SELECT count(*) FROM copies c WHERE c.order_id = o.id)), 0)
		FROM orders o WHERE o.title_id = ? AND o.state <> 'cancelled'`, title).Scan(&state.Tally.Waiting)
	return state, err
}

func readCopies(ctx context.Context, q querier, title sequence.TitleID, e edition.Edition) ([]edition.Copy, error) {
	rows, err := q.QueryContext(ctx, `SELECT series, number, purpose, place, shop, coalesce(order_id, 0), note FROM copies WHERE title_id = ?
		ORDER BY CASE series WHEN 'edition' THEN 1 WHEN 'proof' THEN 2 ELSE 3 END, number`, title)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	list := []edition.Copy{}
	for rows.Next() {
		var c edition.Copy
		if err := rows.Scan(&c.Series, &c.Number, &c.For, &c.Place, &c.Shop, &c.Order, &c.Note); err != nil {
			return nil, err
		}
		c.Mark = e.Mark(c.CopyRef)
		list = append(list, c)
	}
	return list, rows.Err()
}

// SetEdition decides about the edition. Copies are made or taken away at the end
// of their series; orders that wait for copies get them, those entered first
// before the others.
//
// Errors: Invalid; Stale; Conflict when a copy that would go is no longer just
// lying here; NotFound when there is no such title.
func (s *Store) SetEdition(ctx context.Context, title sequence.TitleID, revision int, e edition.Edition) error {
	if err := e.Check(); err != nil {
		return err
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		was, err := readEdition(ctx, tx, title)
		if err != nil {
			return err
		}
		if err := s.decide(ctx, tx, title, "edition", revision, e); err != nil {
			return err
		}
		for _, series := range edition.AllSeries() {
			if err := resize(ctx, tx, title, was, series, e.Of(series)); err != nil {
				return err
			}
		}
		return allotWaiting(ctx, tx, title)
	})
}

// firstPurpose is what a copy is for until the maker says otherwise.
func firstPurpose(s edition.Series) edition.Purpose {
	switch s {
	case edition.Proof:
		return edition.ForMaker
	case edition.Outside:
		return edition.ForFriend
	}
	return edition.ForSale
}

// resize makes a series as long as it is to be.
func resize(ctx context.Context, tx *sql.Tx, title sequence.TitleID, was EditionState, series edition.Series, to int) error {
	have := 0
	var gone []string
	for _, c := range was.Copies {
		if c.Series != series {
			continue
		}
		have = max(have, c.Number)
		if c.Number > to && (c.Place != edition.Here || c.Note != "") {
			gone = append(gone, c.Mark)
		}
	}
	if len(gone) > 0 {
		return &sequence.Error{Code: sequence.Conflict, Message: fmt.Sprintf("Something was done with %s, which would no longer be there.", strings.Join(gone, ", ")),
			Hint: "Take that back first, or leave the edition as large as it is."}
	}
	if _, err := tx.ExecContext(ctx, `DELETE FROM copies WHERE title_id = ? AND series = ? AND number > ?`, title, series, to); err != nil {
		return err
	}
	for n := have + 1; n <= to; n++ {
		if _, err := tx.ExecContext(ctx, `INSERT INTO copies (title_id, series, number, purpose, place) VALUES (?, ?, ?, ?, 'here')`, title, series, n, firstPurpose(series)); err != nil {
			return orphan(err, title)
		}
	}
	return nil
}

// Post gives what the maker's parcels are made with, lent from the title decided
// on last as long as nothing was decided for this one.
//
// Error: NotFound when there is no such title.
func (s *Store) Post(ctx context.Context, title sequence.TitleID) (PostState, error) {
	if _, err := s.Title(ctx, title); err != nil {
		return PostState{}, err
	}
	state := PostState{Post: firstPost()}
	var err error
	state.Revision, err = decision(ctx, s.db, title, "post", true, &state.Post)
	return state, s.coded(ctx, err)
}

// SetPost keeps what the maker's parcels are made with.
//
// Errors: Invalid; Stale; NotFound when there is no such title.
func (s *Store) SetPost(ctx context.Context, title sequence.TitleID, revision int, p Post) error {
	if p.Labels == (pages.LabelStyle{}) { // whoever says nothing of labels
		p.Labels = pages.FirstLabelStyle
	}
	if err := p.Check(); err != nil {
		return err
	}
	return s.write(ctx, func(tx *sql.Tx) error { return s.decide(ctx, tx, title, "post", revision, p) })
}

// Readings gives how tables of orders are read, whichever title they were read
// for.
func (s *Store) Readings(ctx context.Context, title sequence.TitleID) (orders.Readings, error) {
	known := orders.Readings{}
	_, err := decision(ctx, s.db, title, "readings", true, &known)
	return known, s.coded(ctx, err)
}

// mostReadings is how many kinds of table are remembered; no source.
const mostReadings = 50

// remember keeps how a table was read. The encoding is not part of it: each file
// may have another.
func (s *Store) remember(ctx context.Context, tx *sql.Tx, title sequence.TitleID, signature string, how orders.Reading) error {
	known := orders.Readings{}
	if _, err := decision(ctx, tx, title, "readings", true, &known); err != nil {
		return err
	}
	how.Encoding = orders.AnyEncoding
	if len(known) >= mostReadings {
		known = orders.Readings{}
	}
	known[signature] = how
	var revision int
	if err := tx.QueryRowContext(ctx, `SELECT coalesce(max(revision), 0) FROM decisions WHERE title_id = ? AND kind = 'readings'`, title).Scan(&revision); err != nil {
		return err
	}
	return s.decide(ctx, tx, title, "readings", revision, known)
}
