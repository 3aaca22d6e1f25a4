package place

import (
	"encoding/json"
	"math"
	"testing"
)

func TestValidKnowsAPositionFromNone(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	tests := []struct {
		p    LatLng
		want bool
	}{
		{LatLng{45.6495, 13.7768}, true},
		{LatLng{0, 0}, false}, // what a phone without a fix writes
		{LatLng{math.Copysign(0, -1), 0}, false},
		{LatLng{0, 9.5}, true},
		{LatLng{-12, 0}, true},
		{LatLng{90, 180}, true},
		{LatLng{-90, -180}, true},
		{LatLng{90.00001, 0}, false},
		{LatLng{45, 180.00001}, false},
		{LatLng{nan, 13}, false},
		{LatLng{45, nan}, false},
		{LatLng{inf, 13}, false},
		{LatLng{45, -inf}, false},
	}
	for _, tt := range tests {
		if got := tt.p.Valid(); got != tt.want {
			t.Errorf("%v.Valid() = %v", tt.p, got)
		}
	}
}

func TestWhereKeepsItsKeysInJSON(t *testing.T) {
	where := Where{LatLng{41.1284, 16.8695}, 12.5, FromPhone}
	text, err := json.Marshal(where)
	if err != nil {
		t.Fatal(err)
	}
	if want := `{"lat":41.1284,"lng":16.8695,"radius":12.5,"source":"phone"}`; string(text) != want {
		t.Errorf("Where is written %s, want %s", text, want)
	}
	var back Where
	if err := json.Unmarshal(text, &back); err != nil || back != where {
		t.Errorf("and read back as %v, %v", back, err)
	}
}

func TestCompassWordNamesTheNearestWind(t *testing.T) {
	tests := []struct {
		azimuth float64
		want    string
	}{
		{0, "north"}, {22.4, "north"}, {22.6, "north-east"}, {41, "north-east"},
		{90, "east"}, {135, "south-east"}, {180, "south"}, {225, "south-west"},
		{270, "west"}, {306.9, "north-west"}, {337.4, "north-west"}, {337.6, "north"},
		{359.999, "north"}, {360, "north"}, {-90, "west"}, {405, "north-east"},
		{-1e-300, "north"}, {math.NaN(), ""}, {math.Inf(1), ""},
	}
	for _, tt := range tests {
		if got := CompassWord(tt.azimuth); got != tt.want {
			t.Errorf("CompassWord(%v) = %q, want %q", tt.azimuth, got, tt.want)
		}
	}
}

func TestDistanceWordsRoundForReading(t *testing.T) {
	tests := []struct {
		metres float64
		want   string
	}{
		{0, "on the same spot"}, {14.9, "on the same spot"},
		{15, "15 m apart"}, {38, "40 m apart"}, {97.4, "95 m apart"},
		{97.5, "100 m apart"}, {338, "340 m apart"}, {994, "990 m apart"},
		{995, "1 km apart"}, {1049, "1 km apart"}, {1234, "1.2 km apart"},
		{9949, "9.9 km apart"}, {9950, "10 km apart"},
		{54972.271, "55 km apart"}, {86400, "86 km apart"}, {99499, "99 km apart"},
		{99500, "100 km apart"}, {347000, "350 km apart"}, {994999, "990 km apart"},
		{995000, "1,000 km apart"}, {1234567, "1,200 km apart"}, {20003931, "20,000 km apart"},
		{-1, "distance unknown"}, {math.NaN(), "distance unknown"}, {math.Inf(1), "distance unknown"},
	}
	for _, tt := range tests {
		if got := DistanceWords(tt.metres); got != tt.want {
			t.Errorf("DistanceWords(%v) = %q, want %q", tt.metres, got, tt.want)
		}
	}
}
