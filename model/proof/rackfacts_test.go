package proof

import (
	"testing"

	"rackwright/model"
	"rackwright/model/internal/handmade"
)

// A certificate in which a board holds what it may not give, by what the maker says of it, is
// refused.
func TestBoundsKnowTheFactsOfBoards(t *testing.T) {
	handmade.TryAll(t, bounds, []handmade.Spoilt{
		{What: "reserved", Spoil: func(j *model.Job, p *model.Plan) {
			j.Rack[2].For = "Chest"
		}, Want: "board R3 does not hold the blank of"},
		{What: "to stay untouched", Spoil: func(j *model.Job, p *model.Plan) {
			j.Rack[2].Untouched = true
		}, Want: "board R3 does not hold the blank of"},
		{What: "crooked", Spoil: func(j *model.Job, p *model.Plan) {
			j.Rack[2].Longest = 17
		}, Want: "board R3 does not hold the blank of"},
		{What: "not the board it must come from", Spoil: func(j *model.Job, p *model.Plan) {
			j.Parts[0].Board = "R1"
		}, Want: "does not hold the blank of leg"},
	})
}
