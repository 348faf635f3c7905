// Package command is what every command of the program has in common: what it needs of the world,
// and how it refuses.
package command

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"golang.org/x/term"

	"rackwright/cmd/rackwright/screen"
	"rackwright/io/report"
	"rackwright/model/beside"
)

// Env is what a command needs of the world.
type Env struct {
	Ctx    context.Context
	Stdout io.Writer // both [screen.Visible]
	Stderr io.Writer
	Quiet  bool
	// when the program began
	Started time.Time
}

// Refused is an error of the user's: exit 2.
type Refused struct{ error }

// Refuse makes an error of the user's.
func Refuse(format string, args ...any) error { return Refused{fmt.Errorf(format, args...)} }

// Reason is what went wrong with a path, without the path.
func Reason(err error) error {
	if p, ok := errors.AsType[*fs.PathError](err); ok {
		return p.Err
	}
	return err
}

// FromHere shortens a path into the folder that the program was started in.
func FromHere(path string) string {
	here, err := os.Getwd()
	if err != nil {
		return path
	}
	if short, err := filepath.Rel(here, path); err == nil && filepath.IsLocal(short) {
		return short
	}
	return path
}

// Columns is how many columns a line may take: those of the terminal from 80 to 140, and 80 in a
// pipe.
func (e *Env) Columns() int {
	f, ok := screen.Terminal(e.Stdout)
	if !ok {
		return report.UsualWidth
	}
	width, _, err := term.GetSize(int(f.Fd()))
	if err != nil {
		return report.UsualWidth
	}
	return min(140, max(report.UsualWidth, width))
}

// UnlessInterrupted does something; once the program is interrupted it is not waited for, and
// nothing of it may be used then.
func (e *Env) UnlessInterrupted(do func() error) error {
	done := beside.Aside(do)
	select {
	case <-e.Ctx.Done():
		return e.Ctx.Err()
	case out := <-done:
		return out.Get()
	}
}

// Interruptible does something unless the program is interrupted; then the error says what is lost,
// such as that a plan is not judged.
func (e *Env) Interruptible(do func() error, lost string, args ...any) error {
	err := e.UnlessInterrupted(do)
	if errors.Is(err, context.Canceled) {
		return fmt.Errorf(lost+" (%w)", append(args, err)...)
	}
	return err
}
