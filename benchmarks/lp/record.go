package main

import (
	"encoding/binary"
	"errors"
	"math"
)

// call is one of a record, as package lp writes it.
type call struct {
	what    byte
	program uint32
	whole   []int
	numbers []float64
}

var errRecord = errors.New("the record is broken off or none at all")

// calls hands on the calls of a record, up to the first error. What they hold is written over by
// the next.
func calls(record []byte, do func(n int, c *call) error) error {
	var c call
	r := reader{record, false}
	for n := 0; len(r.rest) > 0; n++ {
		c.what, r.rest = r.rest[0], r.rest[1:]
		c.program = uint32(r.whole())
		c.whole, c.numbers = c.whole[:0], c.numbers[:0]
		whole, numbers := 1, 1
		switch c.what {
		case 'R':
			whole, numbers = 0, 2
		case 'A':
			whole = r.whole()
			numbers = 3 + whole
		case 'r', 'c':
			numbers = 2
		case 'K':
			numbers = 0
		case 'o', 'S':
		default:
			return errRecord
		}
		for range whole {
			c.whole = append(c.whole, r.whole())
			if r.broken {
				return errRecord
			}
		}
		for range numbers {
			c.numbers = append(c.numbers, r.number())
		}
		if r.broken {
			return errRecord
		}
		if err := do(n, &c); err != nil {
			return err
		}
	}
	return nil
}

type reader struct {
	rest   []byte
	broken bool
}

func (r *reader) whole() int {
	v, n := binary.Uvarint(r.rest)
	if n <= 0 || v > math.MaxInt32 {
		r.broken = true
		return 0
	}
	r.rest = r.rest[n:]
	return int(v)
}

func (r *reader) number() float64 {
	if len(r.rest) < 8 {
		r.broken = true
		return 0
	}
	v := math.Float64frombits(binary.LittleEndian.Uint64(r.rest))
	r.rest = r.rest[8:]
	return v
}
