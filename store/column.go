package store

import (
	"database/sql/driver"
	"encoding/json"
	"fmt"
	"time"
)

// timeForm is how every time lies in the data file: UTC, of one width so that
// it sorts as text, and fine enough to give back what came in.
const timeForm = "2006-01-02T15:04:05.000000000Z"

// moment lets a time.Time be written to and read from a column. The zero time
// is NULL in columns that allow it.
type moment struct{ t *time.Time }

// written is t for a column that is always filled.
func written(t time.Time) string { return t.UTC().Format(timeForm) }

// writtenOrNull is t for a column in which a time may be missing.
func writtenOrNull(t time.Time) any {
	if t.IsZero() {
		return nil
	}
	return written(t)
}

// writtenOrAbsent is t for a column in which a time may be missing.
func writtenOrAbsent(t *time.Time) any {
	if t == nil {
		return nil
	}
	return written(*t)
}

// Scan implements sql.Scanner.
func (m moment) Scan(value any) error {
	switch v := value.(type) {
	case nil:
		*m.t = time.Time{}
		return nil
	case string:
		t, err := time.Parse(timeForm, v)
		*m.t = t
		return err
	}
	return fmt.Errorf("store: a time cannot be read from %T", value)
}

// asJSON lets any value be written to and read from a JSON column; to read, it
// holds a pointer.
type asJSON struct{ v any }

// Value implements driver.Valuer.
func (j asJSON) Value() (driver.Value, error) {
	text, err := json.Marshal(j.v)
	return string(text), err
}

// Scan implements sql.Scanner.
func (j asJSON) Scan(value any) error {
	text, ok := value.(string)
	if !ok {
		return fmt.Errorf("store: JSON cannot be read from %T", value)
	}
	return json.Unmarshal([]byte(text), j.v)
}

// scanner is what *sql.Row and *sql.Rows have in common.
type scanner interface{ Scan(...any) error }
