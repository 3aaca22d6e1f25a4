package intake

import "time"

// Limits are the ceilings under which one worker reads one file.
type Limits struct {
	Memory int64         // bytes of memory a worker may come to hold
	Time   time.Duration // for one file, from the question to the answer
	Pixels int64         // width times height, checked before any pixel is decoded
}

// DefaultLimits fit a 250 MP scan with 16 bits a channel, stored in strips.
var DefaultLimits = Limits{Memory: 4 << 30, Time: 2 * time.Minute, Pixels: 250_000_000}
