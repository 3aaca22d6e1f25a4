package demo

import (
	"fmt"
	"time"
)

// Kind says how a picture came to be, in the story the demo tells.
type Kind string

const (
	Digital Kind = "digital" // from a camera: date, offset, mostly a position
	Film    Kind = "film"    // from a lab's scanner: neither date nor place of taking
)

// Picture is what is known of one invented photograph. Film scans have neither
// Taken nor Offset nor Position.
type Picture struct {
	File     string      // slash-separated, relative to the folder given to Draw
	Caption  string      // what is in it, for a person
	Town     string      // the town it belongs to
	Kind     Kind        //
	Taken    *time.Time  // when, in the zone of the place
	Offset   *int        // minutes east of Greenwich
	Position *[2]float64 // latitude, longitude in degrees, WGS 84
}

// work is a picture with what it takes to make it.
type work struct {
	Picture
	paint   func(*canvas)
	stock   stock
	long    int     // long side in pixels
	aspect  float64 // width over height, upright
	tilt    float64 // degrees; nobody holds a camera quite level
	rebate  bool    // scanned with the black border of the film
	turned  bool    // stored on its side, EXIF orientation 6
	scanned string  // film: day and time of scanning as EXIF writes it
}

// towns on the way, latitude and longitude from memory.
var towns = map[string][2]float64{
	"Trieste": {45.6500, 13.7680}, "Koper": {45.5480, 13.7300}, "Piran": {45.5283, 13.5683},
	"Pula": {44.8690, 13.8480}, "Rijeka": {45.3270, 14.4420}, "Senj": {44.9894, 14.9058},
	"Zadar": {44.1150, 15.2260}, "Šibenik": {43.7360, 15.8900}, "Split": {43.5080, 16.4400},
	"Ancona": {43.6180, 13.5130}, "Pescara": {42.4650, 14.2150}, "Termoli": {42.0010, 14.9960},
	"Bari": {41.1270, 16.8700},
}

const (
	landscape32 = 1.5
	portrait23  = 2.0 / 3
	summerTime  = 120 // minutes: Italy, Slovenia and Croatia alike in May
)

// shot makes a digital picture; number is the camera's counter, when is "day hh:mm:ss" in May.
func shot(number int, town, when string, lat, lng float64, caption string, aspect, tilt float64, paint func(*canvas)) work {
	t, err := time.ParseInLocation("2006-01-2 15:04:05", "2026-05-"+when, time.FixedZone("", summerTime*60))
	if err != nil {
		panic(err) // the list below is fixed; the tests read all of it
	}
	off := summerTime
	w := work{paint: paint, stock: sensor, long: 1800, aspect: aspect, tilt: tilt,
		Picture: Picture{File: fmt.Sprintf("digital/adria-%04d.jpg", number), Town: town, Caption: caption, Kind: Digital, Taken: &t, Offset: &off}}
	if lat != 0 {
		w.Position = &[2]float64{lat, lng}
	}
	return w
}

// frame makes a film scan.
func frame(file, town, caption string, aspect, tilt float64, s stock, paint func(*canvas)) work {
	return work{paint: paint, stock: s, long: 1800, aspect: aspect, tilt: tilt, scanned: "2026:05:21 10:42:00",
		Picture: Picture{File: "rolls/" + file, Town: town, Caption: caption, Kind: Film}}
}

func (w work) larger() work    { w.long = 2400; return w }
func (w work) withEdge() work  { w.rebate = true; return w }
func (w work) onItsSide() work { w.turned = true; return w }
func (w work) sized(n int) work {
	w.long = n
	return w
}

// Pictures is the fixed list, in order of file kind and number. Nothing is drawn.
func Pictures() []Picture {
	ws := works()
	ps := make([]Picture, len(ws))
	for i := range ws {
		ps[i] = ws[i].Picture
	}
	return ps
}

func works() []work {
	return append(append(north(), south()...), append(warmRoll(), append(greyRoll(), coolRoll()...)...)...)
}

func north() []work {
	return []work{
		shot(107, "Trieste", "3 10:12:40", 45.6503, 13.7702, "House fronts in the morning", landscape32, -0.5, facade),
		shot(121, "Trieste", "3 20:09:05", 45.6512, 13.7655, "The stone pier at sundown", landscape32, 0.3, molo),
		shot(134, "Koper", "4 07:26:18", 45.5535, 13.7372, "Cranes in the morning haze", landscape32, -0.3, cranes),
		shot(142, "Piran", "4 12:31:52", 45.5279, 13.5690, "Boats in the small harbour", landscape32, 0.4, boats),
		shot(149, "Piran", "4 14:05:33", 45.5289, 13.5676, "Washing on an ochre wall", portrait23, 0.6, ochreWall),
		shot(166, "Pula", "5 17:48:11", 44.8733, 13.8501, "Two tiers of the arena", landscape32, 0.2, arches),
		shot(178, "Pula", "5 21:34:50", 44.8719, 13.8446, "Lamps along the quay", landscape32, -0.4, quayNight),
		shot(190, "Rijeka", "6 09:20:27", 45.3259, 14.4431, "Crates at the market", landscape32, 0.8, market),
		shot(203, "Rijeka", "6 20:21:44", 45.3301, 14.4312, "Last light on the rails", landscape32, 0.2, railsDusk),
		shot(214, "Senj", "7 16:40:09", 44.9902, 14.9031, "The mountain above the channel", landscape32, 0, velebit).larger(),
		shot(228, "Zadar", "8 11:42:16", 44.1322, 15.2051, "Upper deck of the island ferry", landscape32, -0.6, deck),
		shot(237, "Zadar", "8 20:01:30", 44.1173, 15.2199, "Sun on the water, people on the steps", landscape32, 0.3, glitter),
		shot(245, "Zadar", "8 22:17:03", 44.1151, 15.2259, "A lane after rain", portrait23, -0.4, wetLane),
	}
}

