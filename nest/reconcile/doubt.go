package reconcile

import "rackwright/nest/assign"

// doubt lists the things found that another plan of the same cost takes for something else, if that
// comes to another rack. It comes to the same one if nothing is to be put right either way, or if
// the boards are alike but for their bins.
func (c *counting) doubt(p *assign.Problem, plan *assign.Plan, differs []bool, things,
	boards []alike) {
	type choice struct {
		varies, matters, unlike bool
		boards                  []int
	}
	choices := make([]choice, len(things))
	for e, edge := range p.Edges {
		if plan.Matched[e] == 0 && !plan.Varies[e] {
			continue
		}
		n := &choices[edge.Left]
		n.varies = n.varies || plan.Varies[e]
		n.matters = n.matters || differs[e] || plan.RightVaries[edge.Right]
		n.unlike = n.unlike || len(n.boards) > 0 &&
			boards[n.boards[0]].loose != boards[edge.Right].loose
		n.boards = append(n.boards, edge.Right)
	}
	for l := range things {
		n, alone := &choices[l], plan.LeftVaries[l]
		if !alone && !(n.varies && n.matters && n.unlike) {
			continue
		}
		d := Doubt{New: alone}
		for _, f := range things[l].of {
			d.Found = append(d.Found, c.found[f])
		}
		for _, r := range n.boards {
			for _, b := range boards[r].of {
				d.Boards = append(d.Boards, c.rack[b])
			}
		}
		c.doubts = append(c.doubts, d)
	}
}
