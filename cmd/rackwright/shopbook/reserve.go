package shopbook

import "rackwright/io/folder"

// reserve is how many boards a plan buys on top, if all that has an id has come by now: these have
// none, and would be forgotten.
func (r *receipt) reserve() (boards int64, err error) {
	if len(r.waits) > 0 {
		return 0, nil
	}
	files, err := r.shop.book.PlanFiles(r.plan.Files)
	if err != nil {
		return 0, r.shop.unsound(err)
	}
	_, plan, err := folder.ReadPlan(files)
	if err != nil {
		return 0, r.shop.unsound(err)
	}
	for i := range plan.Buy {
		if b := &plan.Buy[i]; b.Reserve {
			boards += b.Qty
		}
	}
	return boards, nil
}
