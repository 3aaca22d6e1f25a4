package place

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"
	"time"
)

func wall(text string) time.Time {
	t, err := time.Parse(wallLayout, text)
	if err != nil {
		panic(err)
	}
	return t
}

func east(minutes int) *int { return &minutes }

// at is an instant of the camera without an offset.
func at(text string) When { return Instant(wall(text), nil, FromCamera) }

// atOffset is one with the offset given, in minutes.
func atOffset(text string, minutes int) When {
	return Instant(wall(text), &minutes, FromCamera)
}

func on(day int) When { return Day(2026, time.May, day, FromMaker) }

func days(first, last string) When {
	return Span(wall(first+"T00:00:00"), wall(last+"T00:00:00"), FromMaker)
}

func TestInstantKeepsTheWallClockAndDropsItsLocation(t *testing.T) {
	bari := time.FixedZone("", 2*3600)
	offset := 120
	w := Instant(time.Date(2026, time.May, 3, 1, 0, 0, 5, bari), &offset, FromPhone)
	offset = -999
	if want := wall("2026-05-03T01:00:00.000000005"); w.From != want || w.To != want {
		t.Errorf("from %v to %v, want the wall clock as UTC, %v", w.From, w.To, want)
	}
	if w.Offset == nil || *w.Offset != 120 {
		t.Error("the caller's later change reached the When")
	}
}

func TestDaysAndSpansRunFromFirstToLastSecond(t *testing.T) {
	tests := []struct {
		name      string
		when      When
		precision Precision
		from, to  string
	}{
		{"a day", on(3), PrecisionDay, "2026-05-03T00:00:00", "2026-05-03T23:59:59"},
		{"a span", days("2026-05-03", "2026-05-13"), PrecisionSpan, "2026-05-03T00:00:00", "2026-05-13T23:59:59"},
		{"a span given backwards", days("2026-05-13", "2026-05-03"), PrecisionSpan, "2026-05-03T00:00:00", "2026-05-13T23:59:59"},
		{"a span of one day", days("2026-05-03", "2026-05-03"), PrecisionDay, "2026-05-03T00:00:00", "2026-05-03T23:59:59"},
		{"a span with clock times",
			Span(wall("2026-05-03T17:04:05"), wall("2026-05-04T01:00:00"), FromMaker),
			PrecisionSpan, "2026-05-03T00:00:00", "2026-05-04T23:59:59"},
		{"the day that summer time takes an hour from", Day(2026, time.March, 29, FromMaker),
			PrecisionDay, "2026-03-29T00:00:00", "2026-03-29T23:59:59"},
	}
	for _, tt := range tests {
		w := tt.when
		if w.Precision != tt.precision || w.From != wall(tt.from) || w.To != wall(tt.to) {
			t.Errorf("%s: %v from %v to %v", tt.name, w.Precision, w.From, w.To)
		}
	}
}

func TestOnlyAKnownTimeNotOfAScannerCountsAsTaken(t *testing.T) {
	tests := []struct {
		when           When
		known, counted bool
	}{
		{When{}, false, false},
		{When{Precision: "unknown", Source: FromMaker}, false, false},
		{When{Precision: "nonsense", From: wall("2026-05-03T00:00:00")}, false, false},
		{at("2026-05-03T17:04:05"), true, true},
		{on(3), true, true},
		{days("2026-05-03", "2026-05-13"), true, true},
		{Instant(wall("2026-05-03T17:04:05"), nil, FromScanner), true, false},
		{Day(2026, time.May, 3, FromScanner), true, false},
	}
	for _, tt := range tests {
		if got := tt.when.Known(); got != tt.known {
			t.Errorf("%v.Known() = %v", tt.when, got)
		}
		if got := tt.when.CountsAsTaken(); got != tt.counted {
			t.Errorf("%v.CountsAsTaken() = %v", tt.when, got)
		}
	}
}

func TestWhenRoundTripsThroughJSON(t *testing.T) {
	tests := []struct {
		when When
		want string
	}{
		{When{}, `{"precision":"unknown","source":""}`},
		{When{Source: FromMaker}, `{"precision":"unknown","source":"maker"}`},
		{at("2026-05-03T17:04:05"),
			`{"precision":"instant","from":"2026-05-03T17:04:05","to":"2026-05-03T17:04:05","source":"camera"}`},
		{atOffset("2024-08-10T14:03:26.775", 120),
			`{"precision":"instant","from":"2024-08-10T14:03:26.775","to":"2024-08-10T14:03:26.775","offset":120,"source":"camera"}`},
		{atOffset("2026-05-03T17:04:05", 0),
			`{"precision":"instant","from":"2026-05-03T17:04:05","to":"2026-05-03T17:04:05","offset":0,"source":"camera"}`},
		{Day(2026, time.May, 3, FromScanner),
			`{"precision":"day","from":"2026-05-03T00:00:00","to":"2026-05-03T23:59:59","source":"scanner"}`},
		{days("2026-05-03", "2026-05-13"),
			`{"precision":"span","from":"2026-05-03T00:00:00","to":"2026-05-13T23:59:59","source":"maker"}`},
	}
	for _, tt := range tests {
		text, err := json.Marshal(tt.when)
		if err != nil || string(text) != tt.want {
			t.Errorf("%v is written %s (%v), want %s", tt.when, text, err, tt.want)
		}
		back := at("1999-09-09T09:09:09") // must be overwritten whole
		if err := json.Unmarshal(text, &back); err != nil || !reflect.DeepEqual(back, tt.when) {
			t.Errorf("%s is read back as %v (%v)", text, back, err)
		}
	}
}

