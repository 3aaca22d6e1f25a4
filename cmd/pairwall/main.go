package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"runtime"
	"syscall"

	"github.com/adrg/xdg"
	"github.com/alecthomas/kong"

	"pairwall/sequence"
	"pairwall/sequence/intake"
	"pairwall/server/printing"
	"pairwall/store"
)

// version is set by the linker for a release.
var version = "dev"

// commands is the command line. The worker stands in it because a file is read
// by a second process of this same program.
type commands struct {
	Data      string `help:"Folder for the program's data." placeholder:"DIR" default:"${data}" type:"path"`
	Listen    string `help:"Address to serve on; this machine only." default:"127.0.0.1:7368" placeholder:"ADDR"`
	NoBrowser bool   `help:"Print the address, do not open it."`

	Open     openCommand     `cmd:"" default:"1" help:"Open the app on your own data (the default)."`
	Demo     demoCommand     `cmd:"" help:"Draw invented photographs, bring them in and open the app on them."`
	Bring    bringCommand    `cmd:"" help:"Bring folders of photographs into a title."`
	Photos   photosCommand   `cmd:"" help:"List a title's photos."`
	Partners partnersCommand `cmd:"" help:"Propose photos to face one photo, with reasons."`
	Arrange  arrangeCommand  `cmd:"" help:"Propose an arrangement of what lies on the table."`
	Check    checkCommand    `cmd:"" help:"Look through a title before it is printed."`
	Print    printCommand    `cmd:"" help:"Make a PDF: small prints, a contact sheet, or the spreads."`
	Orders   ordersCommand   `cmd:"" help:"Read orders from a shop's table, or list them."`
	Labels   labelsCommand   `cmd:"" help:"Make address labels, a packing list or thank-you slips for what is to be sent."`
	Money    moneyCommand    `cmd:"" help:"Tell what came in, what went out and what is left; make a table of it."`
	Pack     packCommand     `cmd:"" help:"Put a title into one file, to take it to another machine."`
	Unpack   unpackCommand   `cmd:"" help:"Take in a title that was packed."`
	Restore  restoreCommand  `cmd:"" help:"List the backups of the data, or put one in its place."`
	Version  versionCommand  `cmd:"" help:"Print the version."`
	Worker   workerCommand   `cmd:"" hidden:"" help:"Read files for another process of this program."`
}

// house is what every command works with.
type house struct {
	ctx    context.Context
	out    io.Writer // what was asked for
	say    io.Writer // what goes on meanwhile
	data   string
	listen string
	browse bool
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// run is main with its surroundings as arguments. Exit codes: 0 done, 1 not
// done, 2 not understood, 130 stopped by the maker.
func run(ctx context.Context, args []string, out, say io.Writer) int {
	var c commands
	parser, err := kong.New(&c,
		kong.Name("pairwall"),
		kong.Description("Pair photographs on a wall of small prints, put the pairs in order, keep every state."),
		kong.Vars{"data": defaultData()},
		kong.Writers(out, say),
		kong.UsageOnError(),
	)
	if err != nil {
		fmt.Fprintln(say, err)
		return 1
	}
	parsed, err := parser.Parse(args)
	if err != nil {
		fmt.Fprintln(say, "pairwall:", err)
		fmt.Fprintln(say, "pairwall --help lists the commands.")
		return 2
	}
	h := &house{ctx: ctx, out: out, say: say, data: c.Data, listen: c.Listen, browse: !c.NoBrowser}
	if err := parsed.Run(h); err != nil {
		return h.complain(err)
	}
	return 0
}

func (h *house) complain(err error) int {
	var coded *sequence.Error
	switch {
	case errors.Is(err, context.Canceled) || sequence.CodeOf(err) == sequence.Cancelled:
		fmt.Fprintln(h.say, "Stopped. What came in so far is kept.")
		return 130
	case errors.As(err, &coded):
		fmt.Fprintln(h.say, coded.Message)
		if coded.Hint != "" {
			fmt.Fprintln(h.say, coded.Hint)
		}
	default:
		fmt.Fprintln(h.say, "pairwall:", err)
	}
	return 1
}

// defaultData follows the platform: $XDG_DATA_HOME, ~/Library/Application
// Support, %LOCALAPPDATA%.
func defaultData() string { return filepath.Join(xdg.DataHome, "pairwall") }

// open opens the store below the data folder, making the folder when needed.
func (h *house) open() (*store.Store, error) {
	if err := os.MkdirAll(h.data, 0o700); err != nil {
		return nil, &sequence.Error{Code: sequence.Unreadable,
			Message: fmt.Sprintf("The data folder %s cannot be made.", h.data),
			Hint:    "Choose another one with --data.", Err: err}
	}
	return store.Open(h.ctx, h.data)
}

// pool makes a pool of so many readers.
func (h *house) pool(workers int) (*intake.Pool, error) {
	self, err := os.Executable()
	if err != nil {
		return nil, fmt.Errorf("finding our own program file: %w", err)
	}
	return intake.NewPool(workers, []string{self, "worker"}, intake.DefaultLimits), nil
}

const mostReaders = 4 // each may hold a large picture in memory

// readers are as many as there are processors.
func readers() int { return min(runtime.NumCPU(), mostReaders) }

// readersBeside leaves a processor to the browser, so that the wall moves under
// the hand while photographs come in.
func readersBeside() int { return max(1, min(runtime.NumCPU()-1, mostReaders)) }

type versionCommand struct{}

func (versionCommand) Run(h *house) error {
	fmt.Fprintf(h.out, "pairwall %s, %s %s/%s\n", version, runtime.Version(), runtime.GOOS, runtime.GOARCH)
	return nil
}

type workerCommand struct{}

func (workerCommand) Run(*house) error {
	return intake.Serve(os.Stdin, os.Stdout, intake.DefaultLimits, printing.Readers()...)
}
