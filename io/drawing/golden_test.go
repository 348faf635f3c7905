package drawing

import (
	"bytes"
	"flag"
	"os"
	"testing"

	"rackwright/io/layout"
)

var update = flag.Bool("update", false, "write the expected drawings anew")

// The drawing of a small board, looked at once, stays as it is.
func TestSmallBoard(t *testing.T) {
	s, job, plan := smallBoard()
	var out bytes.Buffer
	scene := Board(layout.Boards(job, plan)[0], s, Options{Width: 180_000, Alone: true,
		Head: []string{"Board B-07, from the rack, bin C2: ash 4/4"}})
	if err := scene.SVG(&out); err != nil {
		t.Fatal(err)
	}
	const file = "testdata/small.svg"
	if *update {
		if err := os.WriteFile(file, out.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(out.Bytes(), want) {
		t.Errorf("the drawing is another one than %s: look at it, then run with -update", file)
	}
}
