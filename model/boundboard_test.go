package model

import (
	"math/rand/v2"
	"testing"
)

// plain is the recursion at the head of boundboard.go, letter by letter, with each run's ends tried one by one.
type plain struct {
	bar    *bar
	items  []wanted
	kerf   Length
	step   Length
	scale  int64
	linked bool
	memo   map[[3]int64]int64
}

func (p *plain) w(t Length) int64 { return int64(p.bar.rate.Of(t, p.bar.keep)) }

// inside gives the end of the block of overlapping or touching spots around x; 0 where x is clear.
func (p *plain) inside(x Length) (end Length) {
	in := false
	for _, s := range p.bar.spots {
		in = in || s.From <= x && x < s.To
	}
	if !in {
		return 0
	}
	for again := true; again; {
		again = false
		for _, s := range p.bar.spots {
			if s.From <= max(x, end) && s.To > max(x, end) {
				end, again = s.To, true
			}
		}
	}
	return end
}

func (p *plain) fits(i wanted, x Length) bool {
	if x+i.length > p.bar.to {
		return false
	}
	for _, s := range p.bar.spots {
		if !s.tolerated[i.face] && s.From < x+i.length && x < s.To {
			return false
		}
	}
	return true
}

func (p *plain) free(b int, x Length) int64 {
	most := p.f(b, x+p.step)
	for _, i := range p.items {
		if p.fits(i, x) {
			most = max(most, i.dual+p.f(b, x+i.length+p.kerf))
		}
	}
	return most
}

func (p *plain) afterKerf(b int, x Length) int64 {
	if p.kerf == 0 {
		return p.free(b, x)
	}
	return p.f(b, x+p.kerf)
}

func (p *plain) f(b int, x Length) int64 {
	if x >= p.bar.to {
		return 0
	}
	key := [3]int64{0, int64(b), int64(x)}
	v, known := p.memo[key]
	if !known {
		v = max(p.free(b, x), p.g(b, x))
		p.memo[key] = v
	}
	return v
}

func (p *plain) g(b int, x Length) int64 {
	if x >= p.bar.to {
		return 0
	}
	if p.inside(x) > 0 {
		return p.d(b, x)
	}
	key := [3]int64{1, int64(b), int64(x)}
	if v, known := p.memo[key]; known {
		return v
	}
	e := p.bar.to
	for _, s := range p.bar.spots {
		if s.From > x {
			e = min(e, s.From)
		}
	}
	paid := func(t Length) (int64, int) {
		if p.linked && t > p.bar.keep && p.bar.rate.Num > 0 {
			return (p.w(t) + int64(b)) * p.scale, 1
		}
		return p.w(t) * p.scale, b
	}
	most := p.afterKerf(b, x)
	for r := x + p.step; r < e; r += p.step {
		v, then := paid(r - x)
		most = max(most, v+p.f(then, r+p.kerf))
	}
	v, then := paid(e - x)
	if e < p.bar.to {
		v += p.d(then, e)
	}
	most = max(most, v)
	p.memo[key] = most
	return most
}

func (p *plain) d(b int, x Length) int64 {
	key := [3]int64{2, int64(b), int64(x)}
	if v, known := p.memo[key]; known {
		return v
	}
	end := p.inside(x)
	most := p.afterKerf(b, x)
	switch {
	case x+p.step < end:
		most = max(most, p.d(b, x+p.step))
	case end < p.bar.to:
		most = max(most, p.g(0, end))
	}
	p.memo[key] = most
	return most
}

func plainBest(b *bar, items []wanted, kerf Length, scale int64) int64 {
	if b.to <= b.from {
		return 0
	}
	p := &plain{bar: b, items: items, kerf: kerf, step: Length(b.step(items, kerf)), scale: scale, linked: b.linked(items, kerf), memo: map[[3]int64]int64{}}
	return p.f(0, b.from)
}

// layouts tries every layout of a board at single units of length, and judges each gap by design part 4: less a kerf
// on each side that faces a piece it is one offcut if it is long enough and some face could use a run of it.
type layouts struct {
	bar   *bar
	items []wanted
	kerf  Length
	scale int64
	memo  map[Length]int64
}

func (l *layouts) credit(from, to Length, before, after bool) int64 {
	if before {
		from += l.kerf
	}
	if after {
		to -= l.kerf
	}
	if to <= from || to-from < l.bar.keep {
		return 0
	}
	usable := false
	for f := Show; f < Faces; f++ {
		for x, run := from, Length(0); x < to; x++ {
			run++
			for _, s := range l.bar.spots {
				if !s.tolerated[f] && s.From <= x && x < s.To {
					run = 0
				}
			}
			usable = usable || run >= max(1, l.bar.keep)
		}
	}
	if !usable {
		return 0
	}
	sum, run := int64(0), Length(0)
	for x := from; x <= to; x++ {
		clear := x < to
		for _, s := range l.bar.spots {
			clear = clear && !(s.From <= x && x < s.To)
		}
		if clear {
			run++
			continue
		}
		sum += max(0, l.bar.rate.Num*int64(run-l.bar.keep)) / l.bar.rate.Den
		run = 0
	}
	return sum * l.scale
}

