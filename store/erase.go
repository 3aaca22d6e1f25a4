package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"github.com/mattn/go-sqlite3"

	"pairwall/sequence"
	"pairwall/sequence/edition/orders"
)

// PersonOrder is one order of a person, and the title it is for.
type PersonOrder struct {
	Title string       `json:"title"`
	Order orders.Order `json:"order"`
}

// PersonOrders is everything that is kept of one person, of all titles.
type PersonOrders struct {
	Orders []PersonOrder `json:"orders"`
}

// Erased tells what erasing a person did.
type Erased struct {
	Orders   int      `json:"orders"`   // that were of that person
	Backups  int      `json:"backups"`  // out of which the person was taken
	Kept     []string `json:"kept"`     // backups that still hold it, because they are younger than was said
	LeftOver []string `json:"leftOver"` // files that may hold it and that nobody can take it out of
	Settled  bool     `json:"settled"`  // nothing is left in the data file; otherwise it is done at the next start
}

// Person gives every order of the person who made one, whatever title it is for.
//
// Errors: NotFound; Conflict when nothing tells who it was.
func (s *Store) Person(ctx context.Context, title sequence.TitleID, order int64) (PersonOrders, error) {
	of := PersonOrders{Orders: []PersonOrder{}}
	one, err := s.Order(ctx, title, order)
	if err != nil {
		return of, err
	}
	who := one.To.Person()
	if who == "" || one.Erased {
		return of, &sequence.Error{Code: sequence.Conflict, Message: "Nothing is kept of who made this order."}
	}
	titles, err := s.Titles(ctx)
	if err != nil {
		return of, err
	}
	for _, t := range titles {
		all, err := s.Orders(ctx, t.ID)
		if err != nil {
			return of, err
		}
		for _, o := range all {
			if o.To.Person() == who {
				of.Orders = append(of.Orders, PersonOrder{t.Name, o})
			}
		}
	}
	return of, nil
}

