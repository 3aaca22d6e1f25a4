package place

import (
	"encoding/json"
	"errors"
	"fmt"
	"time"
)

// wallLayout is RFC 3339 without a zone: the zone, where known, is the offset.
const wallLayout = "2006-01-02T15:04:05.999999999"

// farthestOffset, minutes. The zones in use lie between −12:00 and +14:00; local
// mean times kept before them reached −15:56 (Manila) and +15:13 (Metlakatla)
// (IANA time zone database, files asia and northamerica).
const farthestOffset = 16 * 60

type whenFields struct {
	Precision Precision `json:"precision"`
	From      string    `json:"from,omitempty"`
	To        string    `json:"to,omitempty"`
	Offset    *int      `json:"offset,omitempty"`
	Source    Source    `json:"source"`
}

// MarshalJSON writes precision, from, to, offset and source: from and to as
// "2026-05-03T17:04:05" with a fraction where there is one, left out when the
// time is unknown, as is offset when it is nil. A When that breaks its own rules
// (see the type) is refused, since it could not be read back.
func (w When) MarshalJSON() ([]byte, error) {
	if w.Precision == unknownWord {
		w.Precision = PrecisionUnknown
	}
	fields := whenFields{Precision: w.Precision, Offset: w.Offset, Source: w.Source}
	if w.Known() {
		w.From, w.To = wallClock(w.From), wallClock(w.To)
		fields.From, fields.To = w.From.Format(wallLayout), w.To.Format(wallLayout)
	} else {
		w.From, w.To = time.Time{}, time.Time{}
	}
	if err := w.check(); err != nil {
		return nil, err
	}
	return json.Marshal(fields)
}

// UnmarshalJSON reads what MarshalJSON writes and nothing that contradicts
// itself; w is left alone on an error, and by null.
func (w *When) UnmarshalJSON(data []byte) error {
	var fields *whenFields
	if err := json.Unmarshal(data, &fields); err != nil {
		return fmt.Errorf("place: not a time: %w", err)
	}
	if fields == nil {
		return nil
	}
	read := When{Precision: fields.Precision, Offset: fields.Offset, Source: fields.Source}
	var err error
	if read.From, err = parseWall(fields.From); err != nil {
		return err
	}
	if read.To, err = parseWall(fields.To); err != nil {
		return err
	}
	if err := read.check(); err != nil {
		return err
	}
	*w = read
	return nil
}

func parseWall(text string) (time.Time, error) {
	if text == "" {
		return time.Time{}, nil
	}
	t, err := time.Parse(wallLayout, text)
	if err != nil {
		return time.Time{}, fmt.Errorf("place: not a wall-clock time like 2026-05-03T17:04:05: %q", shortened(text))
	}
	return t, nil
}

// check says which rule of the type a When breaks, if any.
func (w When) check() error {
	switch {
	case !w.Source.known():
		return fmt.Errorf("place: no such source: %q", shortened(string(w.Source)))
	case w.Offset != nil && (*w.Offset < -farthestOffset || *w.Offset > farthestOffset):
		return fmt.Errorf("place: no clock is %d minutes from UTC", *w.Offset)
	}
	inYears := w.From.Year() >= 1 && w.To.Year() <= 9999
	wholeDays := w.From.Equal(startOfDay(w.From)) && w.To.Equal(endOfDay(w.To))
	switch w.Precision {
	case PrecisionUnknown:
		if !w.From.IsZero() || !w.To.IsZero() {
			return errors.New("place: an unknown time with a from or a to")
		}
	case PrecisionInstant:
		if !inYears || !w.From.Equal(w.To) || w.From.IsZero() {
			return errors.New("place: an instant needs one moment in the years 1 to 9999 as from and to")
		}
	case PrecisionDay:
		if !inYears || !wholeDays || !w.To.Equal(endOfDay(w.From)) {
			return errors.New("place: a day needs from 00:00:00 to 23:59:59 of one date")
		}
	case PrecisionSpan:
		if !inYears || !wholeDays || !w.From.Before(w.To) {
			return errors.New("place: a span needs from 00:00:00 of its first to 23:59:59 of its last day")
		}
	default:
		return fmt.Errorf("place: no such precision of time: %q", shortened(string(w.Precision)))
	}
	return nil
}
