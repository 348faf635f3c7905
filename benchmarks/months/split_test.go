package main

import (
	"os"
	"testing"

	"rackwright/benchmarks"
	"rackwright/io/folder"
	"rackwright/model"
	"rackwright/nest"
)

// Month 5 has a group whose list is split, and the checker accepts what that proves.
func TestSplitListsAreAccepted(t *testing.T) {
	dir := t.TempDir()
	if err := benchmarks.WriteMonth(dir, 5, benchmarks.Kerfs{}); err != nil {
		t.Fatal(err)
	}
	job, _, err := folder.ReadJob(os.DirFS(dir))
	if err != nil {
		t.Fatal(err)
	}
	plan, err := nest.Plan(t.Context(), job, nest.Options{Work: 1e9, Threads: 1,
		Observe: func(e nest.Event) {
			if e.Phase == nest.PlainBound {
				t.Errorf("group %s: the checker accepts a plainer bound only", e.Name)
			}
		}})
	if err != nil {
		t.Fatal(err)
	}
	splits := 0
	for g := range plan.Groups {
		splits += splitsOf(&plan.Groups[g].Certificate.Root)
	}
	if splits < 5 {
		t.Errorf("%d splits of lists: too few to tell", splits)
	}
}

// splitsOf is how many splits the lists below a node have.
func splitsOf(n *model.CertNode) int {
	switch {
	case n.Split != nil:
		return splitsOf(&n.Split.Low) + splitsOf(&n.Split.High)
	case n.List != nil:
		return splitsOfList(&n.List.CertListNode)
	}
	return 0
}

func splitsOfList(n *model.CertListNode) int {
	if n.Split == nil {
		return 0
	}
	return 1 + splitsOfList(&n.Split.Low) + splitsOfList(&n.Split.High)
}
