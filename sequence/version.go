package sequence

import "time"

// VersionID names a version in the data file.
type VersionID int64

// Version is a kept state of the sequence.
type Version struct {
	ID       VersionID  `json:"id"`
	At       time.Time  `json:"at"`    // when the state was reached
	Named    bool       `json:"named"` // by the maker; otherwise kept by itself at the end of a sitting
	Name     string     `json:"name"`
	Why      string     `json:"why"`              // the maker's own words; "" for none
	Slip     bool       `json:"slip"`             // a paper slip lies in it: the maker thinks it worth coming back to
	Looked   *time.Time `json:"looked,omitempty"` // when the maker last looked at it
	Sequence Sequence   `json:"sequence"`
}

// Line returns the line of work that the version belongs to.
func (v Version) Line() LineID { return v.Sequence.Line }
