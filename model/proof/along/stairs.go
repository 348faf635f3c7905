package along

import "sort"

// Stairs say what pieces give by the length that they may take.
//
//	T         a length for pieces, each with a kerf
//	stairs    the T at which the greatest sum of duals rises, and what it then is
//	s(T)      that sum: of the last step at or before T
//
// Between two steps nothing more goes in that counts. So a board has some dozens of steps, whatever
// measure its lengths share, and everything that would go unit by unit goes step by step.
//
// More than mostSteps steps are halved: two neighbours become one that rises at the first to the
// height of the second. What is worked out over them is then never too low.

const mostSteps = 1 << 20

// stair is a step: from the length on there is so much.
type stair struct{ from, gives int64 }

// addItem adds an item of an advance, that is its length and a kerf, with no more copies than
// wanted: to the stairs of one piece or more where empty is false, else to those that begin with no
// piece. No T is above most.
func addItem(s []stair, advance, dual, copies, most int64, empty bool) []stair {
	copies = min(copies, most/advance)
	for n := int64(1); copies > 0; n *= 2 { // 1, 2, 4 ... copies and the rest make every number
		n = min(n, copies)
		copies -= n
		s = climb(s, n*advance, n*dual, most, empty)
	}
	return s
}

// climb gives the stairs where something may be added once, that takes a length and gives a value.
func climb(s []stair, takes, gives, most int64, empty bool) []stair {
	if takes > most {
		return s
	}
	with := make([]stair, 0, len(s)+1)
	if !empty {
		with = append(with, stair{takes, gives})
	}
	for _, a := range s {
		if a.from+takes <= most {
			with = append(with, stair{a.from + takes, a.gives + gives})
		}
	}
	out := make([]stair, 0, len(s)+len(with))
	for len(s)+len(with) > 0 {
		from := &s
		if len(s) == 0 || len(with) > 0 && with[0].from < s[0].from {
			from = &with
		}
		if n := len(out); n == 0 || (*from)[0].gives > out[n-1].gives {
			if n > 0 && out[n-1].from == (*from)[0].from {
				n--
			}
			out = append(out[:n], (*from)[0])
		}
		*from = (*from)[1:]
	}
	if len(out) > mostSteps {
		out = halved(out)
	}
	return out
}

// halved joins steps in pairs.
func halved(s []stair) []stair {
	out := s[:0]
	for len(s) > 0 {
		n := min(2, len(s))
		out = append(out, stair{s[0].from, s[n-1].gives})
		s = s[n:]
	}
	return out
}

// slide is the most that a length of t can give, pieces and one offcut behind them, as a function
// of t: by bends, from each of which on it is the greater of flat and rise + slope t.
type slide struct {
	slope int64
	bends []bend
}

type bend struct{ from, flat, rise int64 }

// newSlide takes in the offcut: its kerf towards the pieces is part of the t, and it is worth slope
// for each unit beyond keep. There is a step at 0.
func newSlide(s []stair, slope, kerf, keep int64) slide {
	out := slide{slope: slope}
	now := bend{0, 0, nowhere}
	for i, j := 0, 0; i < len(s) || j < len(s); {
		if i < len(s) && s[i].from <= s[j].from+kerf+keep {
			now.from, now.flat = s[i].from, s[i].gives
			i++
		} else {
			now.from = s[j].from + kerf + keep
			now.rise = max(now.rise, s[j].gives-slope*now.from)
			j++
		}
		if n := len(out.bends); n > 0 && out.bends[n-1].from == now.from {
			out.bends[n-1] = now
		} else if n == 0 || now != (bend{now.from, out.bends[n-1].flat, out.bends[n-1].rise}) {
			out.bends = append(out.bends, now)
		}
	}
	return out
}

// at is the most at t, at least 0.
func (s *slide) at(t int64) int64 {
	b := s.bends[sort.Search(len(s.bends), func(i int) bool { return s.bends[i].from > t })-1]
	if b.rise == nowhere {
		return b.flat
	}
	return max(b.flat, b.rise+s.slope*t)
}
