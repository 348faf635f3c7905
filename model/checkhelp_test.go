package model

// checked gives what the checker alone finds.
func checked(job *Job, plan *Plan) []Finding {
	_, found := Check(job, plan)
	return found
}
