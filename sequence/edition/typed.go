package edition

import (
	"strconv"
	"strings"
	"unicode"

	"pairwall/sequence"

	"github.com/bojanz/currency"
)

// ParseMoney reads an amount as people type it in Europe and America: 1234.5,
// 1,234.50, 1.234,50, 1 234,50, 1'234.50, € 12, 12 EUR, 12,– and −3. Where
// points and commas both stand, the last is the decimal one. Where one stands
// alone before exactly three digits it groups them, unless the currency has
// three decimals: 1.234 is 1234 euros, and 1.234 is 1.234 dinars. No float is
// involved. It returns an Invalid error for what cannot be read, has more
// decimals than the currency, or names another currency, and a TooLarge error
// beyond Largest.
func ParseMoney(typed string, in Currency) (Money, error) {
	if _, err := ParseCurrency(string(in)); err != nil {
		return Money{}, err
	}
	text, negative, err := bare(typed, in)
	if err != nil {
		return Money{}, err
	}
	whole, part, ok := parted(text, in.Decimals())
	if !ok {
		return Money{}, unread(typed, in)
	}
	if len(part) > in.Decimals() {
		return Money{}, &sequence.Error{Code: sequence.Invalid,
			Message: strconv.Quote(typed) + " has more decimals than " + string(in) + ", which has " + strconv.Itoa(in.Decimals()) + ".",
			Hint:    "A price below the smallest coin is given for a hundred or a thousand copies."}
	}
	part += strings.Repeat("0", in.Decimals()-len(part))
	minor, err := strconv.ParseInt(whole+part, 10, 64)
	if err != nil {
		return Money{}, tooMuch()
	}
	if negative {
		minor = -minor
	}
	return NewMoney(minor, in)
}

func unread(typed string, in Currency) error {
	return &sequence.Error{Code: sequence.Invalid,
		Message: strconv.Quote(typed) + " cannot be read as an amount in " + string(in) + ".",
		Hint:    "Write it like 1234.50 or 1.234,50."}
}

// bare takes the sign and the currency's own code or sign off both ends, and
// the dash that stands for no cents.
func bare(typed string, in Currency) (text string, negative bool, err error) {
	text = strings.TrimSpace(typed)
	sign := func() {
		for _, minus := range []string{"-", "−"} {
			if rest, found := strings.CutPrefix(text, minus); found && !negative {
				text, negative = strings.TrimSpace(rest), true
			}
		}
	}
	sign()
	upper := strings.ToUpper(text)
	for _, name := range names(in) {
		if strings.HasPrefix(upper, name) {
			text = strings.TrimSpace(text[len(name):])
			break
		}
		if strings.HasSuffix(upper, name) {
			text = strings.TrimSpace(text[:len(text)-len(name)])
			break
		}
	}
	sign()
	if strings.IndexFunc(text, unicode.IsLetter) >= 0 {
		return "", false, unread(typed, in)
	}
	for _, none := range []string{",--", ".--", ",-", ".-", ",–", ".–", ",—", ".—"} {
		if rest, found := strings.CutSuffix(text, none); found {
			return rest, negative, nil
		}
	}
	return text, negative, nil
}

// names are how the currency may be named in what was typed.
func names(in Currency) []string {
	all := []string{string(in)}
	for _, language := range []string{"en-US", "en", "de", "it"} {
		if symbol, ok := currency.GetSymbol(string(in), currency.NewLocale(language)); ok {
			all = append(all, strings.ToUpper(symbol))
		}
	}
	return all
}

// parted splits digits with separators into the whole and the decimals. It is
// false where groups are not of three digits, or there are no digits.
func parted(text string, decimals int) (whole, part string, ok bool) {
	spaced := strings.Map(func(r rune) rune {
		switch {
		case r == '\'' || r == '’' || unicode.IsSpace(r):
			return ' '
		case r == '.' || r == ',' || ('0' <= r && r <= '9'):
			return r
		}
		return '?'
	}, text)
	whole = spaced
	if at := strings.LastIndexAny(spaced, ".,"); at >= 0 && decimal(spaced, at, decimals) {
		whole, part = spaced[:at], spaced[at+1:]
		if !onlyDigits(part) {
			return "", "", false
		}
	}
	whole, ok = ungrouped(whole)
	return whole, part, ok
}

// decimal reports whether the last point or comma, at the given place, parts
// the whole from the decimals.
func decimal(text string, at, decimals int) bool {
	mark := text[at : at+1]
	if strings.Count(text, mark) > 1 {
		return false
	}
	if strings.ContainsAny(text[:at], ".,") {
		return true
	}
	after := len(text) - at - 1
	grouping := after == 3 && decimals != 3 && at > 0 && at <= 3 && text[0] != '0' && !strings.Contains(text, " ")
	return !grouping
}

// ungrouped joins groups of three digits parted by one and the same mark.
func ungrouped(text string) (string, bool) {
	at := strings.IndexAny(text, " .,")
	if at < 0 {
		return text, onlyDigits(text)
	}
	groups := strings.Split(text, text[at:at+1])
	for i, group := range groups {
		if !onlyDigits(group) || (i > 0 && len(group) != 3) || (i == 0 && len(group) > 3) {
			return "", false
		}
	}
	return strings.Join(groups, ""), true
}

func onlyDigits(text string) bool {
	return text != "" && strings.Trim(text, "0123456789") == ""
}
