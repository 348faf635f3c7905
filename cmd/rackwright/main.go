// Rackwright is the command line: flags, paths, exit codes.
//
// The program plans a month of commissions for a small furniture shop: which board becomes which
// part, what to buy, what is left over. This room wires the others together. Each command has a
// file of its own; place puts folders in place.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime"
	"runtime/debug"
	"syscall"
	"time"

	"github.com/alecthomas/kong"

	"rackwright/cmd/rackwright/command"
	"rackwright/cmd/rackwright/screen"
	"rackwright/cmd/rackwright/shopbook"
	"rackwright/model"
	"rackwright/nest"
)

// version is set when a release is built.
var version = "development"

// The exit codes.
const (
	exitDone        = 0
	exitShort       = 1 // done, with shortages
	exitBad         = 2 // bad input, or verify rejects
	exitFault       = 3 // our fault
	exitInterrupted = 130
)

// errShort says that all is done but some pieces are short.
var errShort = errors.New("some pieces are short")

// commands is the command line.
type commands struct {
	Plan      planCommand        `cmd:"" help:"Plan a job folder and write the plan."`
	Verify    verifyCommand      `cmd:"" help:"Check a written plan again, bound included, by code apart from the solver."`
	Show      showCommand        `cmd:"" help:"List the boards of a written plan, or draw one: its blanks, its offcuts, its cuts in order."`
	Print     printCommand       `cmd:"" help:"Write the papers of a plan: for the yard, the saw and the bench, and labels."`
	Compare   compareCommand     `cmd:"" help:"Plan a job by simple first-fit rules and by the solver, side by side."`
	Months    monthsCommand      `cmd:"" help:"Plan the months of a shop folder one after the other, and show what carrying offcuts saves."`
	Check     checkCommand       `cmd:"" help:"Read and judge a job folder only: all mistakes at once."`
	Explain   explainCommand     `cmd:"" help:"Why each blank is as big as it is, what can hold it, and what its wood costs."`
	Movement  movementCommand    `cmd:"" help:"How much wide parts move over the year, and the slot or gap that it asks for."`
	New       newCommand         `cmd:"" help:"Write an empty shop folder with its first month, to be filled in."`
	Rack      shopbook.Rack      `cmd:"" help:"The rack at hand: list it, enter what came, moved and went, undo."`
	Count     shopbook.Count     `cmd:"" help:"Write the sheet to fill in for a count of the bins."`
	Reconcile shopbook.Reconcile `cmd:"" help:"Set what was found in a count against the book, and put the book right."`
	Book      shopbook.Book      `cmd:"" help:"Book a plan: its boards are promised to it, its purchases expected."`
	Receive   shopbook.Receive   `cmd:"" help:"Enter which boards of a booked plan have come, as bought or otherwise."`
	Done      shopbook.Done      `cmd:"" help:"Enter which boards of a booked plan were cut, as planned or as marked."`
	Replan    replanCommand      `cmd:"" help:"Plan what is left of a booked plan, on the boards as they now are."`
	Audit     shopbook.Audit     `cmd:"" help:"Look whether the book of a shop folder is sound, event by event."`
	Demo      demoCommand        `cmd:"" help:"Write an invented shop with three months, plan the first and compare."`
	Help      helpCommand        `cmd:"" help:"The manual: print one topic, or list them all."`

	Quiet   bool             `help:"Print errors only." short:"q"`
	Version kong.VersionFlag `help:"Print the version."`
}

const description = `Plans a month of commissions for a small furniture shop: which board becomes which part, what to buy, what is left over, and how near that is to the cheapest plan there can be.

Examples:
  rackwright demo shop                  an invented shop, its first month planned
  rackwright check shop/2027-03         is the input sound?
  rackwright plan shop/2027-03 --date 2027-03-01
  rackwright verify shop/2027-03/out --job shop/2027-03
  rackwright show shop/2027-03/out      the boards of the plan
  rackwright show shop/2027-03/out B-062
  rackwright print shop/2027-03/out     papers for the yard, the saw and the bench
  rackwright compare shop/2027-03
  rackwright explain shop/2027-03 "C-01 hall bench" cleat
  rackwright movement shop/2027-03 --moisture 6-10
  rackwright new my-shop --month 2027-03
  rackwright rack list shop             the boards on the rack
  rackwright months shop                its months, one after the other
  rackwright help files                 what a job folder holds`

// env is what a command of this room needs of the world.
type env struct{ command.Env }

// tell does what a command tells of a folder, unless the program is interrupted.
func (e *env) tell(dir string, do func() error) error {
	return e.Interruptible(do, "%s: not all of it is told", dir)
}

func main() {
	// on Windows SIGTERM is the closing of the console or of the session
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, func() {
		stop() // a second signal ends the program at once
		collectRarely()
	})
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// collectRarely is for the end of a run, which needs less memory than the search did: to collect as
// often as there would take a tenth of the time. The limit of the memory holds.
func collectRarely() (asBefore func()) {
	before := debug.SetGCPercent(400)
	return func() { debug.SetGCPercent(before) }
}

// run is the program: arguments in, exit code out.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) (code int) {
	started := time.Now()
	defer func() {
		if r := recover(); r != nil {
			fmt.Fprintf(stderr, "rackwright: a fault of the program, not of the input: %v\n", r)
			buf := make([]byte, 1<<14)
			fmt.Fprintf(stderr, "%s\n", buf[:runtime.Stack(buf, false)])
			code = exitFault
		}
	}()
	var c commands
	out, errs := screen.Visible{Writer: stdout}, screen.Visible{Writer: stderr}
	exited := -1
	parser, err := kong.New(&c, kong.Name("rackwright"), kong.Description(description),
		kong.Writers(out, errs),
		kong.Exit(func(n int) { exited = n }),
		kong.Vars{"version": "rackwright " + version,
			"default_work": fmt.Sprint(int64(nest.DefaultWork) / 1e6), "default_demo": defaultDemo},
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, WrapUpperBound: 100}))
	if err != nil {
		panic(err)
	}
	if len(args) == 0 {
		args = []string{"--help"}
	}
	k, err := parser.Parse(args)
	if exited >= 0 {
		return exited
	}
	if err != nil {
		help := "rackwright"
		if p, ok := errors.AsType[*kong.ParseError](err); ok && p.Context != nil &&
			p.Context.Selected() != nil {
			help = p.Context.Selected().FullPath()
		}
		fmt.Fprintf(errs, "rackwright: %v\nrackwright: see %s --help\n", err, help)
		return exitBad
	}
	e := &env{command.Env{Ctx: ctx, Stdout: out, Stderr: errs, Quiet: c.Quiet, Started: started}}
	return finish(k.Run(e, &e.Env), errs)
}

// finish prints an error, if there is one, and finds its exit code.
func finish(err error, stderr io.Writer) int {
	var mistakes model.InputErrors
	var ours command.Refused
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errShort):
		return exitShort
	case errors.As(err, &mistakes):
		for _, m := range mistakes {
			fmt.Fprintln(stderr, m)
		}
		return exitBad
	case errors.As(err, &ours):
		fmt.Fprintf(stderr, "rackwright: %v\n", err)
		return exitBad
	case errors.Is(err, context.Canceled) && err.Error() == context.Canceled.Error():
		fmt.Fprintln(stderr, "rackwright: interrupted before a plan was ready; nothing is written")
		return exitInterrupted
	case errors.Is(err, context.Canceled):
		fmt.Fprintf(stderr, "rackwright: interrupted: %v\n", err)
		return exitInterrupted
	}
	fmt.Fprintf(stderr, "rackwright: %v\n", err)
	return exitFault
}
