package cutlist

import "rackwright/model"

// purchases are the boards to use, then those of the reserve, both in the order of the yard.
func purchases(job *model.Job, boards []*Board) (out []model.Purchase) {
	// One tallier for all rows. Where it rounds halves up and down in turn it goes on from row to
	// row. A lot of boards of unlike widths has a row for each width.
	yard := model.NewTallier(&job.Settings)
	used, ids := make([]int64, len(job.Yard)), make([][]string, len(job.Yard))
	for _, b := range boards {
		if b.Offer != nil {
			used[b.Row]++
			ids[b.Row] = append(ids[b.Row], b.ID)
		}
	}
	for n, qty := range [][]int64{used, reserve(job, boards)} {
		for i, q := range qty {
			if q == 0 {
				continue
			}
			o := &job.Yard[i]
			row := model.Purchase{
				Material: o.Material, Section: o.Section, Length: o.Length, Width: o.Width,
				Surface: o.Surface, Yard: o.Yard, Grade: o.Grade,
				Qty: q, Price: job.PriceOf(o), Total: model.Money(q) * job.PriceOf(o),
				Tax:   model.Money(q) * job.TaxOf(o),
				Tally: yard.Boards(&o.Wood, q).Millionths(job.Settings.Units), Reserve: n == 1,
			}
			if n == 0 {
				row.Boards = ids[i]
			}
			out = append(out, row)
		}
	}
	return out
}
