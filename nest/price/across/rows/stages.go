package rows

import (
	"slices"

	"rackwright/nest/price/counts"
)

// Stage is a thing of one size, and the rows that it may hold, best first.
type Stage struct {
	Size int64 // a kerf behind it included
	Rows []Row
}

// Stages lists rows of things that hold rows themselves. The order of things is free, so that they
// are put stage by stage.
//
// A state is what has been put so far: counts, the room that is left, and a value. Of states with
// the same counts one is enough that leaves as much room and is worth as much. One that leaves more
// room must be worth more by Edge: a row may gain so much where it leaves none.
type Stages struct {
	Form  *counts.Form
	All   []Stage
	Tails *Tails                 // of the stages
	End   func(room int64) int64 // what a row is worth behind its last thing
	Edge  int64
	Need  int64
	Most  int // sets of counts on the list; past them it is too long
	Limit *Limit

	set    *counts.Set
	last   []int32 // by number of the counts: the state that was made last
	states states
	listed int
}

// state is a row under way.
type state struct {
	counts      int32 // their number
	next        int32 // another state of the same counts; -1: there is none
	before      int32 // the state that it was made from
	stage, row  int32 // what was put last
	room, value int64
	idle        bool // another one is as good
	enough      bool // it is on the list, or one before it of the same counts is
}

// states keeps many of them in blocks: none is moved once there are more than one block holds.
type states struct {
	n      int
	blocks [][]state
}

const inBlock = 1 << 12

func (l *states) at(n int) *state { return &l.blocks[n/inBlock][n%inBlock] }

func (l *states) add(s state) {
	if l.n == len(l.blocks)*inBlock {
		var block []state
		if l.n > 0 { // most lists are short
			block = make([]state, 0, inBlock)
		}
		l.blocks = append(l.blocks, block)
	}
	last := &l.blocks[len(l.blocks)-1]
	*last = append(*last, s)
	l.n++
}

// List finds the rows in so much room that are worth at least Need; false where they are too many,
// or the limit is spent.
func (s *Stages) List(room int64) bool {
	s.set = counts.NewSet(s.Form)
	none := s.Form.None()
	s.set.Put(none)
	s.last, s.states = []int32{0}, states{}
	s.states.add(state{next: -1, before: -1, room: room})
	sum := s.Form.None()
	for g := range s.All {
		stage := &s.All[g]
		if len(stage.Rows) == 0 {
			continue
		}
		for n := 0; n < s.states.n; n++ {
			from := *s.states.at(n)
			if from.idle || from.room < stage.Size {
				continue
			}
			room := from.room - stage.Size
			least := s.Need - from.value - s.Tails.Most(g, room)
			has := s.set.At(int(from.counts))
			for m := range stage.Rows {
				row := &stage.Rows[m]
				if row.Value < least {
					break
				}
				s.Limit.Steps -= stepsOfSum
				if !s.Form.Sum(sum, has, row.Counts) {
					continue
				}
				s.put(sum, state{before: int32(n), stage: int32(g), row: int32(m), room: room,
					value: from.value + row.Value})
			}
			if !s.Limit.Take(stepsOfSum, 0) || s.listed > s.Most {
				return false
			}
		}
	}
	return true
}

// put keeps a state, unless another one is as good.
func (s *Stages) put(c counts.Counts, made state) {
	number, fresh := s.set.Put(c)
	made.counts, made.next = int32(number), -1
	if fresh {
		s.last = append(s.last, -1)
	}
	for n := s.last[number]; n >= 0; {
		other := s.states.at(int(n))
		n = other.next
		if s.asGood(other, &made) {
			return
		}
		other.idle = other.idle || s.asGood(&made, other)
	}
	made.next = s.last[number]
	if made.next >= 0 {
		made.enough = s.states.at(int(made.next)).enough
	}
	if !made.enough && made.value+s.End(made.room) >= s.Need {
		made.enough = true
		s.listed++
	}
	s.last[number] = int32(s.states.n)
	s.states.add(made)
	s.Limit.Take(stepsOfState, wordsOfState)
}

// Basic steps of a sum that is looked for and of a state, and words of a state and its counts.
const stepsOfSum, stepsOfState, wordsOfState = 128, 256, 10

// asGood says whether one state of some counts makes another one needless.
func (s *Stages) asGood(a, b *state) bool {
	return a.room == b.room && a.value >= b.value || a.room > b.room && a.value >= b.value+s.Edge
}

// Each gives each set of counts that is worth enough, the most that it is worth, and the state that
// is worth that.
func (s *Stages) Each(yield func(c counts.Counts, value int64, state int)) {
	for number := 1; number < s.set.Len(); number++ {
		best, at := s.Need-1, -1
		for n := int(s.last[number]); n >= 0; {
			one := s.states.at(n)
			if v := one.value + s.End(one.room); v > best {
				best, at = v, n
			}
			n = int(one.next)
		}
		if at >= 0 {
			yield(s.set.At(number), best, at)
		}
	}
}

// Put is what was put into a row: the row of a stage.
type Put struct{ Stage, Row int }

// Puts gives what was put into a state, first things first, and the room that they leave.
func (s *Stages) Puts(at int) (out []Put, room int64) {
	one := s.states.at(at)
	for room = one.room; one.before >= 0; one = s.states.at(int(one.before)) {
		out = append(out, Put{int(one.stage), int(one.row)})
	}
	slices.Reverse(out)
	return out, room
}
