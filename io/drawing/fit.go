package drawing

import "slices"

// Texts in their pieces. A piece has several wordings, the fullest first. The first that fits is
// written: lengthwise or turned, in smaller letters, or with its names cut.

// run is a stretch of a line; a name may be cut.
type run struct {
	text string
	name bool
}

// words is one way to write what a piece is. The letter stands before its first line. Short says
// that something is left out.
type words struct {
	letter string
	lines  [][]run
	short  bool
}

// full words all that a piece is, in three lines, two or one. After is what follows a name that
// may be cut, such as the number of a copy.
func full(letter, who, what, after, size string) []words {
	first := []run{{who, true}}
	var second []run
	if what != "" {
		second = append(second, run{what, true})
	}
	if after != "" && what != "" {
		after = " " + after
	}
	if after != "" {
		second = append(second, run{after, false})
	}
	third := []run{{size, false}}
	if second == nil {
		return []words{{letter: letter, lines: [][]run{first, third}},
			{letter: letter, lines: [][]run{joined(first, third)}}}
	}
	return []words{{letter: letter, lines: [][]run{first, second, third}},
		{letter: letter, lines: [][]run{joined(first, second), third}},
		{letter: letter, lines: [][]run{joined(first, second, third)}}}
}

// plain is a wording of one line each that is never cut.
func plain(letter string, short bool, lines ...string) words {
	out := words{letter: letter, short: short}
	for _, l := range lines {
		out.lines = append(out.lines, []run{{l, false}})
	}
	return out
}

// joined is one line of several, with commas between.
func joined(lines ...[]run) (out []run) {
	for i, l := range lines {
		if i > 0 {
			out = append(out, run{", ", false})
		}
		out = append(out, l...)
	}
	return out
}

// written says how much of a piece is written in it.
type written int

const (
	notAtAll written = iota
	inPart
	inFull
)

// setting is how a wording is written.
type setting struct {
	size       int  // of the text
	cut, short bool // names may be cut; the short wordings
	up         bool // turned
}

// fit writes the best wording that has room in a piece.
func (k *sketch) fit(r Rect, list []words) written {
	rooms := k.rooms(r)
	for _, level := range []setting{{size: k.opt.Text}, {size: k.small()},
		{size: k.opt.Text, cut: true}, {size: k.opt.Text, short: true},
		{size: k.small(), short: true}} {
		for _, w := range list {
			if w.short != level.short {
				continue
			}
			if whole, ok := k.writeAny(rooms, w, level); ok && whole && !w.short {
				return inFull
			} else if ok {
				return inPart
			}
		}
	}
	return notAtAll
}

// writeAny writes a wording into the first of some rooms in which it fits, lengthwise rather than
// turned.
func (k *sketch) writeAny(rooms []Rect, w words, how setting) (whole, ok bool) {
	for _, how.up = range []bool{false, true} {
		for _, room := range rooms {
			if how.up && room.High <= room.Wide {
				continue
			}
			if whole, ok := k.write(room, w, how); ok {
				return whole, true
			}
		}
	}
	return false, false
}

// rooms are where in a piece a text may stand: between the spots; else on them, but not on texts.
func (k *sketch) rooms(r Rect) []Rect {
	var spots, texts []Rect
	for _, d := range k.b.Noted {
		if s := k.spot(d); s.overlaps(r, 0) {
			spots = append(spots, s)
		}
	}
	for _, t := range k.taken {
		if t.overlaps(r, 0) {
			texts = append(texts, t)
		}
	}
	out := gaps(r, append(spots, texts...))
	if len(spots) > 0 {
		out = append(out, gaps(r, texts)...)
	}
	return out
}

// gaps are what is left of a rectangle between others, along the board, the longest first.
func gaps(r Rect, others []Rect) (out []Rect) {
	slices.SortFunc(others, func(a, b Rect) int { return a.X - b.X })
	from, end := r.X, r.X+r.Wide
	add := func(to int) {
		if to > from {
			out = append(out, Rect{X: from, Y: r.Y, Wide: to - from, High: r.High})
		}
	}
	for _, o := range others {
		add(min(o.X, end))
		from = max(from, o.X+o.Wide)
	}
	add(end)
	slices.SortStableFunc(out, func(a, b Rect) int { return b.Wide - a.Wide })
	return out
}

