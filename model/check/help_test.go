package check

import "rackwright/model"

// checked gives what the checker alone finds.
func checked(job *model.Job, plan *model.Plan) []model.Finding {
	_, found := Check(job, plan)
	return found
}
