package cutlist

import "rackwright/model"

// rips is how long the rips of a board are in all.
//
//   - Crosscut first: each is as long as the length that it rips.
//   - Rip first: each is as long as the ripped span. One that trims a blank to less than the width
//     of its strip is as long as the blank.
func rips(job *model.Job, b *Board) (all model.Length) {
	if b.First == model.NotRipped {
		return 0
	}
	if b.First == model.CrosscutFirst {
		for _, l := range bundles(model.Along, b.Pieces) {
			all += ripsBetween(job, b, bundles(model.Across, l.pieces)) * (l.To - l.From)
		}
		return all
	}
	strips, span := bundles(model.Across, b.Pieces), b.ripped(job)
	all = ripsBetween(job, b, strips) * (span.To - span.From)
	for _, s := range strips {
		for _, p := range s.pieces {
			if p.On(model.Across) != s.Span {
				all += p.To - p.From
			}
		}
	}
	return all
}

// ripsBetween counts the rips that saw off what lies side by side over the width of a board: one at
// each side that is not the board's own edge. Two sides just a kerf apart share one.
func ripsBetween(job *model.Job, b *Board, of []bundle) (n model.Length) {
	for i, s := range of {
		if s.From > 0 && !(i > 0 && of[i-1].To+job.Settings.RipKerf == s.From) {
			n++
		}
		if s.To < b.Width {
			n++
		}
	}
	return n
}
