package check

import (
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

// A plan that does not keep to what the maker says of a board, or loses it, is refused.
func TestCheckKnowsTheFactsOfBoards(t *testing.T) {
	handmade.TryAll(t, checked, []handmade.Spoilt{
		{What: "from a board for another", Spoil: func(j *model.Job, p *model.Plan) {
			j.Rack[1].For = "Bench"
		}, Want: "does not hold rail of Table: every board that would do is reserved for " +
			"another commission"},
		{What: "from a board to stay untouched", Spoil: func(j *model.Job, p *model.Plan) {
			j.Rack[1].Untouched = true
		}, Want: "every board that would do is to stay untouched"},
		{What: "longer than the longest", Spoil: func(j *model.Job, p *model.Plan) {
			j.Rack[1].Longest = 29
		}, Want: "by its longest"},
		{What: "from another board than it must", Spoil: func(j *model.Job, p *model.Plan) {
			j.Parts[1].Board = "R1"
		}, Want: "no board is the one it must come from"},
		{What: "from a bought board of that name", Spoil: func(j *model.Job, p *model.Plan) {
			j.Parts[3].Board = "B1"
		}, Want: "no board is the one it must come from"},
		{What: "an offcut for anybody", Spoil: func(j *model.Job, p *model.Plan) {
			j.Rack[1].For = "Table"
		}, Want: `for is "", it should be "Table"`},
		{What: "an offcut for somebody", Spoil: func(j *model.Job, p *model.Plan) {
			p.Rack[3].For = "Table"
		}, Want: `for is "Table", it should be ""`},
		{What: "an offcut of a longest that it does not have",
			Spoil: func(j *model.Job, p *model.Plan) {
				p.Rack[3].Longest = 9
			}, Want: "longest is"},
		{What: "a board carried over without its facts", Spoil: func(j *model.Job, p *model.Plan) {
			j.Rack[2].For, j.Rack[2].Untouched, j.Rack[2].Longest = "Bench", true, 30
		}, Want: `untouched is "", it should be "yes"`},
		{What: "a board carried over as one to stay untouched",
			Spoil: func(j *model.Job, p *model.Plan) {
				p.Rack[0].Untouched = true
			}, Want: `untouched is "yes", it should be ""`},
	})
}
