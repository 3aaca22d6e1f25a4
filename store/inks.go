package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"pairwall/sequence"
)

// PrinterProfile is the colour profile of a printer's inks, as the maker had it
// from the printer.
type PrinterProfile struct {
	Name     string `json:"name"`     // what it calls itself
	Origin   string `json:"origin"`   // the file's own name
	InkLimit int    `json:"inkLimit"` // per cent of all inks together, 100..400; the printer says it
	Bytes    []byte `json:"-"`        // the profile itself, ICC
}

// Check returns an Invalid error when the limit makes no sense.
func (p PrinterProfile) Check() error {
	if p.InkLimit < 100 || p.InkLimit > 400 {
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("An ink limit of %d %% makes no sense.", p.InkLimit),
			Hint: "Printers give 240 to 340 % of all four inks together."}
	}
	return nil
}

// PrinterProfile gives the profile a title has, nil when it has none.
//
// Error: NotFound when there is no such title.
func (s *Store) PrinterProfile(ctx context.Context, title sequence.TitleID) (*PrinterProfile, error) {
	if _, err := s.Title(ctx, title); err != nil {
		return nil, err
	}
	var p PrinterProfile
	err := s.db.QueryRowContext(ctx, `SELECT name, origin, ink_limit, bytes FROM printer_profiles WHERE title_id = ?`, title).
		Scan(&p.Name, &p.Origin, &p.InkLimit, &p.Bytes)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	if err != nil {
		return nil, s.coded(ctx, err)
	}
	return &p, nil
}

// KeepPrinterProfile keeps a profile in place of the one a title had; nil takes
// it away.
//
// Errors: Invalid; NotFound when there is no such title.
func (s *Store) KeepPrinterProfile(ctx context.Context, title sequence.TitleID, p *PrinterProfile) error {
	if p != nil {
		if err := p.Check(); err != nil {
			return err
		}
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		if p == nil {
			_, err := tx.ExecContext(ctx, `DELETE FROM printer_profiles WHERE title_id = ?`, title)
			return err
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO printer_profiles (title_id, name, origin, ink_limit, bytes) VALUES (?, ?, ?, ?, ?)
			ON CONFLICT (title_id) DO UPDATE SET name = excluded.name, origin = excluded.origin, ink_limit = excluded.ink_limit, bytes = excluded.bytes`,
			title, p.Name, p.Origin, p.InkLimit, p.Bytes)
		return orphan(err, title)
	})
}
