package intake

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"runtime/metrics"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/intake/header"
)

const (
	// statusMemory is the status a worker exits with when it has come to hold
	// more memory than it may.
	statusMemory = 77
	// statusOrphan is the one when nobody is left to answer to.
	statusOrphan = 78
	// leftLying is how much memory a worker may keep while it waits: what ordinary
	// files leave is soon used again, and giving it back each time costs more.
	leftLying = 96 << 20
	// longestLine bounds a question; names are at most a few kilobytes.
	longestLine = 1 << 20
)

// Serve is a worker's loop: it answers questions from in on out until in ends,
// and returns nil then. It is for a process that does nothing else, because
// it lowers that whole process's ceilings: a file that makes it swell beyond
// limits.Memory ends the process with status 77. When in ends in the midst of
// a file, whoever asked is gone, and the process ends a few seconds later even
// if the file never does.
func Serve(in io.Reader, out io.Writer, limits Limits, readers ...Reader) error {
	if err := confine(limits.Memory); err != nil {
		return fmt.Errorf("set the worker's ceiling: %w", err)
	}
	go watchMemory(limits.Memory)
	const grace = 5 * time.Second
	return converse(in, out, limits, func() {
		time.AfterFunc(grace, func() { os.Exit(statusOrphan) })
	}, readers...)
}

// ceilingSlack is what a process may have set aside beyond limits.Memory before
// the system itself refuses more: the watch is gentler and shall come first.
func ceilingSlack(memory int64) int64 { return memory/8 + 256<<20 }

// watchMemory ends the process when its memory passes the ceiling.
func watchMemory(ceiling int64) {
	debug.SetMemoryLimit(ceiling / 8 * 7) // collect eagerly before giving up
	for {
		if held() > ceiling {
			fmt.Fprintln(os.Stderr, "memory ceiling passed")
			os.Exit(statusMemory)
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// held is how many bytes the Go runtime has from the system at this moment.
func held() int64 {
	samples := []metrics.Sample{{Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
	metrics.Read(samples)
	return int64(samples[0].Value.Uint64()) - int64(samples[1].Value.Uint64())
}

// converse answers questions until in ends; ended is called at that moment,
// while a file may still be being read.
func converse(in io.Reader, out io.Writer, limits Limits, ended func(), readers ...Reader) error {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	questions := make(chan []byte)
	var broken error
	go func() {
		lines := bufio.NewScanner(in)
		lines.Buffer(make([]byte, 64<<10), longestLine)
		for lines.Scan() {
			questions <- append([]byte{}, lines.Bytes()...)
		}
		broken = lines.Err()
		cancel()
		ended()
		close(questions)
	}()
	answers := json.NewEncoder(out)
	if err := answers.Encode(answer{}); err != nil {
		return fmt.Errorf("greet: %w", err)
	}
	for line := range questions {
		if err := answers.Encode(reply(ctx, line, limits, readers...)); err != nil {
			return fmt.Errorf("answer: %w", err)
		}
		if held() > leftLying {
			debug.FreeOSMemory() // a worker waits longer than it works
		}
	}
	return broken
}

// reply answers one question. Nothing a file does in this goroutine gets
// further than its answer.
func reply(ctx context.Context, line []byte, limits Limits, readers ...Reader) (a answer) {
	var q question
	if err := json.Unmarshal(line, &q); err != nil {
		return answer{Fault: faultOf(fmt.Errorf("unreadable question: %w", err))}
	}
	a.Number = q.Number
	defer func() {
		if cause := recover(); cause != nil {
			a.Photo, a.Told = nil, nil
			a.Fault = faultOf(header.Damaged("This file could not be read; it is probably damaged.", fmt.Errorf("panic: %v", cause)))
		}
	}()
	if q.Reader != "" {
		if a.Told, a.Fault = tell(ctx, q, readers); a.Fault != nil {
			a.Told = nil
		}
		return a
	}
	photo, err := answerTo(ctx, q, limits)
	if err != nil {
		a.Fault = faultOf(err)
		return a
	}
	if _, err := json.Marshal(photo); err != nil {
		a.Fault = faultOf(&sequence.Error{Code: sequence.Internal, Message: "What was measured on this file makes no sense.", Err: err})
		return a
	}
	a.Photo = &photo
	return a
}

// answerTo does what a question asks for.
func answerTo(ctx context.Context, q question, limits Limits) (sequence.Photo, error) {
	if len(q.Shot) > 0 {
		return shoot(ctx, string(q.Path), string(q.Shot), limits)
	}
	if len(q.Plate) > 0 {
		return plate(ctx, string(q.Path), string(q.Plate), limits)
	}
	if len(q.Cards) == 0 {
		return remeasure(ctx, string(q.Path), limits)
	}
	return read(ctx, string(q.Path), string(q.Cards), string(q.Scratch), limits)
}
