package model

import "testing"

// A certificate in which a board holds what it may not give, by what the maker says of it, is
// refused.
func TestBoundsKnowTheFactsOfBoards(t *testing.T) {
	tryAll(t, bounds, []spoilt{
		{"reserved", func(j *Job, p *Plan) {
			j.Rack[2].For = "Chest"
		}, "board R3 does not hold the blank of"},
		{"to stay untouched", func(j *Job, p *Plan) {
			j.Rack[2].Untouched = true
		}, "board R3 does not hold the blank of"},
		{"crooked", func(j *Job, p *Plan) {
			j.Rack[2].Longest = 17
		}, "board R3 does not hold the blank of"},
		{"not the board it must come from", func(j *Job, p *Plan) {
			j.Parts[0].Board = "R1"
		}, "does not hold the blank of leg"},
	})
}
