package book

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"rackwright/io/manual"
)

// The manual lists every kind of event, in this order.
func TestManualListsTheKinds(t *testing.T) {
	text, _ := manual.Text("book")
	_, text, _ = strings.Cut(text, "| kind | means |")
	var listed []Kind
	rows := regexp.MustCompile(`(?m)^\| ([a-z]+) \| [a-z]`)
	for _, m := range rows.FindAllStringSubmatch(text, -1) {
		listed = append(listed, Kind(m[1]))
	}
	want := []Kind{Opened, Added, Moved, Scrapped, Taken, Counted, Booked, Received,
		Cut, Undone}
	if !slices.Equal(listed, want) {
		t.Errorf("the manual lists %v, not %v", listed, want)
	}
}
