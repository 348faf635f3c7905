package lp

import (
	"encoding/binary"
	"io"
	"math"
	"sync"
	"sync/atomic"
)

// A record is what was asked of programs, so that it can be asked again and timed: benchmarks/lp
// does. It is a sequence of calls. Each is a letter, the number of a program, whole numbers, and
// numbers; the whole ones as unsigned varints, the others as the eight bytes of a float64, little
// end first.
//
//	R                 lo hi            AddRow
//	A  n, n rows      cost lo hi, n coefficients    AddColumn
//	r  row            lo hi            SetRow
//	c  column         lo hi            SetColumn
//	o  column         cost             SetCost
//	K  number                          Clone, as the program of that number
//	S  status         value            Solve, and what it found

// recorder writes a record; several programs may at once.
type recorder struct {
	sync.Mutex
	w    io.Writer
	last uint32 // the number given last
	err  error
}

var recording atomic.Pointer[recorder]

// Record writes what is asked of all programs made from now on to w, until stop is called. Stop
// returns the first error of w. Only one record is written at a time.
func Record(w io.Writer) (stop func() error) {
	r := &recorder{w: w}
	recording.Store(r)
	return func() error {
		recording.CompareAndSwap(r, nil)
		r.Lock()
		defer r.Unlock()
		return r.err
	}
}

// begin numbers a new program.
func (r *recorder) begin(p *Problem) {
	if r != nil {
		r.Lock()
		defer r.Unlock()
		r.last++
		p.recorder, p.number = r, r.last
	}
}

// clone numbers a copy.
func (r *recorder) clone(p, q *Problem) {
	if r != nil {
		r.begin(q)
		r.call('K', p, []int{int(q.number)})
	}
}

// call writes one call.
func (r *recorder) call(what byte, p *Problem, whole []int, numbers ...float64) {
	if r == nil {
		return
	}
	b := binary.AppendUvarint([]byte{what}, uint64(p.number))
	for _, n := range whole {
		b = binary.AppendUvarint(b, uint64(n))
	}
	for _, v := range numbers {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
	}
	r.Lock()
	defer r.Unlock()
	if r.err == nil && recording.Load() == r {
		_, r.err = r.w.Write(b)
	}
}