// ErasePerson takes away all that is personal of the person who made an order: out
// of the orders of every title, out of the free room of the data file and its log, and
// out of every backup at least so many days old. Number, channel, day, copies,
// country and amounts stay: the tax adviser needs them, and a table read again
// must not bring the person back. Backups come first, so that a kill in the middle
// leaves a person who can still be found and erased.
//
// Errors: NotFound; Conflict when nothing tells who it was.
func (s *Store) ErasePerson(ctx context.Context, title sequence.TitleID, order int64, days int) (Erased, error) {
	of, err := s.Person(ctx, title, order)
	if err != nil {
		return Erased{}, err
	}
	done := Erased{Kept: []string{}, LeftOver: []string{}}
	who := of.Orders[0].Order.To.Person()
	if err := s.eraseInBackups(ctx, who, days, &done); err != nil {
		return Erased{}, err
	}
	err = s.write(ctx, func(tx *sql.Tx) error {
		if done.Orders, err = erasePerson(ctx, tx, who); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO erasures (title_id, at, orders) VALUES (?, ?, ?)`, title, written(s.now()), done.Orders)
		return err
	})
	if err != nil {
		return Erased{}, err
	}
	if done.LeftOver, err = filepath.Glob(filepath.Join(filepath.Dir(s.file), "*.unreadable-*")); err != nil {
		return done, fmt.Errorf("store: %w", err)
	}
	if done.LeftOver == nil {
		done.LeftOver = []string{}
	}
	done.Settled, err = s.settled(ctx)
	return done, err
}

// eraser is what erasing needs of a database.
type eraser interface {
	querier
	ExecContext(ctx context.Context, query string, args ...any) (sql.Result, error)
}

// erasePerson erases in one database, of every title.
func erasePerson(ctx context.Context, db eraser, who string) (int, error) {
	rows, err := db.QueryContext(ctx, `SELECT id, country, personal FROM orders WHERE erased = 0`)
	if err != nil {
		return 0, err
	}
	defer rows.Close()
	var ids []int64
	for rows.Next() {
		var id int64
		var p personal
		var country orders.Country
		if err := rows.Scan(&id, &country, asJSON{&p}); err != nil {
			return 0, err
		}
		p.To.Country = country
		if p.To.Person() == who {
			ids = append(ids, id)
		}
	}
	if err := errors.Join(rows.Err(), rows.Close()); err != nil {
		return 0, err
	}
	for _, id := range ids {
		if _, err := db.ExecContext(ctx, `UPDATE orders SET personal = ?, erased = 1, revision = revision + 1 WHERE id = ?`, erasedPersonal, id); err != nil {
			return 0, err
		}
	}
	return len(ids), nil
}

// settleErasures finishes what a kill or an open window kept from being finished.
func (s *Store) settleErasures(ctx context.Context) error {
	var open int
	if err := s.db.QueryRowContext(ctx, `SELECT count(*) FROM erasures WHERE settled = 0`).Scan(&open); err != nil || open == 0 {
		return s.coded(ctx, err)
	}
	_, err := s.settled(ctx)
	return err
}

// settled writes the data file anew and empties its log, so that nothing that was
// erased is left in either. It returns false when another process reads the file
// just now: then it is for the next start.
func (s *Store) settled(ctx context.Context) (bool, error) {
	conn, err := s.db.Conn(ctx)
	if err != nil {
		return false, s.coded(ctx, err)
	}
	defer conn.Close()
	select {
	case s.turn <- struct{}{}:
		defer func() { <-s.turn }()
	case <-ctx.Done():
		return false, s.coded(ctx, ctx.Err())
	}
	if _, err := conn.ExecContext(ctx, `VACUUM`); err != nil {
		return false, busyIsNoError(s.coded(ctx, err), err)
	}
	if emptied, err := emptyLog(ctx, conn); err != nil || !emptied {
		return false, s.coded(ctx, err)
	}
	if _, err := conn.ExecContext(ctx, `UPDATE erasures SET settled = 1 WHERE settled = 0`); err != nil {
		return false, s.coded(ctx, err)
	}
	return true, nil
}

func busyIsNoError(coded, err error) error {
	var inSQLite sqlite3.Error
	if errors.As(err, &inSQLite) && (inSQLite.Code == sqlite3.ErrBusy || inSQLite.Code == sqlite3.ErrLocked) {
		return nil
	}
	return coded
}

// emptyLog moves what the log holds into the file and cuts it to nothing; false
// when a reader stands in the way.
func emptyLog(ctx context.Context, on *sql.Conn) (bool, error) {
	var busy, log, moved int
	err := on.QueryRowContext(ctx, `PRAGMA wal_checkpoint(TRUNCATE)`).Scan(&busy, &log, &moved)
	return busy == 0, err
}

// eraseInBackups takes a person out of the backups that are old enough. Each is
// made anew beside itself and takes its place whole.
func (s *Store) eraseInBackups(ctx context.Context, who string, days int, done *Erased) error {
	dir := filepath.Dir(s.file)
	unlock, err := lock(ctx, dir)
	if err != nil {
		return s.coded(ctx, err)
	}
	defer unlock()
	list, err := Backups(dir)
	if err != nil {
		return err
	}
	for _, b := range list {
		path := filepath.Join(backupsOf(dir), b.Name)
		holds, err := holdsPerson(ctx, path, who)
		if err != nil {
			done.LeftOver = append(done.LeftOver, path)
			continue
		}
		switch {
		case !holds:
		case days > 0 && s.now().Sub(b.At) < time.Duration(days)*24*time.Hour:
			done.Kept = append(done.Kept, b.Name)
		default:
			if err := eraseInFile(ctx, path, who); err != nil {
				return coded(ctx, path, err)
			}
			done.Backups++
		}
	}
	return nil
}

func holdsPerson(ctx context.Context, path, who string) (holds bool, err error) {
	db, err := sql.Open("sqlite3", uri(path, map[string][]string{"mode": {"ro"}}))
	if err != nil {
		return false, err
	}
	defer db.Close()
	var known int
	if err := db.QueryRowContext(ctx, `SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name = 'orders'`).Scan(&known); err != nil || known == 0 {
		return false, err
	}
	all, err := texts(ctx, db, `SELECT json_set(personal, '$.to.country', country) FROM orders WHERE erased = 0`)
	for _, text := range all {
		var p personal
		if err := (asJSON{&p}).Scan(text); err != nil {
			return false, err
		}
		holds = holds || p.To.Person() == who
	}
	return holds, err
}

// eraseInFile makes a backup anew without a person. A kill leaves the backup as it
// was, and beside it a file that the next copy clears away.
func eraseInFile(ctx context.Context, path, who string) error {
	fresh := filepath.Join(filepath.Dir(path), "unfinished.db")
	if err := copyFile(path, fresh); err != nil {
		return err
	}
	defer os.Remove(fresh) // does nothing once it has its name
	db, err := sql.Open("sqlite3", uri(fresh, map[string][]string{"_journal_mode": {"DELETE"}, "_secure_delete": {"true"}}))
	if err != nil {
		return err
	}
	db.SetMaxOpenConns(1)
	_, err = erasePerson(ctx, db, who)
	if err == nil {
		_, err = db.ExecContext(ctx, `VACUUM`)
	}
	if err = errors.Join(err, db.Close()); err != nil {
		return err
	}
	if err := errors.Join(check(ctx, fresh), flush(fresh)); err != nil {
		return err
	}
	return os.Rename(fresh, path)
}

func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Close())
}
