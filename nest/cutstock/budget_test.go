package cutstock

import "testing"

// The shares of the work decide where a search ends, and so the bytes of a plan: they change on
// purpose only.
func TestBudgetIsPinned(t *testing.T) {
	const work = 1 << 20
	for _, c := range []struct {
		lists bool
		want  budget
	}{
		{true, budget{columns: 1 << 14, reopeningFirst: 1 << 14, branching: 1 << 20,
			cutsOfList: 1 << 16, searchOfList: 1 << 13, branchOfList: 1 << 19,
			columnsNode: 1 << 15, columnsAgain: 1 << 17, columnsOpen: 1 << 12, ties: 1 << 15}},
		{false, budget{columns: 1 << 14, branching: 5 << 17, cutsOfList: 1 << 16,
			searchOfList: 1 << 13, branchOfList: 1 << 19,
			columnsNode: 1 << 15, columnsAgain: 1 << 16, reopening: 1 << 20,
			columnsOpen: 1 << 12, ties: 1 << 15}},
	} {
		if got := budgetOf(work, c.lists, false); got != c.want {
			t.Errorf("lists %t: %+v, not %+v", c.lists, got, c.want)
		}
	}
	if got := budgetOf(16e9, true, false).ties; got != 1<<28 {
		t.Errorf("ties get %d of 16e9 steps, not 2^28", got)
	}
}
