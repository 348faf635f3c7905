package benchmarks

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing/fstest"

	"rackwright/io/folder"
	"rackwright/model"
)

const (
	mm = model.UnitsPerMillimetre
	m  = 1000 * mm // a metre
)

// mostDraws is how many jobs a seed draws before it gives up; one in five is legal, or more.
const mostDraws = 200

// extreme is a job of extreme settings being drawn.
type extreme struct {
	rng    *rand.Rand
	units  model.Unit
	grid   model.Length // what lengths are multiples of; 0: each of a grid of its own
	longer bool         // a part may be longer than any board
	woods  []extremeWood
	boards []string // ids on the rack
	rows   map[string][][]string
}

// extremeWood is one material and section, as its boards come.
type extremeWood struct {
	material, section, surface string
	thickness, width           model.Length
	longest                    model.Length // of its boards
}

// Extreme gives the files of a small job, of 1 to 40 pieces, whose settings and sizes are legal and
// at the ends of what is legal:
//
//   - boards of 5 to 20 m, some of a hand's length among them, up to the greatest width;
//   - sizes on any grid, from whole inches and millimetres to 1/320 mm, mixed in some jobs;
//   - kerfs of 0.1 to 20 mm, 0 and 1 in; margins up to 10 m; trims longer than boards;
//   - safe sizes, keep lengths and allowances of 0 or of many metres;
//   - prices, handling and rips of the smallest amount and of the greatest;
//   - defects that touch, overlap, cover each other or the whole board.
//
// A job that the program would refuse is thrown away and drawn anew; thrown says how many were.
func Extreme(seed int64) (files map[string][]byte, thrown int) {
	rng := rand.New(rand.NewPCG(uint64(seed), 2))
	for ; thrown < mostDraws; thrown++ {
		files = drawExtreme(rng)
		if _, _, err := folder.ReadJob(FS(files)); err == nil {
			return files, thrown
		}
	}
	panic(fmt.Sprintf("seed %d: %d jobs and none is legal", seed, mostDraws))
}

// WriteExtreme writes such a job as a job folder.
func WriteExtreme(dir string, seed int64) error {
	files, _ := Extreme(seed)
	return writeFiles(dir, files)
}

// FS is a job folder in memory.
func FS(files map[string][]byte) fstest.MapFS {
	out := fstest.MapFS{}
	for name, data := range files {
		out[name] = &fstest.MapFile{Data: data, Mode: 0o644}
	}
	return out
}

func drawExtreme(rng *rand.Rand) map[string][]byte {
	e := &extreme{rng: rng, rows: map[string][][]string{}}
	e.units = pick(e, model.Inch, model.Millimetre)
	e.grid = pick[model.Length](e, mm, model.UnitsPerInch/32, model.UnitsPerInch/8, mm/10, 1, 1, 0,
		0)
	e.longer = e.one(10)
	files := map[string][]byte{"shop.toml": e.shop(),
		"commissions.csv": []byte("commission,due\nbench,2027-03-05\nchest,\n")}
	e.wood("beech", "")
	if e.one(3) {
		e.wood(pick(e, "beech", "larch"), e.woods[0].section)
	}
	for range e.rng.IntN(9) {
		e.board()
	}
	for range e.rng.IntN(5) {
		e.offer()
	}
	e.parts()
	for name, header := range map[string]string{
		"rack.csv": "board,material,section,length,qty,width,thickness,surface,value,since,for," +
			"untouched,longest",
		"defects.csv": "board,from,to,kind,left,right",
		"yard.csv":    "material,section,length,price,available,width,thickness,surface",
		"parts.csv":   "commission,part,qty,material,length,width,thickness,section,face,board",
	} {
		files[name] = table(strings.Split(header, ","), e.rows[name])
	}
	return files
}

// pick draws one of a few.
func pick[T any](e *extreme, of ...T) T { return of[e.rng.IntN(len(of))] }

