package makeup

import "rackwright/model"

// Advise says what to write into the cells staves and layers of a part that no way makes as its row
// has it, and what that gives; empty where nothing there would help.
func Advise(job *model.Job, p *model.Part) string {
	for _, try := range []struct {
		staves, layers bool
		columns        string
	}{{true, false, "staves"}, {false, true, "layers"}, {true, true, "staves and layers"}} {
		if try.staves && p.Staves == model.Auto || try.layers && p.Layers == model.Auto {
			continue // it is written there
		}
		q := *p
		if try.staves {
			q.Staves = model.Auto
		}
		if try.layers {
			q.Layers = model.Auto
		}
		if _, made := Cheapest(job, ChoiceOf(job, &q)); made != "" {
			return "write auto in " + try.columns + ": " + made + " would make it"
		}
	}
	return ""
}

// Cheapest says what the way of a choice makes a part of that takes the least money by area, and
// what it costs for all copies that are wanted: nil where no yard sells its wood. It is empty where
// there is no way.
func Cheapest(job *model.Job, c *Choice) (cost *model.Money, made string) {
	u := job.Settings.Units
	var best *Price
	var sets int64
	for n := range c.Ways {
		if w := &c.Ways[n]; made == "" || compare(w.Price, w.Sets(), best, sets) < 0 {
			best, sets, made = w.Price, w.Sets(), w.Made(u)
		}
	}
	for n := range c.Covers {
		if v := &c.Covers[n]; made == "" || compare(v.Price, v.Part.Qty, best, sets) < 0 {
			best, sets, made = v.Price, v.Part.Qty, v.Made()
		}
	}
	if best == nil {
		return nil, made
	}
	all := times(best.Cost, sets)
	return &all, made
}
