package track

import (
	"math"
	"testing"
	"time"

	"pairwall/sequence/place"
)

func shot(seconds, lat, lng float64, from string) Fix {
	return Fix{Wall: after(seconds), LatLng: place.LatLng{Lat: lat, Lng: lng}, From: from}
}

func TestAPhonePhotoOfTheSameHourLendsItsPosition(t *testing.T) {
	// 0.01° of latitude is 1,111 m at 45° N (WGS84), 2,222 m in 20 min are 1.85 m/s.
	phone := []Fix{
		shot(1200, 45.02, 13, "c.jpg"), shot(0, 45, 13, "a.jpg"),
		shot(5000, 46, 13, "d.jpg"), shot(100, 0, 0, "nowhere.jpg"),
	}
	tests := []struct {
		name     string
		seconds  float64
		within   time.Duration
		from     string // "" when there is no answer
		radius   float64
		sentence string
	}{
		{"at the same second", 0, time.Hour, "a.jpg", 10, "from phone photo a.jpg, taken at the same second"},
		{"after one, before another", 300, time.Hour, "a.jpg", 10 + 300*1.8522, "from phone photo a.jpg, taken 5 min earlier"},
		{"nearer to the later one", 1100, time.Hour, "c.jpg", 10 + 100*1.8522, "from phone photo c.jpg, taken 100 s later"},
		{"equally near", 600, time.Hour, "a.jpg", 10 + 600*1.8522, "from phone photo a.jpg, taken 10 min earlier"},
		{"only one within reach", 300, 10 * time.Minute, "a.jpg", 10 + 300*1.4, "from phone photo a.jpg, taken 5 min earlier"},
		{"before all", -3600, time.Hour, "a.jpg", 10 + 3600*1.4, "from phone photo a.jpg, taken 60 min later"},
		{"an hour and a second before all", -3601, time.Hour, "", 0, ""},
		{"none within reach", 300, time.Minute, "", 0, ""},
	}
	for _, tt := range tests {
		where, sure, ok := FromPhone(after(tt.seconds), phone, tt.within)
		if ok != (tt.from != "") {
			t.Errorf("%s: %v, %v", tt.name, where, ok)
			continue
		}
		if got := sure.Words(); got != tt.sentence {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.sentence)
		}
		if math.Abs(where.Radius-tt.radius) > 0.5 || ok && where.Source != place.FromPhone {
			t.Errorf("%s: %+v, want a radius of %.0f m", tt.name, where, tt.radius)
		}
		for _, f := range phone {
			if f.From == tt.from && f.LatLng != where.LatLng {
				t.Errorf("%s: at %v, want where %s was taken", tt.name, where, f.From)
			}
		}
	}
	if _, _, ok := FromPhone(noon, nil, time.Hour); ok {
		t.Error("a position from no photo at all")
	}
}

func TestSureSaysFromWhatAndHowNear(t *testing.T) {
	tests := []struct {
		sure Sure
		want string
	}{
		{Sure{}, ""},
		{Sure{Source: place.FromTrack, From: []string{""}, Apart: 40 * time.Second}, "from a track, between fixes 40 s apart"},
		{Sure{Source: place.FromTrack, From: []string{"a.gpx", ""}, Apart: 90 * time.Minute}, "from track a.gpx, between fixes 90 min apart"},
		{Sure{Source: place.FromTrack, From: []string{"a.gpx"}, Apart: 300 * time.Millisecond}, "from track a.gpx, between fixes less than 1 s apart"},
		{Sure{Source: place.FromTrack, From: []string{"a.gpx"}, Apart: 26 * time.Hour}, "from track a.gpx, between fixes 26 h apart"},
		{Sure{Source: place.FromTrack, From: []string{"a.gpx"}, Away: -999 * time.Millisecond}, "from track a.gpx, at a fix"},
		{Sure{Source: place.FromPhone, From: []string{""}, Away: -3 * time.Hour}, "from a phone photo, taken 3 h later"},
	}
	for _, tt := range tests {
		if got := tt.sure.Words(); got != tt.want {
			t.Errorf("%+v says %q, want %q", tt.sure, got, tt.want)
		}
	}
}