// one is true once in n times.
func (e *extreme) one(n int) bool { return e.rng.IntN(n) == 0 }

// upTo draws a length from 1 unit to most, evenly by its size or by its number of digits, on the
// grid where there is room for it.
func (e *extreme) upTo(most model.Length) model.Length {
	if most <= 1 {
		return 1
	}
	l := 1 + model.Length(e.rng.Int64N(int64(most)))
	if e.one(2) {
		l = model.Length(math.Exp(e.rng.Float64() * math.Log(float64(most))))
	}
	return e.onGrid(l, most)
}

// between draws a length evenly from least to most, on the grid where there is room for it.
func (e *extreme) between(least, most model.Length) model.Length {
	return max(least, e.onGrid(least+model.Length(e.rng.Int64N(int64(most-least)+1)), most))
}

func (e *extreme) onGrid(l, most model.Length) model.Length {
	grid := e.grid
	if grid == 0 {
		grid = pick[model.Length](e, 1, mm/10, mm, model.UnitsPerInch/64, model.UnitsPerInch)
	}
	if l = (l + grid - 1) / grid * grid; l > most {
		l = l - grid
	}
	return min(max(1, l), most)
}

// text writes a length in one of the units, so that it reads back as it is.
func (e *extreme) text(l model.Length) string {
	switch e.rng.IntN(8) {
	case 0:
		return plain(l.Decimal(model.Millimetre)) + "mm"
	case 1:
		return plain(l.Decimal(model.Inch)) + " in"
	}
	return plain(l.Decimal(e.units))
}

// plain adds a nought to three decimals, which the program takes to be a thousand or a fraction.
func plain(number string) string {
	if _, decimals, _ := strings.Cut(number, "."); len(decimals) == 3 {
		number += "0"
	}
	return number
}

func (e *extreme) money(most model.Money) string {
	amount := pick(e, 1+model.Money(e.rng.IntN(20)), most-model.Money(e.rng.IntN(20)),
		1+model.Money(e.rng.Int64N(int64(most/1000))))
	return plain(amount.String())
}

// shop draws shop.toml.
func (e *extreme) shop() []byte {
	var b strings.Builder
	line := func(key, value string) { fmt.Fprintf(&b, "%s = %s\n", key, value) }
	line("units", strconv.Quote(string(e.units)))
	line("batch", `"x"`)
	for _, l := range new(model.Settings).Lengths() {
		room, _, _ := strings.Cut(l.Key, ".")
		if slices.Contains([]string{"glue_up", "gang", "machine", "count"}, room) {
			continue // no plan hangs on it
		}
		line(l.Key, strconv.Quote(e.text(e.setting(l.Key))))
	}
	share := func() string { return pick(e, "0.0", "0.000001", "0.5", "0.999983", "1.0") }
	line("offcut.value", share())
	line("offcut.strip_value", share())
	if e.one(3) {
		line("handling.board", strconv.Quote(e.money(model.DearestBoard)))
	}
	if e.one(3) {
		line("handling.rip", strconv.Quote(e.money(model.DearestRip)))
	}
	line("rip.trimming_cut", strconv.FormatBool(!e.one(3)))
	line("defects.weak", pick(e, `[]`, `["split"]`, `["split", "check", "sound knot"]`))
	return []byte(b.String())
}

