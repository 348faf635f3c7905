package folder

import (
	"io/fs"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"rackwright/model"
)

// whole is a job folder with every file that a shop folder may have.
func whole() fstest.MapFS {
	return jobFolder(map[string]string{
		"shop.toml":         "[kerf]\ncrosscut = \"3/32\"\n",
		"defects.csv":       defectHead + "A1,1,2,knot,,\n",
		"orders.csv":        orderHead + "C-1,stool,2\n",
		"designs/stool.csv": stool,
	})
}

// parted puts files into a shop folder in place of the job folder; a name is that of a file or of a
// folder.
func parted(files fstest.MapFS, up []string) (month, shop fstest.MapFS) {
	month, shop = fstest.MapFS{}, fstest.MapFS{}
	for name, f := range files {
		if first, _, _ := strings.Cut(name, "/"); slices.Contains(up, first) {
			shop[name] = f
		} else {
			month[name] = f
		}
	}
	return month, shop
}

// Whichever files stand in the shop folder, the job is the same as if all stood in the job folder;
// rows and hashes name the file where it is.
func TestShopFolder(t *testing.T) {
	want, _, err := ReadJob(whole())
	if err != nil {
		t.Fatal(err)
	}
	pairs := [][]string{{"shop.toml"}, {"yard.csv"}, {"rack.csv", "defects.csv"}, {"designs"}}
	for set := range 1 << len(pairs) {
		var up []string
		for i, names := range pairs {
			if set>>i&1 > 0 {
				up = append(up, names...)
			}
		}
		month, shop := parted(whole(), up)
		if shop["shop.toml"] == nil {
			shop["shop.toml"] = &fstest.MapFile{Data: []byte("never read")}
		}
		got, notes, err := ReadMonth(month, shop)
		if err != nil || len(notes) > 0 {
			t.Fatal(up, err, notes)
		}
		plain := cmp.FilterPath(func(p cmp.Path) bool {
			return p.Last().String() == ".File" || p.Last().String() == ".Inputs"
		}, cmp.Ignore())
		if d := cmp.Diff(want, got, plain); d != "" || len(got.Inputs) != len(want.Inputs) {
			t.Errorf("%q: %d inputs, not %d; %s", up, len(got.Inputs), len(want.Inputs), d)
		}
		for _, in := range want.Inputs {
			first, _, _ := strings.Cut(in.Name, "/")
			if name := in.Name; slices.Contains(up, first) {
				in.Name = model.Above + name
			}
			if !slices.Contains(got.Inputs, in) {
				t.Errorf("%q: %s is not among the inputs %v", up, in.Name, got.Inputs)
			}
			if got.Source(in.Name) != in.Name {
				t.Errorf("%q: %s is taken for %s", up, in.Name, got.Source(in.Name))
			}
		}
		if f := got.Rack[0].Where.File; f != got.Source("rack.csv") {
			t.Errorf("%q: the rack is of %s", up, f)
		}
	}
}

// watchedFS notes what is asked for, and refuses to open some files.
type watchedFS struct {
	fstest.MapFS
	asked  map[string]bool
	closed []string
}

func (w watchedFS) Open(name string) (fs.File, error) {
	w.asked[name] = true
	if slices.Contains(w.closed, name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
	}
	return w.MapFS.Open(name)
}

func (w watchedFS) ReadDir(name string) ([]fs.DirEntry, error) {
	if f, err := w.Open(name); err != nil {
		return nil, err
	} else {
		f.Close()
	}
	return w.MapFS.ReadDir(name)
}

