package model

import "testing"

// A plan that does not keep to what the maker says of a board, or loses it, is refused.
func TestCheckKnowsTheFactsOfBoards(t *testing.T) {
	tryAll(t, checked, []spoilt{
		{"from a board for another", func(j *Job, p *Plan) {
			j.Rack[1].For = "Bench"
		}, "does not hold rail of Table: every board that would do is reserved for another commission"},
		{"from a board to stay untouched", func(j *Job, p *Plan) {
			j.Rack[1].Untouched = true
		}, "every board that would do is to stay untouched"},
		{"longer than the longest", func(j *Job, p *Plan) {
			j.Rack[1].Longest = 29
		}, "by its longest"},
		{"from another board than it must", func(j *Job, p *Plan) {
			j.Parts[1].Board = "R1"
		}, "no board is the one it must come from"},
		{"from a bought board of that name", func(j *Job, p *Plan) {
			j.Parts[3].Board = "B1"
		}, "no board is the one it must come from"},
		{"an offcut for anybody", func(j *Job, p *Plan) {
			j.Rack[1].For = "Table"
		}, `for is "", it should be "Table"`},
		{"an offcut for somebody", func(j *Job, p *Plan) {
			p.Rack[3].For = "Table"
		}, `for is "Table", it should be ""`},
		{"an offcut of a longest that it does not have", func(j *Job, p *Plan) {
			p.Rack[3].Longest = 9
		}, "longest is"},
		{"a board carried over without its facts", func(j *Job, p *Plan) {
			j.Rack[2].For, j.Rack[2].Untouched, j.Rack[2].Longest = "Bench", true, 30
		}, `untouched is "", it should be "yes"`},
		{"a board carried over as one to stay untouched", func(j *Job, p *Plan) {
			p.Rack[0].Untouched = true
		}, `untouched is "yes", it should be ""`},
	})
}