// setting draws a length of the settings.
func (e *extreme) setting(key string) model.Length {
	none := e.one(2)
	switch room, name, _ := strings.Cut(key, "."); {
	case room == "kerf":
		return pick(e, 0, model.WidestKerf, mm/10, 20*mm, e.between(mm/10, 20*mm),
			e.between(mm/10, 5*mm), e.between(mm, 4*mm), e.between(mm, 4*mm))
	case name == "plane_limit":
		return model.LongestLength
	case none:
		return 0
	case name == "margin":
		return pick(e, e.upTo(20*mm), e.upTo(20*mm), e.upTo(200*mm), e.upTo(10*m))
	case room == "trim":
		return pick(e, e.upTo(50*mm), e.upTo(50*mm), e.upTo(50*mm), e.upTo(m), e.upTo(25*m))
	case name == "length": // what blanks have more than parts
		return pick(e, e.upTo(30*mm), e.upTo(30*mm), e.upTo(m))
	case room == "allowance":
		return pick(e, e.upTo(5*mm), e.upTo(5*mm), e.upTo(100*mm))
	case name == "narrowest_rip", name == "keep_width":
		return pick(e, 1, e.upTo(60*mm), e.upTo(60*mm), e.upTo(2*m))
	}
	return pick(e, 1, e.upTo(m), e.upTo(m), e.upTo(m), e.upTo(5*m), e.upTo(model.LongestLength))
}

// wood draws a wood of a material, of another section than not.
func (e *extreme) wood(material, not string) {
	w := extremeWood{material: material, thickness: 20 * mm}
	switch e.rng.IntN(6) {
	case 0:
		w.section, w.thickness, w.width = "2x10", 3*model.UnitsPerInch/2, 37*model.UnitsPerInch/4
	case 1:
		w.section, w.surface = "8/4", "S2S"
		w.width = e.between(40*mm, 400*mm)
	case 2:
		w.width = model.WidestBoard
	case 3:
		w.thickness, w.width = mm, mm+e.upTo(20*mm)
	default:
		w.width = 20*mm + e.upTo(pick[model.Length](e, 100*mm, 300*mm, 1580*mm))
	}
	if w.section == "" {
		tenths := (w.width + mm/10 - 1) / (mm / 10) * (mm / 10)
		w.section = w.thickness.Decimal(model.Millimetre) + "x" + tenths.Decimal(model.Millimetre) +
			"mm"
	}
	if w.section != not {
		e.woods = append(e.woods, w)
	}
}

// long draws the length of a board.
func (e *extreme) long(w *extremeWood) model.Length {
	l := pick(e, e.between(5*m, model.LongestBoard), e.between(5*m, model.LongestBoard),
		e.between(5*m, 6*m), model.LongestBoard, e.upTo(2*m))
	w.longest = max(w.longest, l)
	return l
}

// wide draws the width of a board: of some an empty cell, so that it is the section's.
func (e *extreme) wide(w *extremeWood) (model.Length, string) {
	width := w.width
	if e.one(4) {
		width = e.between(max(1, w.width/2), min(model.WidestBoard, w.width+w.width/4))
	}
	return width, e.text(width)
}

// board draws a row of the rack, of one board or of some that are alike.
func (e *extreme) board() {
	w := &e.woods[e.rng.IntN(len(e.woods))]
	id := fmt.Sprint("B", len(e.boards)+1)
	e.boards = append(e.boards, id)
	length := e.long(w)
	width, cell := e.wide(w)
	row := []string{id, w.material, w.section, e.text(length), "", cell, e.text(w.thickness),
		w.surface, "", "", "", "", ""}
	if e.one(5) {
		row[4] = strconv.Itoa(2 + e.rng.IntN(20))
	}
	if e.one(3) {
		row[8] = pick(e, "0", e.money(model.DearestBoard))
	}
	row[9] = pick(e, "", "2026-01-31", "2027-02-28")
	row[10] = pick(e, "", "", "", "", "", "bench")
	row[11] = pick(e, "", "", "", "", "", "", "", "yes")
	if e.one(8) {
		row[12] = e.text(e.upTo(length))
	}
	e.rows["rack.csv"] = append(e.rows["rack.csv"], row)
	if e.one(3) || row[4] != "" {
		return
	}
	var before *model.Rect
	for range 1 + e.upTo(20) {
		r := e.defect(before, model.Rect{To: length, Right: width})
		before = &r
		row := []string{id, e.text(r.From), e.text(r.To),
			pick(e, "sound knot", "check", "split", "stain", "wane"), "", ""}
		if r.Left > 0 || r.Right < width || e.one(2) {
			row[4], row[5] = e.text(r.Left), e.text(r.Right)
		}
		e.rows["defects.csv"] = append(e.rows["defects.csv"], row)
	}
}

