package report

import "rackwright/model"

// Plans of one board each, written by hand by the rules of cuts.csv. Both kerfs are 1/8", a
// yard end is trimmed by 1/2".

type rowsOf struct{ rows []model.Cut }

func (s *rowsOf) row(kind model.Kind, step int, from, to, left, right float64) *model.Cut {
	at := func(inches float64) model.Length { return model.Length(inches * inch) }
	s.rows = append(s.rows, model.Cut{Board: "B-1", Origin: model.FromYard, Material: "pine",
		Section: "1x8", Step: step, Kind: kind,
		From: at(from), To: at(to), Left: at(left), Right: at(right)})
	return &s.rows[len(s.rows)-1]
}

func (s *rowsOf) part(step int, from, to, left, right float64, name string, n int64) {
	c := s.row(model.KindPart, step, from, to, left, right)
	c.Commission, c.Part, c.Copy = "C-1 shelf", name, n
}

func (s *rowsOf) offcut(step int, from, to, left, right float64, id string) {
	s.row(model.KindOffcut, step, from, to, left, right).Offcut = id
}

func (s *rowsOf) plan(first model.First, order ...model.Sawing) (*model.Job, *model.Plan) {
	job := &model.Job{Settings: model.DefaultSettings(),
		Commissions: []model.Commission{{Name: "C-1 shelf"}}}
	job.Yard = []model.Offer{{
		Wood: model.Wood{Material: "pine", Section: "1x8", Length: 96 * inch, Width: 29 * inch / 4,
			Thickness: 3 * inch / 4}, Where: model.Where{File: "yard.csv", Line: 2}}}
	p := model.Placement{Board: "B-1", Offer: 2, First: first}
	met := map[string]bool{}
	for _, c := range s.rows {
		if c.Kind != model.KindPart {
			continue
		}
		p.Pieces = append(p.Pieces,
			model.Piece{Commission: c.Commission, Part: c.Part, Copy: c.Copy, From: c.From,
				To: c.To, Left: c.Left, Right: c.Right})
		if !met[c.Part] {
			met[c.Part] = true
			job.Parts = append(job.Parts,
				model.Part{Commission: c.Commission, Name: c.Part, Qty: 9, Material: "pine",
					Length: c.To - c.From - inch,
					Width:  min(c.Right-c.Left, 57*inch/8) - inch/8, Thickness: 3 * inch / 4})
		}
	}
	for i := range order {
		order[i].Board = "B-1"
	}
	return job, &model.Plan{Cuts: s.rows, Placements: []model.Placement{p}, Order: order}
}

// lengthsPlan is crosscut first: a plain length, one ripped into a blank, a shorter one that is
// trimmed and an offcut, and an offcut at the end.
func lengthsPlan() (*model.Job, *model.Plan) {
	var s rowsOf
	s.row(model.KindTrim, 1, 0, 0.5, 0, 7.25)
	s.part(2, 0.5, 30.5, 0, 7.25, "plank", 1)
	s.row(model.KindKerf, 2, 30.5, 30.625, 0, 7.25)
	s.part(5, 30.625, 60.625, 0, 2.625, "rail", 1)
	s.row(model.KindKerf, 5, 30.625, 60.625, 2.625, 2.75)
	s.part(7, 30.625, 54.625, 2.75, 4.75, "cleat", 1)
	s.row(model.KindKerf, 7, 54.625, 54.75, 2.75, 4.75)
	s.row(model.KindWaste, 7, 54.75, 60.625, 2.75, 4.75)
	s.row(model.KindKerf, 6, 30.625, 60.625, 4.75, 4.875)
	s.offcut(6, 30.625, 60.625, 4.875, 7.25, "off-1")
	s.row(model.KindKerf, 3, 60.625, 60.75, 0, 7.25)
	s.offcut(4, 60.75, 95.5, 0, 7.25, "off-2")
	s.row(model.KindTrim, 4, 95.5, 96, 0, 7.25)
	return s.plan(model.CrosscutFirst,
		model.Sawing{Saw: "crosscut", Setting: 30 * inch},
		model.Sawing{Saw: "crosscut", Setting: 24 * inch},
		model.Sawing{Saw: "rip", Setting: 21 * inch / 8},
		model.Sawing{Saw: "rip", Setting: 2 * inch})
}

