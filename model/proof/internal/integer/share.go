package integer

import (
	"math/big"
	"math/bits"
)

// Share is the most that a room can hold of things that are worth so much and take so much each, in
// any fractions. All numbers are at least 0. Its zero value holds nothing.
type Share struct{ worth, takes uint64 }

// Offer takes in one thing; takes is above 0.
func (s *Share) Offer(worth, takes int64) {
	if s.takes == 0 {
		*s = Share{uint64(worth), uint64(takes)}
		return
	}
	high, low := bits.Mul64(uint64(worth), s.takes)
	oldHigh, oldLow := bits.Mul64(s.worth, uint64(takes))
	if high > oldHigh || high == oldHigh && low > oldLow {
		*s = Share{uint64(worth), uint64(takes)}
	}
}

// Of is the worth of a room filled with the best of what was offered, rounded down.
func (s *Share) Of(room *big.Int) *big.Int {
	if s.takes == 0 {
		return new(big.Int)
	}
	all := new(big.Int).Mul(room, new(big.Int).SetUint64(s.worth))
	return all.Quo(all, new(big.Int).SetUint64(s.takes))
}
