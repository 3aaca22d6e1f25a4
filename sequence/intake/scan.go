package intake

import (
	"errors"
	"path/filepath"
	"regexp"
	"slices"
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

// isScan reports whether a file comes from a scanner. What only a camera knows
// speaks against it: exposure, lens, flash, zone, position, or a day of taking other
// than the file's own. For it speak the file's own word, a scanner's name, a lab's
// name on the file, and what scanners say where cameras say more: when the picture
// was digitized, but nothing of when it was taken.
//
// A camera's file of which a program left make, model and dates still says when it
// was taken, and one whose clock was never set says zeros; so neither is a scan.
func isScan(s header.Said, labelled bool) bool {
	if s.Scanner {
		return true
	}
	if s.Exposed || s.Operated || s.Lens != "" || s.Position != nil {
		return false
	}
	if scannerWords.MatchString(s.Model) || scannerWords.MatchString(s.Software) {
		return true
	}
	if labelled {
		said := day(s.Original)
		return said == "" || said == day(s.Changed)
	}
	named := s.Make != "" || s.Model != ""
	return named && strings.Trim(s.Original, " :") == "" && day(s.Digitized) != ""
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

// dated is a date as a file has it.
type dated struct {
	date, offset string
	source       place.Source
}

// dates are the dates of a file, the best first. What the camera wrote counts
// before what programs and people did, and what lies beside the picture before
// what was written into it: it comes later, from somebody who did not want to
// touch the original.
//
// Of a scan, a date on the day of scanning is the scanner's, whoever repeats it,
// and any other is somebody's who knew better.
func dates(h header.Header, scan bool) []dated {
	s := h.Said
	list := []dated{{withFraction(s), s.OriginalOffset, place.FromCamera},
		{h.Sidecar.Original, "", place.FromSidecar}, {h.Sidecar.Created, "", place.FromSidecar},
		{h.Written.Original, "", place.FromNotes}, {h.Written.Created, "", place.FromNotes},
		{s.Digitized, s.DigitizedOffset, place.FromCamera}}
	if !scan {
		return list
	}
	list[0].source = place.FromNotes // no scanner knows when film was exposed
	list = append(list, dated{s.Changed, s.ChangedOffset, place.FromScanner})
	for i, d := range list {
		if of := day(d.date); of == "" || of == day(s.Changed) || of == day(s.Digitized) {
			list[i].source = place.FromScanner
		}
	}
	slices.SortStableFunc(list, func(a, b dated) int { return rank(a.source) - rank(b.source) })
	return list
}

// rank puts what somebody said of a scan before what the scanner did.
func rank(source place.Source) int {
	if source == place.FromScanner {
		return 1
	}
	return 0
}

// taken tells when the picture was taken as far as the file says, and what the
// maker should know about that. For a scan it is the day of scanning, and says
// so by its source; unless somebody wrote down when the film was exposed. A date
// that cannot be counts as none.
func taken(h header.Header, scan bool, now time.Time) (place.When, []sequence.Finding) {
	var findings []sequence.Finding
	for _, c := range dates(h, scan) {
		if strings.Trim(c.date, " :.-") == "" {
			continue
		}
		when, err := place.ParseEXIF(c.date, c.offset, c.source, now)
		if err == nil {
			return when, nil
		}
		if findings == nil {
			findings = []sequence.Finding{finding(sequence.Invalid,
				"The date in this file is not used: "+reason(err)+".", "Say when it was taken if you know.")}
		}
	}
	return place.When{}, findings
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

// where tells where the picture was taken as far as the file says. A position
// in XMP counts where EXIF has none: programs write it when a place is given
// afterwards.
func where(h header.Header) (*place.Where, []sequence.Finding) {
	s := h.Said
	switch {
	case s.Position != nil:
	case h.Sidecar.Position != nil:
		return &place.Where{LatLng: *h.Sidecar.Position, Source: place.FromSidecar}, nil
	case h.Written.Position != nil:
		return &place.Where{LatLng: *h.Written.Position, Source: place.FromNotes}, nil
	}
	if s.NoPosition != "" {
		return nil, []sequence.Finding{finding(sequence.Invalid,
			"The position in this file is not used: "+s.NoPosition+".", "Say where it was taken if you know.")}
	}
	if s.Position == nil {
		return nil, nil
	}
	found := &place.Where{LatLng: *s.Position, Radius: s.Radius, Source: place.FromCamera}
	if s.Void {
		return found, []sequence.Finding{finding(sequence.Invalid,
			"The camera's receiver had no fix when this was taken; its position may be an old one.",
			"Look at it on the map.")}
	}
	return found, nil
}

// The limits of package sequence on what the maker types, which must hold for
// what files say too, or it could not be stated again.
const (
	longestCaption  = 2000 // runes
	longestKeyword  = 60
	mostKeywords    = 50
	keywordDividers = ",;|"
)

// caption is what somebody wrote about the picture: beside it, XMP's or IPTC's
// caption, or EXIF's description.
func caption(h header.Header) string {
	text := ""
	for _, words := range []string{h.Sidecar.Caption, h.Written.Caption, h.Said.Description} {
		// Cameras write their own words there as well.
		if text = (header.Said{Make: h.Said.Make, Description: words}).Caption(); text != "" {
			break
		}
	}
	if letters := []rune(text); len(letters) > longestCaption {
		text = strings.TrimSpace(string(letters[:longestCaption-1])) + "…"
	}
	return text
}

// keywords are the file's keywords as tags: in small letters, ascending, each
// once. Those too long for a tag are left out; with too many, the last are.
func keywords(h header.Header) []string {
	from := h.Sidecar.Keywords
	if len(from) == 0 {
		from = h.Written.Keywords
	}
	var list []string
	for _, k := range from {
		for _, word := range strings.FieldsFunc(k, func(r rune) bool { return strings.ContainsRune(keywordDividers, r) }) {
			word = strings.ToLower(strings.TrimSpace(word))
			if word != "" && len([]rune(word)) <= longestKeyword && len(list) < mostKeywords && !slices.Contains(list, word) {
				list = append(list, word)
			}
		}
	}
	slices.Sort(list)
	return list
}
