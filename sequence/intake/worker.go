package intake

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"sync"
	"time"
)

// longestAnswer bounds a worker's line; a photo takes about two kilobytes.
const longestAnswer = 4 << 20

// worker is a process that reads files.
type worker struct {
	command *exec.Cmd
	in      io.WriteCloser
	answers chan []byte   // closed when the worker says no more
	over    chan struct{} // closed when it has ended and been waited for
	last    tail          // of what it wrote to standard error
	largest int64         // resident bytes, where the system tells while it lives
}

// startWorker starts a process and waits for its greeting.
func startWorker(command []string) (*worker, error) {
	if len(command) == 0 {
		return nil, errors.New("no command")
	}
	w := &worker{command: exec.Command(command[0], command[1:]...), answers: make(chan []byte), over: make(chan struct{})}
	setApart(w.command)
	w.command.Stderr = &w.last
	w.command.WaitDelay = 2 * time.Second
	var err error
	if w.in, err = w.command.StdinPipe(); err != nil {
		return nil, err
	}
	out, err := w.command.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := w.command.Start(); err != nil {
		return nil, err
	}
	giveWay(w.command.Process)
	go w.listen(out)
	const patience = 20 * time.Second
	select {
	case line, ok := <-w.answers:
		var greeting answer
		if ok && json.Unmarshal(line, &greeting) == nil && greeting.blank() {
			return w, nil
		}
	case <-time.After(patience):
	}
	w.stop()
	return nil, fmt.Errorf("the worker did not greet: %s", w.last.String())
}

// listen passes on the worker's lines, and waits for the process when there
// are no more. A line too long to be an answer is passed on empty.
func (w *worker) listen(out io.Reader) {
	defer close(w.over)
	lines := bufio.NewScanner(out)
	lines.Buffer(make([]byte, 64<<10), longestAnswer)
	for lines.Scan() {
		w.answers <- append([]byte{}, lines.Bytes()...)
	}
	if errors.Is(lines.Err(), bufio.ErrTooLong) {
		w.answers <- nil
		io.Copy(io.Discard, out)
	}
	close(w.answers)
	w.command.Wait()
}

// stop ends the worker at once and returns when it is gone.
func (w *worker) stop() {
	end(w.command.Process)
	w.drain()
}

// drain throws away what the worker still says and waits for its end.
func (w *worker) drain() {
	for range w.answers {
	}
	<-w.over
}

// waiting reports whether an idle worker is still there and silent. One that
// ended since its last file must not cost the next.
func (w *worker) waiting() bool {
	select {
	case <-w.answers:
		return false
	default:
		return true
	}
}

// dismiss lets an idle worker go, and ends it if it does not.
func (w *worker) dismiss() {
	w.in.Close()
	hurry := time.AfterFunc(2*time.Second, func() { end(w.command.Process) })
	defer hurry.Stop()
	w.drain()
}

// measure notes the worker's resident size, where the system tells: the most
// it ever was, so that looking now and then is enough.
func (w *worker) measure() {
	status, err := os.ReadFile("/proc/" + strconv.Itoa(w.command.Process.Pid) + "/status")
	if err != nil {
		return
	}
	w.largest = max(w.largest, statusBytes(status, "VmHWM:"))
}

// statusBytes reads a size from a Linux process's status, 0 if it is not there.
func statusBytes(status []byte, name string) int64 {
	_, after, _ := bytes.Cut(status, []byte(name))
	fields := bytes.Fields(after)
	if len(fields) == 0 {
		return 0
	}
	kilobytes, err := strconv.ParseInt(string(fields[0]), 10, 64)
	if err != nil {
		return 0
	}
	return kilobytes << 10
}

// size is the largest resident size seen. What the system says when all is
// over comes second: on Linux it counts in the parent, of which the child was
// a copy for a moment.
func (w *worker) size() int64 {
	if w.largest > 0 {
		return w.largest
	}
	select {
	case <-w.over:
		return largestSize(w.command.ProcessState)
	default:
		return 0
	}
}

// outgrew reports whether a worker that is over ended because of its memory: by
// its own watch, or because the system refused it more.
func (w *worker) outgrew() bool {
	if w.command.ProcessState.ExitCode() == statusMemory {
		return true
	}
	said := w.last.String()
	for _, words := range []string{"out of memory", "cannot allocate memory", "failed to allocate"} {
		if strings.Contains(said, words) {
			return true
		}
	}
	return false
}

// tail keeps the first and last of what is written to it.
type tail struct {
	mu    sync.Mutex
	first []byte
	last  []byte
}

const tailLength = 2 << 10

func (t *tail) Write(p []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	rest := p
	if room := tailLength - len(t.first); room > 0 {
		n := min(room, len(p))
		t.first, rest = append(t.first, p[:n]...), p[n:]
	}
	t.last = append(t.last, rest...)
	if len(t.last) > tailLength {
		t.last = append([]byte{}, t.last[len(t.last)-tailLength:]...)
	}
	return len(p), nil
}

func (t *tail) String() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	return strings.TrimSpace(string(t.first) + string(t.last))
}
