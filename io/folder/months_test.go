package folder

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
	"testing/fstest"

	"rackwright/model"
)

// A month is a folder of the shop that says which parts are wanted; whatever else lies there is
// none, nor is what a link leads to.
func TestMonths(t *testing.T) {
	dir, elsewhere := t.TempDir(), t.TempDir()
	for _, name := range []string{"2027-04/parts.csv", "2027-03/orders.csv", "2027-05/parts/a.csv",
		"designs/parts.csv", "designs/stool.csv", "letters/note.txt", ".hidden/parts.csv",
		"2027-03/out/cuts.csv", "shop.toml", "out/plan.json"} {
		name = filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, nil, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for link, to := range map[string]string{"linked": "2027-04", "outside": elsewhere,
		"gone": "nowhere", "text": "shop.toml"} {
		if err := os.Symlink(to, filepath.Join(dir, link)); err != nil {
			t.Skip(err) // where links may not be made
		}
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	months, links, err := Months(root.FS())
	if want := []string{"2027-03", "2027-04", "2027-05"}; err != nil ||
		!slices.Equal(months, want) {
		t.Errorf("months %q, %v", months, err)
	}
	if want := []string{"linked", "outside"}; !slices.Equal(links, want) {
		t.Errorf("links %q", links)
	}
}

// A month can be read with the rack of another time in place of the shop's; a part that must come
// from a board of today's may come from any then. A rack of its own stays.
func TestMonthAtAnotherTime(t *testing.T) {
	month := jobFolder(map[string]string{"parts.csv": boardHead +
		"Bench,Leg,4,oak,9,2,1 1/2,2x6,A1\nBench,Rail,4,oak,9,2,1 1/2,2x6,Z9\n"})
	shop := fstest.MapFS{"shop.toml": {}, "rack.csv": month["rack.csv"]}
	then := []model.Board{{ID: "Z9", Wood: model.Wood{Material: "oak", Section: "2x6",
		Length: 90 * in, Width: 11 * in / 2, Thickness: 3 * in / 2}}}
	if _, _, err := ReadMonthAt(month, shop, then); err == nil {
		t.Error("the month has a rack of its own, without Z9, and that is not said")
	}
	delete(month, "rack.csv")
	job, _, err := ReadMonthAt(month, shop, then)
	if err != nil {
		t.Fatal(err)
	}
	if len(job.Rack) != 1 || job.Rack[0].ID != "Z9" || job.Rack[0].Where.File != "../rack.csv" ||
		job.Parts[0].Board != "" || job.Parts[1].Board != "Z9" ||
		job.Source("rack.csv") != "../rack.csv" {
		t.Errorf("rack %v, parts from %q and %q", job.Rack, job.Parts[0].Board, job.Parts[1].Board)
	}
	if then[0].Where != (model.Where{}) {
		t.Error("the caller's rack is changed")
	}
}