// after is the most that pieces and gaps beyond a piece that ends at x can give.
func (l *layouts) after(x Length, first bool) int64 {
	if v, known := l.memo[x]; known && !first {
		return v
	}
	most := l.credit(x, l.bar.to, !first, false)
	from := x + l.kerf
	if first {
		from = x
	}
	for at := from; at <= l.bar.to; at++ {
		gap, known := int64(0), false
		for _, i := range l.items {
			clear := at+i.length <= l.bar.to
			for _, s := range l.bar.spots {
				clear = clear && (s.tolerated[i.face] || at+i.length <= s.From || s.To <= at)
			}
			if !clear {
				continue
			}
			if !known {
				gap, known = l.credit(x, at, !first, true), true
			}
			most = max(most, gap+i.dual+l.after(at+i.length, false))
		}
	}
	if !first {
		l.memo[x] = most
	}
	return most
}

func pick[T any](r *rand.Rand, from ...T) T { return from[r.IntN(len(from))] }

// randomBar is a small board with spots of all sorts, in units of which all lengths are a multiple.
func randomBar(r *rand.Rand, longest int, unit Length) (bar, []wanted, Length, int64) {
	n := Length(1 + r.IntN(longest))
	trim := Length(r.IntN(3))
	b := bar{from: trim * unit, to: (trim + n) * unit, keep: Length(r.IntN(6)) * unit, cost: Money(r.IntN(100))}
	if r.IntN(4) == 0 {
		b.keep += Length(r.IntN(int(unit))) // keep and rate need not be on the grid
	}
	b.rate = pick(r, NewRate(0, 1), NewRate(1, 1), NewRate(1, 5), NewRate(5, 7), NewRate(7, 3), NewRate(13, 11), NewRate(1000, 37), NewRate(3, 10), NewRate(97, 89))
	for range r.IntN(5) {
		from := Length(r.IntN(int(n)))
		to := min(n, from+1+Length(r.IntN(4)))
		s := spot{Span: Span{b.from + from*unit, b.from + to*unit}}
		s.tolerated = pick(r, [Faces]bool{}, [Faces]bool{}, [Faces]bool{false, false, true}, [Faces]bool{false, true, true})
		b.spots = append(b.spots, s)
	}
	kerf := Length(r.IntN(4)) * unit
	scale := pick(r, int64(1), 2, 3, 10)
	var items []wanted
	for range r.IntN(4) {
		length := Length(1 + r.IntN(7))
		worth := int64(length) * int64(unit) * b.rate.Num * scale / b.rate.Den
		items = append(items, wanted{length * unit, Face(r.IntN(Faces)), r.Int64N(2*worth + 5)})
	}
	return b, items, kerf, scale
}

// The fast form of the recursion gives what the plain one gives.
func TestBestIsThePlainRecursion(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 5))
	var table table
	for n := range 4000000 {
		b, items, kerf, scale := randomBar(r, 40, Length(pick(r, 1, 1, 2, 5)))
		got, want := table.best(&b, items, kerf, scale), plainBest(&b, items, kerf, scale)
		if got != want {
			t.Fatalf("board %d: got %d, the plain recursion gives %d: %+v items %v kerf %d scale %d", n, got, want, b, items, kerf, scale)
		}
	}
}

// No layout, on the grid or off it, gives more than best says; and where no piece is linked, best is exact.
func TestBestIsNeverBelowAnyLayout(t *testing.T) {
	r := rand.New(rand.NewPCG(77, 5))
	var table table
	for n := range 4000000 {
		unit := Length(pick(r, 1, 2, 3, 4))
		b, items, kerf, scale := randomBar(r, 60/int(unit), unit)
		l := layouts{bar: &b, items: items, kerf: kerf, scale: scale, memo: map[Length]int64{}}
		got, want := table.best(&b, items, kerf, scale), l.after(b.from, true)
		switch linked := b.linked(items, kerf); {
		case got < want:
			t.Fatalf("board %d: best is %d, yet a layout gives %d: %+v items %v kerf %d scale %d", n, got, want, b, items, kerf, scale)
		case got > want && !linked:
			t.Fatalf("board %d: best is %d, no layout gives more than %d: %+v items %v kerf %d scale %d", n, got, want, b, items, kerf, scale)
		}
	}
}
