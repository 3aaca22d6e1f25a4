package intake

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// roleVariable makes the test binary play a worker.
const roleVariable = "PAIRWALL_TEST_WORKER"

// testMemory is the ceiling of the workers in tests.
const testMemory = 384 << 20

func TestMain(m *testing.M) {
	limits := Limits{Memory: testMemory, Time: time.Minute, Pixels: 100_000_000}
	switch os.Getenv(roleVariable) {
	case "":
		os.Exit(m.Run())
	case "good":
		if err := Serve(os.Stdin, os.Stdout, limits); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	case "unruly":
		serveUnruly(limits)
	case "mute":
		fmt.Fprintln(os.Stderr, "I was not made to read pictures")
		os.Exit(64)
	}
	os.Exit(0)
}

// serveUnruly is a real worker behind a gate that misbehaves over certain
// names, as decoders do over certain files.
func serveUnruly(limits Limits) {
	through, gate := io.Pipe()
	go func() {
		lines := bufio.NewScanner(os.Stdin)
		lines.Buffer(nil, longestLine)
		for lines.Scan() {
			var q question
			if err := json.Unmarshal(lines.Bytes(), &q); err != nil {
				os.Exit(65)
			}
			if !misbehave(q) {
				gate.Write(append(lines.Bytes(), '\n'))
			}
		}
		gate.Close()
	}()
	Serve(through, os.Stdout, limits)
	time.Sleep(time.Minute) // if it is hanging, Serve's own end must end it
}

// kept keeps the garbage collector from tidying up.
var kept [][]byte

// misbehave does what the name of the file asks for, and reports whether it did.
func misbehave(q question) bool {
	halfCard := func() {
		if len(q.Scratch) > 0 {
			os.WriteFile(filepath.Join(string(q.Scratch), "1600"), []byte("half a card"), 0o644)
		}
	}
	switch strings.TrimSuffix(filepath.Base(string(q.Path)), ".jpg") {
	case "crash":
		halfCard()
		panic("a decoder broke down")
	case "quit":
		os.Exit(0)
	case "hang":
		halfCard()
		go func() {
			for {
			}
		}()
	case "swell":
		halfCard()
		for {
			kept = append(kept, make([]byte, 4<<20))
			for i := 0; i < 4<<20; i += 4096 {
				kept[len(kept)-1][i] = 1
			}
		}
	case "burst":
		kept = append(kept, make([]byte, 1<<40))
	case "nonsense":
		fmt.Println("what do you mean?")
	case "endless":
		for {
			os.Stdout.WriteString(strings.Repeat("x", 1<<16))
		}
	case "elsewhere":
		json.NewEncoder(os.Stdout).Encode(answer{Number: q.Number + 1, Fault: &fault{Code: "damaged", Message: "Another file."}})
	case "unfounded":
		fmt.Printf(`{"number":%d,"photo":{"hash":"../../etc"}}`+"\n", q.Number)
	case "empty":
		fmt.Printf(`{"number":%d}`+"\n", q.Number)
	case "brood":
		child := exec.Command("sleep", "300")
		if child.Start() == nil {
			os.WriteFile(string(q.Path)+".child", fmt.Appendf(nil, "%d", child.Process.Pid), 0o644)
		}
	default:
		return false
	}
	return true
}
