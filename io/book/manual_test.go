package book

import (
	"regexp"
	"slices"
	"testing"

	"rackwright/io/manual"
)

// The manual lists every kind of event, in this order.
func TestManualListsTheKinds(t *testing.T) {
	text, _ := manual.Text("book")
	var listed []Kind
	rows := regexp.MustCompile(`(?m)^\| ([a-z]+) \| [a-z]`)
	for _, m := range rows.FindAllStringSubmatch(text, -1) {
		if m[1] != "kind" {
			listed = append(listed, Kind(m[1]))
		}
	}
	if want := []Kind{Opened, Added, Moved, Scrapped, Taken, Undone}; !slices.Equal(listed, want) {
		t.Errorf("the manual lists %v, not %v", listed, want)
	}
}