// defect draws a rectangle inside a board, often in touch with the one before.
func (e *extreme) defect(before *model.Rect, board model.Rect) (r model.Rect) {
	if e.one(40) {
		return board
	}
	for _, a := range []model.Axis{model.Along, model.Across} {
		whole := board.On(a).To
		s := model.Span{To: whole}
		switch most := pick(e, whole, min(whole, 300*mm), min(whole, 40*mm), 1); {
		case a == model.Across && e.one(3): // from edge to edge
		case before != nil && e.one(3): // begins where the other ends, or a unit off it
			end := before.On(a).To - model.Length(e.rng.IntN(3)-1)
			s.From = min(max(0, end), whole-1)
			s.To = s.From + e.upTo(min(most, whole-s.From))
		case before != nil && e.one(3): // inside the other
			s = before.On(a)
			s.To = s.From + e.upTo(s.To-s.From)
		case before != nil && e.one(4): // around it
			s = before.On(a)
			s.From, s.To = max(0, s.From-e.upTo(most)), min(whole, s.To+e.upTo(most))
		default:
			length := e.upTo(most)
			s.From = pick(e, 0, whole-length, e.between(0, whole-length))
			s.To = s.From + length
		}
		r = r.With(a, s)
	}
	return r
}

// offer draws a row of the yard.
func (e *extreme) offer() {
	w := &e.woods[e.rng.IntN(len(e.woods))]
	length := e.long(w)
	_, cell := e.wide(w)
	available := pick(e, "", "", "", "0", "1", "3", "1000000")
	e.rows["yard.csv"] = append(e.rows["yard.csv"], []string{w.material, w.section, e.text(length),
		e.money(model.DearestBoard), available, cell, e.text(w.thickness), w.surface})
}

// parts draws the cut list.
func (e *extreme) parts() {
	var widths, lengths []model.Length
	for left, n := 1+e.rng.IntN(40), 1; left > 0; n++ {
		qty := min(left, pick(e, 1, 1, 2, 3, 5, 8, 40))
		left -= qty
		w := &e.woods[e.rng.IntN(len(e.woods))]
		long := max(w.longest, 10*mm)
		length := pick(e, e.upTo(long), e.upTo(long), e.between(long/8, long/2),
			e.between(long/8, long/2), long/model.Length(1+e.rng.IntN(9)), 1)
		width := pick(e, w.width, w.width, w.width/2, e.upTo(w.width), e.upTo(w.width),
			max(1, w.width/model.Length(2+e.rng.IntN(5))-e.upTo(10*mm)))
		if len(lengths) > 0 && e.one(4) { // of a size met before, or a unit off it
			length = lengths[e.rng.IntN(len(lengths))] + model.Length(e.rng.IntN(3)-1)
		}
		if len(widths) > 0 && e.one(3) {
			width = widths[e.rng.IntN(len(widths))]
		}
		if e.longer && e.one(3) {
			length = model.LongestLength - e.upTo(m)
		}
		lengths, widths = append(lengths, max(1, length)), append(widths, width)
		row := []string{pick(e, "bench", "chest"), fmt.Sprint("part ", n), strconv.Itoa(qty),
			w.material, e.text(max(1, length)), e.text(max(1, width)), e.text(w.thickness), "",
			model.Face(e.rng.IntN(model.Faces)).String(), ""}
		if e.one(3) {
			row[7] = w.section
		}
		if len(e.boards) > 0 && e.one(12) {
			row[9] = pick(e, e.boards...)
		}
		e.rows["parts.csv"] = append(e.rows["parts.csv"], row)
	}
	slices.Reverse(e.rows["parts.csv"])
}