func south() []work {
	return []work{
		shot(259, "Šibenik", "9 11:08:45", 43.7357, 15.8893, "Stairs towards the fortress", portrait23, 0.5, stepsUp).onItsSide(),
		shot(266, "Šibenik", "9 16:52:20", 43.7369, 15.8898, "Roofs down to the channel", landscape32, -0.2, roofs).larger(),
		shot(281, "Split", "10 10:36:14", 43.5081, 16.4384, "Shade of palms on a wall", landscape32, 0.3, palms),
		shot(297, "Split", "10 20:28:12", 43.4921, 16.3905, "The wake, leaving", landscape32, -0.3, wakeAt(0)),
		shot(298, "Split", "10 20:28:20", 43.4920, 16.3898, "The wake, leaving, eight seconds on", landscape32, -0.5, wakeAt(8)),
		shot(305, "Ancona", "11 06:04:37", 43.6262, 13.5035, "Landfall", landscape32, 0.3, lighthouse),
		shot(312, "Ancona", "11 13:15:58", 0, 0, "The coast from the train", landscape32, 0.4, trainWindow),
		shot(320, "Pescara", "11 17:25:06", 42.4712, 14.2206, "Beach before the season", landscape32, -0.4, umbrellas),
		shot(333, "Termoli", "12 16:47:49", 41.9816, 14.9712, "Hay and one pine", landscape32, 0.2, ochreField),
		shot(351, "Bari", "13 11:55:21", 41.1302, 16.8704, "Green door, chair put out", portrait23, -0.5, doorway),
		shot(364, "Bari", "13 20:22:55", 0, 0, "Lamps on the sea walk", landscape32, 0.2, lungomare),
	}
}

func warmRoll() []work {
	w := warmFilm
	f := func(n int, town, caption string, aspect, tilt float64, paint func(*canvas)) work {
		return frame(fmt.Sprintf("00041873/00041873%04d.jpg", n), town, caption, aspect, tilt, w, paint)
	}
	return []work{
		f(3, "Trieste", "Coffee on a checked cloth", landscape32, 0.8, espresso),
		f(6, "Koper", "An empty compartment", landscape32, -0.5, compartmentColour),
		f(11, "Zadar", "A cat on the sea wall", landscape32, 0.4, catWall),
		f(17, "Split", "Lemons", landscape32, -0.7, lemons),
		f(19, "Split", "Washing overhead", portrait23, 0.9, washingSky),
		f(26, "Pescara", "Poppies beside the line", landscape32, -0.3, poppies),
		f(34, "Bari", "Little ears, drying", landscape32, 0.5, pasta),
	}
}

func greyRoll() []work {
	f := func(n int, ext, town, caption string, tilt float64, paint func(*canvas)) work {
		return frame(fmt.Sprintf("00041874/00041874%04d.%s", n, ext), town, caption, landscape32, tilt, silver, paint)
	}
	return []work{
		f(2, "jpg", "Trieste", "The mole in fog", 0.3, fogMole),
		f(9, "jpg", "Rijeka", "Rails at noon", -0.3, railsGrey).withEdge(),
		f(13, "jpg", "Senj", "The wind they call bora", 0.7, bora),
		f(20, "tif", "Šibenik", "Steps, hard light", -0.4, stairShadow),
		f(27, "jpg", "Ancona", "Compartment, sea side", 0.4, compartmentGrey).withEdge(),
		f(31, "jpg", "Termoli", "A fishing platform", -0.3, trabucco),
	}
}

func coolRoll() []work {
	f := func(file, town, caption string, aspect, tilt float64, paint func(*canvas)) work {
		return frame("20517-03/"+file, town, caption, aspect, tilt, coolFilm, paint)
	}
	return []work{
		f("000004.jpg", "Rijeka", "Rain on the pane", landscape32, 0.6, rainWindow),
		f("000015.jpg", "Split", "The night ship at the quay", landscape32, -0.4, nightFerry),
		f("000018.jpg", "Split", "Lifebuoy", landscape32, 0.5, ring),
		f("000021.jpg", "Ancona", "One in the morning, at sea", landscape32, 0.8, moonPath),
		f("000023.png", "Ancona", "Dawn through the cabin window", 1, -0.6, porthole).sized(1400),
	}
}
