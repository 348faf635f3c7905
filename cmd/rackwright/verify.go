package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"

	"rackwright/cmd/rackwright/command"
	"rackwright/cmd/rackwright/shopbook"
	"rackwright/io/folder"
	"rackwright/io/report"
	"rackwright/model"
)

type verifyCommand struct {
	Outdir string `arg:"" help:"Folder that a plan was written to."`
	Job    string `help:"Job folder: the plan must be of these very files." placeholder:"JOBDIR"`
}

func (c *verifyCommand) Help() string {
	return "Example: rackwright verify shop/2027-03/out --job shop/2027-03"
}

func (c *verifyCommand) Run(e *env) error {
	var job *model.Job
	var plan *model.Plan
	var found []model.Finding
	err := e.Interruptible(func() (err error) {
		if job, plan, err = readPlan(c.Outdir); err != nil {
			return err
		}
		if found = shopbook.Judge(job, plan); len(found) > 0 {
			return nil
		}
		return checkForm(c.Outdir, job, plan)
	}, "%s: the plan is not judged", c.Outdir)
	if err != nil {
		return err
	}
	if c.Job != "" {
		more, err := sameJob(c.Job, job, plan.Revision != nil)
		if err != nil {
			return err
		}
		found = append(more, found...)
	}
	for _, f := range found {
		fmt.Fprintf(e.Stderr, "%s: %s\n", f.Where, f.What)
	}
	if len(found) > 0 {
		return command.Refuse("%s: the plan is rejected", c.Outdir)
	}
	if !e.Quiet {
		const noneBelow = "no plan for the same pieces has a net wood cost below "
		known := fmt.Sprintf(noneBelow+"%v %s, this plan has %v", plan.Bound,
			job.Settings.Currency, plan.Value)
		switch {
		case plan.Bound == plan.Value:
			known = fmt.Sprintf(noneBelow+"its %v %s", plan.Value, job.Settings.Currency)
		case !report.Useful(plan.Bound, plan.Value):
			known = report.NoUsefulBound
		}
		fmt.Fprintln(e.Stdout, report.Wrap("Accepted: cuts, costs and the remaining rack agree "+
			"with the job; "+known+"."))
	}
	return nil
}

// checkForm judges the form in an out folder, where it is there.
func checkForm(dir string, job *model.Job, plan *model.Plan) error {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return command.Refuse("%s: cannot be read (%v)", dir, command.Reason(err))
	}
	defer root.Close()
	return folder.CheckForm(root.FS(), job, plan)
}

// sameJob compares the job inside a plan with a job folder, file by file and then as read. Of a
// revision it is the rest of that job.
func sameJob(dir string, in *model.Job, rest bool) (found []model.Finding, err error) {
	if _, err := os.Stat(dir); err != nil {
		return nil, command.Refuse(
			"%s: there is no such folder; name the job folder with --job", dir)
	}
	job, _, err := shopbook.ReadLike(dir, in)
	if rest && onlyOfBoards(err) {
		return sameFiles(dir, in), nil
	}
	if err != nil {
		return nil, err
	}
	if job.Settings.Batch == "" { // of the folder's name then, which may be another one now
		job.Settings.Batch = in.Settings.Batch
	}
	found = sameInputs(job, in)
	if rest {
		return sameRest(job, in, found), nil
	}
	if len(found) > 0 && shopbook.HasBook(dir) && !slices.ContainsFunc(found, notOfBook) {
		// the book has written them anew since, and yet they may say the same
		lines := map[string]model.Where{}
		for _, b := range in.Rack {
			lines[b.ID] = b.Where
		}
		for i := range job.Rack {
			job.Rack[i].Where = lines[job.Rack[i].ID]
		}
		job.Inputs = in.Inputs
	}
	switch same, err := sameAsRead(job, in); {
	case err != nil:
		return nil, err
	case same:
		return nil, nil // the inputs, too
	case len(found) == 0:
		found = append(found, model.Finding{Where: "plan.json: job",
			What: "is not what these files say"})
	}
	return found, nil
}

// notOfBook says whether something found is of a file that no book writes.
func notOfBook(f model.Finding) bool {
	return f.Where != model.Above+"rack.csv" && f.Where != model.Above+"defects.csv"
}

// sameAsRead says whether two jobs are the same in all that plan.json has of them.
func sameAsRead(a, b *model.Job) (bool, error) {
	one, err1 := folder.Encode(a, &model.Plan{})
	other, err2 := folder.Encode(b, &model.Plan{})
	return bytes.Equal(one["plan.json"], other["plan.json"]), errors.Join(err1, err2)
}

// sameInputs compares the files of a job with those that were read when the plan was made.
func sameInputs(now, then *model.Job) (found []model.Finding) {
	sums := map[string]string{}
	for _, f := range then.Inputs {
		sums[f.Name] = f.SHA256
	}
	say := func(f model.Input, what string) {
		found = append(found, model.Finding{Where: f.Name, What: what})
	}
	for _, f := range now.Inputs {
		switch sum, known := sums[f.Name]; {
		case !known && strings.HasPrefix(f.Name, model.Above):
			say(f, "was not read when the plan was made")
		case !known:
			say(f, "was not there when the plan was made")
		case sum != f.SHA256:
			say(f, "has changed since the plan was made")
		}
		delete(sums, f.Name)
	}
	for _, f := range then.Inputs {
		if _, gone := sums[f.Name]; gone && strings.HasPrefix(f.Name, model.Above) {
			say(f, "was read when the plan was made, and is no longer")
		} else if gone {
			say(f, "was read when the plan was made, and is no longer there")
		}
	}
	return found
}
