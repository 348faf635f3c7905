package handmade

import "rackwright/model"

// orderOf numbers rows of an order of work. Their settings are in some unit.
func orderOf(unit model.Length, rows ...model.Sawing) []model.Sawing {
	for i := range rows {
		rows[i].Sequence = i + 1
		rows[i].Setting *= unit
	}
	return rows
}

func sawn(pass int, setting model.Length, board string, step int, piece string) model.Sawing {
	saw := model.Crosscut
	if pass%2 == 0 {
		saw = model.Rip
	}
	return model.Sawing{Pass: pass, Saw: saw, Setting: setting, Board: board, Step: step,
		Piece: piece}
}

// twoWays is what both ways of working take, the first of which is followed; both have the same
// lifts, and two commissions open.
func twoWays(lifts, settingsOfTime, settingsOfClutter int) model.Work {
	way := func(w model.Way, settings int) model.WayOfWork {
		return model.WayOfWork{Way: w, Settings: settings, Lifts: lifts, Open: 2,
			Minutes: model.Minutes(settings)*workTimes.Setting +
				model.Minutes(lifts)*workTimes.Lift}
	}
	time, clutter := way(model.LeastTime, settingsOfTime), way(model.LeastClutter, settingsOfClutter)
	clutter.Exact = true // one board is for both
	return model.Work{Order: model.LeastTime, Ways: []model.WayOfWork{time, clutter}}
}

// workTimes are those of the jobs made by hand: 1.5 minutes a setting, 0.5 a lift.
var workTimes = model.WorkTimes{Setting: 1500, Lift: 500}
