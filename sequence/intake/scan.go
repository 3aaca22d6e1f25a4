package intake

import (
	"errors"
	"path/filepath"
	"regexp"
	"strings"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/intake/header"
	"pairwall/sequence/place"
)

// lab is what a film lab's file name tells.
type lab struct{ roll, frame string }

// The names that film laboratories give, as their customers describe them:
// eight digits of roll and four of frame, sometimes with the film's edge code
// behind; a folder for order and roll, which is no date, with plain numbers in it; R, roll and
// order, then the frame with the A of a half step.
var (
	rollAndFrame = regexp.MustCompile(`^(\d{8})(00\d\d)(?:[-_ ]?[0-9]{0,2}[A-Za-z]?)?$`)
	plainNumber  = regexp.MustCompile(`^(\d{6})$`)
	orderFolder  = regexp.MustCompile(`^[A-Za-z]?\d{3,}(?:[-_ ]?[A-Za-z]?\d+)*$`)
	dateFolder   = regexp.MustCompile(`^(?:19|20)\d\d(?:[-_ ]?[01]\d(?:[-_ ]?[0-3]\d)?)?$`)
	minilab      = regexp.MustCompile(`^([Rr]\d+-\d+)-(\d{1,4}[A-Za-z]?)$`)
)

// labName reads a lab's name from a path; ok is false when it is not one.
func labName(path string) (l lab, ok bool) {
	name := strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
	folder := filepath.Base(filepath.Dir(path))
	if m := rollAndFrame.FindStringSubmatch(name); m != nil {
		return lab{m[1], trimmed(m[2])}, true
	}
	if m := minilab.FindStringSubmatch(name); m != nil {
		return lab{m[1], trimmed(m[2])}, true
	}
	if m := plainNumber.FindStringSubmatch(name); m != nil && orderFolder.MatchString(folder) && !dateFolder.MatchString(folder) {
		return lab{folder, trimmed(m[1])}, true
	}
	return lab{}, false
}

// trimmed takes leading zeros off a frame's number but leaves it one digit:
// frames 0 and 0A lie before the first.
func trimmed(frame string) string {
	for len(frame) > 1 && frame[0] == '0' && frame[1] >= '0' && frame[1] <= '9' {
		frame = frame[1:]
	}
	return frame
}

// scannerWords are how scanners and their programs call themselves, in the
// languages they are sold in; only a help, never needed.
var scannerWords = regexp.MustCompile(`(?i)scan|numériseur|digitali[sz]er|film recorder`)

// isScan reports whether a file comes from a scanner: something is said about
// what made it or its name is a lab's, and nothing is said that only a camera
// knows: exposure, lens, position, or a day of taking other than the file's own.
func isScan(s header.Said, labelled bool) bool {
	if s.Scanner {
		return true
	}
	if s.Exposed || s.Lens != "" || s.Position != nil {
		return false
	}
	if scannerWords.MatchString(s.Model) || scannerWords.MatchString(s.Software) {
		return true
	}
	named := s.Make != "" || s.Model != ""
	said := day(s.Original)
	return (named || labelled) && (said == "" || said == day(s.Changed))
}

// ownDay reports whether a day of taking is given that is neither the day the
// picture was digitized nor the day the file was written.
func ownDay(s header.Said) bool {
	said := day(s.Original)
	return said != "" && said != day(s.Changed) && said != day(s.Digitized)
}

// day leaves the eight digits of a date's day, "" for one that is blank or
// zeros.
func day(date string) string {
	var kept strings.Builder
	for _, c := range date {
		if c >= '0' && c <= '9' && kept.Len() < 8 {
			kept.WriteRune(c)
		}
	}
	if strings.Trim(kept.String(), "0") == "" {
		return ""
	}
	return kept.String()
}

// taken tells when the picture was taken as far as the file says, and what the
// maker should know about that. For a scan it is the day of scanning, and says
// so by its source; unless somebody wrote in when the film was exposed.
func taken(s header.Said, scan bool, now time.Time) (place.When, []sequence.Finding) {
	source := place.FromCamera
	candidates := [][2]string{{withFraction(s), s.OriginalOffset}, {s.Digitized, s.DigitizedOffset}}
	if scan {
		source = place.FromScanner
		candidates = append(candidates, [2]string{s.Changed, s.ChangedOffset})
		if ownDay(s) {
			source = place.FromMaker
			candidates = candidates[:1]
		}
	}
	for _, c := range candidates {
		if strings.Trim(c[0], " :.-") == "" {
			continue
		}
		when, err := place.ParseEXIF(c[0], c[1], source, now)
		if err == nil {
			return when, nil
		}
		return place.When{}, []sequence.Finding{finding(sequence.Invalid,
			"The date in this file is not used: "+reason(err)+".", "Say when it was taken if you know.")}
	}
	return place.When{}, nil
}

// withFraction is the moment of taking with its fraction of a second: it keeps
// a burst in order.
func withFraction(s header.Said) string {
	if s.SubSecond == "" || strings.Trim(s.SubSecond, "0123456789") != "" || len(s.Original) != len("2006:01:02 15:04:05") {
		return s.Original
	}
	return s.Original + "." + s.SubSecond
}

// reason is why a date was refused, without the date itself, which may be
// anything at all.
func reason(err error) string {
	for _, known := range []error{place.ErrZeroDate, place.ErrUnreadableDate, place.ErrImpossibleDate,
		place.ErrEpochDate, place.ErrOverflowDate, place.ErrEarlyDate, place.ErrFutureDate} {
		if errors.Is(err, known) {
			return known.Error()
		}
	}
	return "it is blank"
}

// where tells where the picture was taken as far as the file says.
func where(s header.Said) (*place.Where, []sequence.Finding) {
	if s.NoPosition != "" {
		return nil, []sequence.Finding{finding(sequence.Invalid,
			"The position in this file is not used: "+s.NoPosition+".", "Say where it was taken if you know.")}
	}
	if s.Position == nil {
		return nil, nil
	}
	w := &place.Where{LatLng: *s.Position, Radius: s.Radius, Source: place.FromCamera}
	if s.Void {
		return w, []sequence.Finding{finding(sequence.Invalid,
			"The camera's receiver had no fix when this was taken; its position may be an old one.",
			"Look at it on the map.")}
	}
	return w, nil
}