// write writes a wording into a room where it fits there; whole says that nothing is cut.
func (k *sketch) write(room Rect, w words, how setting) (whole, ok bool) {
	wide, high := room.Wide-2*pad, room.High-pad
	if how.up {
		wide, high = room.High-2*pad, room.Wide-pad
	}
	size := how.size
	if deep := (len(w.lines)-1)*pitch(size) + size; wide <= 0 || deep > high {
		return false, false
	}
	indent := 0
	if w.letter != "" {
		indent = TextWidth(w.letter, true, size)
		if w.lines[0] != nil && w.lines[0][0].text != "" {
			indent += size / 2
		}
	}
	var lines []string
	whole = true
	for i, l := range w.lines {
		most := wide
		if i == 0 {
			most -= indent
		}
		text, all, fits := how.line(l, most)
		if !fits {
			return false, false
		}
		whole = whole && all
		lines = append(lines, text)
	}
	k.block(room, w.letter, indent, lines, how)
	return whole, true
}

// fewestLetters of a name stand before its ellipsis.
const fewestLetters = 6

// line sets a line that is at most wide, its names cut where that is allowed.
func (h setting) line(l []run, wide int) (text string, all, fits bool) {
	size, names, rest := h.size, []int(nil), wide
	for _, x := range l {
		text += x.text
		if x.name {
			names = append(names, TextWidth(x.text, false, size))
		} else {
			rest -= TextWidth(x.text, false, size)
		}
	}
	if TextWidth(text, false, size) <= wide {
		return text, true, wide >= 0
	}
	if !h.cut || len(names) == 0 {
		return "", false, false
	}
	room := shares(names, rest)
	text = ""
	for _, x := range l {
		if !x.name {
			text += x.text
			continue
		}
		short, n := CutTo(x.text, false, size, room[0])
		if room = room[1:]; short != x.text && n < fewestLetters {
			return "", false, false
		}
		text += short
	}
	// widths are rounded up one by one
	return text, false, TextWidth(text, false, size) <= wide
}

// shares deals room out to one name or two: as much as it needs to one that needs less than half.
func shares(names []int, room int) []int {
	if len(names) == 1 {
		return []int{room}
	}
	if names[0] <= room/2 {
		return []int{names[0], room - names[0]}
	}
	if names[1] <= room/2 {
		return []int{room - names[1], names[1]}
	}
	return []int{room / 2, room / 2}
}

// block writes lines in the middle of a room, the letter in bold before the first.
func (k *sketch) block(room Rect, letter string, indent int, lines []string, how setting) {
	deep := (len(lines)-1)*pitch(how.size) + how.size
	for i, line := range lines {
		head := Text{Size: how.size, Up: how.up}
		head.Wide = TextWidth(line, false, how.size)
		down := i*pitch(how.size) + how.size*above/100 - deep/2 // of its baseline, from the middle
		if i == 0 {
			head.Wide += indent
		}
		head.X, head.Y = room.X+room.Wide/2-head.Wide/2, room.Y+room.High/2+down
		if how.up {
			head.X, head.Y = room.X+room.Wide/2+down, room.Y+room.High/2+head.Wide/2
		}
		k.paper(&head)
		rest := head
		if i == 0 && letter != "" {
			head.Bold, head.Text = true, letter
			head.Wide = TextWidth(letter, true, how.size)
			k.texts = append(k.texts, &head)
			if how.up {
				rest.Y -= indent
			} else {
				rest.X += indent
			}
		}
		if rest.Text = line; line != "" {
			rest.Wide = TextWidth(line, false, how.size)
			k.texts = append(k.texts, &rest)
		}
	}
}

// paper puts paper under a text: there may be a hatch or a line. Nothing else may be written there.
func (k *sketch) paper(t *Text) {
	const rim = 250
	box := t.Box()
	k.taken = append(k.taken, box)
	if t.Up {
		box.Y, box.High = box.Y-rim, box.High+2*rim
	} else {
		box.X, box.Wide = box.X-rim, box.Wide+2*rim
	}
	box.Fill = Paper
	k.papers = append(k.papers, &box)
}