func TestAnUnknownTimeWrittenInWordsReadsAsTheZeroWhen(t *testing.T) {
	text, err := json.Marshal(When{Precision: "unknown", From: wall("2026-05-03T17:04:05")})
	if err != nil || string(text) != `{"precision":"unknown","source":""}` {
		t.Errorf("written %s, %v", text, err)
	}
	if got := Precision("").String(); got != "unknown" {
		t.Errorf("the zero precision is %q", got)
	}
}

func TestPrecisionByItselfIsWrittenAsItsWord(t *testing.T) {
	text, err := json.Marshal([]Precision{"", "unknown", PrecisionInstant, PrecisionDay, PrecisionSpan})
	if want := `["unknown","unknown","instant","day","span"]`; err != nil || string(text) != want {
		t.Errorf("written %s, %v", text, err)
	}
	var back []Precision
	if err := json.Unmarshal(text, &back); err != nil || back[0] != PrecisionUnknown || back[4] != PrecisionSpan {
		t.Errorf("read back as %q, %v", back, err)
	}
	if text, err := json.Marshal(Precision("hour")); err == nil {
		t.Errorf("no such precision, but written %s", text)
	}
}

func TestContradictoryTimesAreRefused(t *testing.T) {
	tests := []struct{ name, text, says string }{
		{"no such precision", `{"precision":"hour"}`, "precision"},
		{"no such source", `{"precision":"unknown","source":"neighbour"}`, "source"},
		{"unknown with a time", `{"precision":"unknown","from":"2026-05-03T17:04:05"}`, "unknown time"},
		{"instant without a time", `{"precision":"instant"}`, "instant"},
		{"instant that lasts", `{"precision":"instant","from":"2026-05-03T17:04:05","to":"2026-05-03T17:04:06"}`, "instant"},
		{"day that starts at noon", `{"precision":"day","from":"2026-05-03T12:00:00","to":"2026-05-03T23:59:59"}`, "a day"},
		{"day of two dates", `{"precision":"day","from":"2026-05-03T00:00:00","to":"2026-05-04T23:59:59"}`, "a day"},
		{"span without an end", `{"precision":"span","from":"2026-05-03T00:00:00"}`, "a span"},
		{"span backwards", `{"precision":"span","from":"2026-05-03T00:00:00","to":"2026-05-02T23:59:59"}`, "a span"},
		{"a zone in the time", `{"precision":"instant","from":"2026-05-03T17:04:05Z","to":"2026-05-03T17:04:05Z"}`, "wall-clock"},
		{"a date alone", `{"precision":"instant","from":"2026-05-03","to":"2026-05-03"}`, "wall-clock"},
		{"an end that is no time", `{"precision":"instant","from":"2026-05-03T17:04:05","to":"later"}`, "wall-clock"},
		{"year 0", `{"precision":"instant","from":"0000-05-03T17:04:05","to":"0000-05-03T17:04:05"}`, "years"},
		{"an offset of a day", `{"precision":"unknown","offset":1440}`, "1440"},
		{"an offset in words", `{"precision":"unknown","offset":"+02:00"}`, "not a time"},
		{"a list", `[]`, "not a time"},
	}
	for _, tt := range tests {
		w := on(3)
		err := json.Unmarshal([]byte(tt.text), &w)
		if err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: error %v, want one that says %q", tt.name, err, tt.says)
		}
		if !reflect.DeepEqual(w, on(3)) {
			t.Errorf("%s: the time changed to %v all the same", tt.name, w)
		}
	}
}

func TestATimeThatCouldNotBeReadBackIsNotWritten(t *testing.T) {
	moment := wall("2026-05-03T17:04:05")
	tests := []When{
		{Precision: "hour"},
		{Precision: PrecisionInstant},
		{Precision: PrecisionDay, From: moment, To: moment},
		Instant(time.Date(12026, time.May, 3, 0, 0, 0, 0, time.UTC), nil, FromCamera),
		Instant(moment, east(5000), FromCamera),
		Instant(moment, nil, "neighbour"),
	}
	for _, w := range tests {
		if text, err := json.Marshal(w); err == nil {
			t.Errorf("%v is written %s", w, text)
		}
	}
}

func FuzzWhenJSON(f *testing.F) {
	for _, w := range []When{{}, at("2024-08-10T14:03:26.775"), atOffset("2026-05-03T17:04:05", -570),
		on(3), days("2026-05-03", "2026-05-13")} {
		text, err := json.Marshal(w)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Add([]byte(`null`))
	f.Add([]byte(`{"precision":"instant","from":"2026-05-03T17:04:05,5","to":"2026-05-03T17:04:05.5","offset":null}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		var w When
		if json.Unmarshal(data, &w) != nil {
			return
		}
		text, err := json.Marshal(w)
		if err != nil {
			t.Fatalf("%s is read but cannot be written: %v", data, err)
		}
		var back When
		if err := json.Unmarshal(text, &back); err != nil || !reflect.DeepEqual(back, w) {
			t.Fatalf("%s is read as %v, written as %s and read as %v (%v)", data, w, text, back, err)
		}
		if w.Words() == "" || TimeWords(w, back) == "" {
			t.Errorf("%s has no words", text)
		}
	})
}
