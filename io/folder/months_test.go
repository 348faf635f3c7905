package folder

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
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