// Of the folder above nothing is opened but what may stand in a shop folder; where it is none,
// nothing at all, and the job folder is read as if it were alone.
func TestFolderAboveIsLeftAlone(t *testing.T) {
	secret := fstest.MapFS{"letter.txt": {}, "commissions.csv": {Data: []byte("never read")}}
	for _, c := range []struct {
		what  string
		above map[string]string
		want  []string
	}{
		{"no shop folder", map[string]string{"yard.csv": "x", "rack.csv": "x"}, nil},
		{"a job folder by its parts", map[string]string{"shop.toml": "x", "parts.csv": "x",
			"defects.csv": "x"}, nil},
		{"a job folder by its lists", map[string]string{"shop.toml": "x", "parts/a.csv": "x",
			"defects.csv": "x"}, nil},
		{"a job folder by its orders", map[string]string{"shop.toml": "x", "orders.csv": "x",
			"defects.csv": "x"}, nil},
		{"a shop folder", map[string]string{"shop.toml": "units = \"in\"", "rack.csv": "x",
			"designs/x.csv": "x"}, []string{"shop.toml"}},
	} {
		shop := watchedFS{maps.Clone(secret), map[string]bool{}, nil}
		for name, text := range c.above {
			shop.MapFS[name] = &fstest.MapFile{Data: []byte(text)}
		}
		got, _, err := ReadMonth(jobFolder(nil), shop)
		want, _, _ := ReadJob(jobFolder(nil))
		if err != nil {
			t.Fatal(c.what, err)
		}
		if asked := slices.Sorted(maps.Keys(shop.asked)); !slices.Equal(asked, c.want) {
			t.Errorf("%s: opened are %q, not %q", c.what, asked, c.want)
		}
		got.Inputs, want.Inputs = nil, nil
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s: %s", c.what, d)
		}
	}
}

// A file of the shop folder that is not to be read is one mistake, named where it is.
func TestShopFileUnreadable(t *testing.T) {
	for _, name := range []string{"shop.toml", "yard.csv", "rack.csv", "defects.csv", "designs",
		"designs/stool.csv"} {
		for _, link := range []bool{false, true} {
			month, files := parted(whole(), ShopFiles())
			shop := watchedFS{files, map[string]bool{}, nil}
			if link {
				shop.MapFS[name] = &fstest.MapFile{Data: []byte("parts.csv"),
					Mode: fs.ModeSymlink | 0o777}
			} else {
				shop.closed = []string{name}
			}
			_, _, err := ReadMonth(month, shop)
			all, _ := err.(model.InputErrors)
			if len(all) == 0 || all[0].File != model.Above+name ||
				all[0].Code != model.CodeUnreadable ||
				strings.Contains(all[0].Cause, "link") != link {
				t.Errorf("%s, link %v: %v", name, link, err)
			}
			for _, e := range all[min(1, len(all)):] {
				if name != "designs" || e.Code != model.CodeUnknownDesign {
					t.Errorf("%s: what follows from it is told, too: %v", name, e)
				}
			}
		}
	}
}

// A rack in one folder with its defects in the other is refused once, whatever else the rack would
// be asked for.
func TestRackAndDefectsApart(t *testing.T) {
	month, shop := parted(whole(), []string{"shop.toml", "rack.csv"})
	month["parts.csv"] = &fstest.MapFile{Data: []byte(strings.Replace(plain["parts.csv"],
		"thickness\n", "thickness,board\n", 1))}
	month["parts.csv"].Data = []byte(strings.Replace(string(month["parts.csv"].Data), "1 1/2\n",
		"1 1/2,A9\n", 1))
	_, _, err := ReadMonth(month, shop)
	if all, _ := err.(model.InputErrors); len(all) != 1 || all[0].File != "defects.csv" ||
		all[0].Code != model.CodeTwoSources {
		t.Error(err)
	}
	month, shop = parted(whole(), []string{"shop.toml", "defects.csv"})
	job, notes, err := ReadMonth(month, shop)
	if err != nil || len(notes) != 1 || notes[0].File != "../defects.csv" ||
		len(job.Rack[0].Defects) > 0 {
		t.Error(err, notes)
	}
}

// What only follows from a mistake in the shop's shop.toml is not told: that a board cannot give
// its part by settings that are not the shop's.
func TestShopFileMistakeAlone(t *testing.T) {
	month := jobFolder(map[string]string{"parts.csv": strings.Replace(partHead, "\n", ",board\n",
		1) + "Bench,Leg,1,oak,95 1/2,2,1,,,A1\n"})
	for broken, want := range map[string]int{"": 1, "[allowance]\nlength = \"1/4 inn\"\n": 1} {
		shop := fstest.MapFS{"shop.toml": {Data: []byte(broken)}}
		_, _, err := ReadMonth(month, shop)
		all, _ := err.(model.InputErrors)
		if len(all) != want || (all[0].File == "../shop.toml") != (broken != "") {
			t.Errorf("%q: %v", broken, err)
		}
	}
}
