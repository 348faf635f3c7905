package report

import (
	"fmt"
	"strings"

	"rackwright/io/layout"
	"rackwright/model"
)

// rips counts the rips of a plan and adds up how long they are, as its boards are cut up.
func rips(job *model.Job, plan *model.Plan) (n int, all model.Length) {
	for _, l := range layout.Boards(job, plan) {
		if l.First == model.NotRipped {
			continue
		}
		cuts, _ := l.Cuts()
		for i := range cuts {
			if m := &cuts[i]; m.Rip {
				n, all = n+1, all+m.Piece.To-m.Piece.From
			}
		}
	}
	return n, all
}

// ripping says how many rips cost what they cost; empty where there is neither rip nor price.
func (p *printer) ripping(plan *model.Plan, cost model.Money) string {
	n, long := rips(p.job, plan)
	per, unit := p.job.Settings.Units.YardUnit()
	rate := p.job.Settings.Ripping
	var told []string
	if n > 0 || rate > 0 && cost == 0 { // a saw without a kerf leaves no trace in the rows
		told = append(told, count(n, "rip"))
	}
	if n > 0 {
		told = append(told, fmt.Sprintf("%.1f %s", float64(long)/float64(per),
			map[string]string{"foot": "feet", "metre": "metres"}[unit]))
	}
	if rate > 0 {
		told = append(told, fmt.Sprintf("at %v a %s", rate, unit))
	}
	return strings.Join(told, ", ")
}
