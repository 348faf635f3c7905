package page

import (
	"html/template"
	"runtime"
	"strings"
	"sync/atomic"

	"rackwright/io/drawing"
)

// Drawings are most of a page, and most of the time that it takes. They are drawn beside each
// other, ahead of the text that is written around them.

// drawn is a drawing.
type drawn struct {
	SVG        template.HTML
	Key        []drawing.KeyLine
	Wide, High int
}

// A drawing is drawn for a screen of usual width; on a phone it can be moved to and fro.
var onScreen = drawing.Options{Width: 160_000, Text: 3000, Inline: true}

// Drawing is a board's drawing, with the lines that its picture has no room for. What it tells who
// cannot see it stands beside it on the page.
func (b *board) Drawing() (*drawn, error) { return b.draw() }

func picture(s *drawing.Scene) (*drawn, error) {
	var b strings.Builder
	if err := s.Inline(&b); err != nil {
		return nil, err
	}
	for i := range s.Key {
		s.Key[i].Text = unbroken(s.Key[i].Text)
	}
	return &drawn{template.HTML(b.String()), s.Key, s.Width, s.Height}, nil
}

// drawAhead begins the drawings, in the order of the page; what it gives ends that.
func (v *view) drawAhead() (stop func()) {
	boards := v.asDrawn()
	var next atomic.Int64
	for range runtime.GOMAXPROCS(0) {
		go func() {
			defer func() { recover() }() // who asks for that drawing meets the same
			for n := int(next.Add(1)); n <= len(boards); n = int(next.Add(1)) {
				boards[n-1].draw()
			}
		}()
	}
	return func() { next.Store(int64(len(boards))) }
}

// asDrawn are the boards in the order in which the page draws them.
func (v *view) asDrawn() (out []*board) {
	if v.Work != nil {
		for _, p := range v.Work.Passes {
			for _, r := range p.Runs {
				for _, x := range r.Visits {
					if x.First {
						out = append(out, x.Board)
					}
				}
			}
		}
	}
	for _, b := range v.Boards {
		if !b.InOrder {
			out = append(out, b)
		}
	}
	return out
}
