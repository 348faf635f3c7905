// Package screen is what the program writes to, a terminal or not, and keeps names from steering
// it.
package screen

import (
	"io"
	"os"
	"strings"

	"golang.org/x/term"

	"rackwright/model"
)

// Visible writes for people: lines as they are, but for signs of a name that would steer the
// terminal. Blanks are plain, so that what is printed can be searched for. Each call takes whole
// characters.
type Visible struct{ io.Writer }

func (v Visible) Write(b []byte) (int, error) {
	lines := strings.Split(string(b), "\n")
	for i := range lines {
		lines[i] = strings.ReplaceAll(model.Visible(lines[i]), model.NoBreakSpace, " ")
	}
	if _, err := io.WriteString(v.Writer, strings.Join(lines, "\n")); err != nil {
		return 0, err
	}
	return len(b), nil
}

// Terminal gives the terminal behind a writer, if there is one.
func Terminal(w io.Writer) (*os.File, bool) {
	if v, ok := w.(Visible); ok {
		w = v.Writer
	}
	f, ok := w.(*os.File)
	return f, ok && term.IsTerminal(int(f.Fd()))
}