// stripsPlan is ripped first: a strip with two blanks and a waste, one with a narrower blank that
// is trimmed and an offcut, and a sliver.
func stripsPlan() (*model.Job, *model.Plan) {
	var s rowsOf
	s.row(model.KindTrim, 1, 0, 0.5, 0, 7.25)
	s.part(5, 0.5, 40.5, 0, 3.5, "rail", 1)
	s.row(model.KindKerf, 5, 40.5, 40.625, 0, 3.5)
	s.part(6, 40.625, 80.625, 0, 3.5, "rail", 2)
	s.row(model.KindKerf, 6, 80.625, 80.75, 0, 3.5)
	s.row(model.KindWaste, 6, 80.75, 95.5, 0, 3.5)
	s.row(model.KindKerf, 3, 0.5, 95.5, 3.5, 3.625)
	s.part(7, 0.5, 50.5, 3.625, 6.625, "stile", 1)
	s.row(model.KindKerf, 7, 50.5, 50.625, 3.625, 6.625)
	s.part(9, 50.625, 70.625, 3.625, 6.125, "cleat", 1)
	s.row(model.KindKerf, 9, 50.625, 70.625, 6.125, 6.25)
	s.row(model.KindWaste, 9, 50.625, 70.625, 6.25, 6.625)
	s.row(model.KindKerf, 8, 70.625, 70.75, 3.625, 6.625)
	s.offcut(8, 70.75, 95.5, 3.625, 6.625, "off-1")
	s.row(model.KindKerf, 4, 0.5, 95.5, 6.625, 6.75)
	s.row(model.KindWaste, 4, 0.5, 95.5, 6.75, 7.25)
	s.row(model.KindTrim, 2, 95.5, 96, 0, 7.25)
	return s.plan(model.RipFirst,
		model.Sawing{Saw: "crosscut", Setting: 50 * inch},
		model.Sawing{Saw: "crosscut", Setting: 40 * inch},
		model.Sawing{Saw: "crosscut", Setting: 20 * inch},
		model.Sawing{Saw: "rip", Setting: 7 * inch / 2},
		model.Sawing{Saw: "rip", Setting: 3 * inch},
		model.Sawing{Saw: "rip", Setting: 5 * inch / 2})
}

// spanPlan is ripped first between a split end and an end that goes back as it is: two strips and
// a sliver.
func spanPlan() (*model.Job, *model.Plan) {
	var s rowsOf
	s.row(model.KindTrim, 1, 0, 0.5, 0, 7.25)
	s.row(model.KindDefect, 2, 0.5, 11.5, 0, 7.25)
	s.row(model.KindWaste, 2, 11.5, 11.625, 0, 7.25)
	s.row(model.KindKerf, 2, 11.625, 11.75, 0, 7.25)
	s.part(7, 11.75, 41.75, 0, 3.5, "rail", 1)
	s.row(model.KindKerf, 7, 41.75, 41.875, 0, 3.5)
	s.part(7, 41.875, 61.75, 0, 3.5, "cleat", 1)
	s.row(model.KindKerf, 5, 11.75, 61.75, 3.5, 3.625)
	s.part(6, 11.75, 61.75, 3.625, 6.625, "stile", 1)
	s.row(model.KindKerf, 6, 11.75, 61.75, 6.625, 6.75)
	s.row(model.KindWaste, 6, 11.75, 61.75, 6.75, 7.25)
	s.row(model.KindKerf, 3, 61.75, 61.875, 0, 7.25)
	s.offcut(4, 61.875, 95.5, 0, 7.25, "off-1")
	s.row(model.KindTrim, 4, 95.5, 96, 0, 7.25)
	for i := range s.rows {
		s.rows[i].Origin = model.FromRack
	}
	job, plan := s.plan(model.RipFirst,
		model.Sawing{Saw: "crosscut", Setting: 50 * inch},
		model.Sawing{Saw: "crosscut", Setting: 30 * inch},
		model.Sawing{Saw: "crosscut", Setting: 159 * inch / 8},
		model.Sawing{Saw: "rip", Setting: 7 * inch / 2},
		model.Sawing{Saw: "rip", Setting: 3 * inch})
	x := &plan.Placements[0]
	x.Offer, x.RipFrom, x.RipTo = 0, 47*inch/4, 247*inch/4
	job.Rack = []model.Board{{ID: x.Board, Wood: job.Yard[0].Wood, Bin: "rack A",
		Defects: []model.Defect{
			{From: 0, To: 23 * inch / 2, Right: 29 * inch / 4, Kind: "split"}}}}
	job.Yard = nil
	return job, plan
}
