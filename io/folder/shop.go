package folder

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"

	"rackwright/io/csvfile"
	"rackwright/model"
)

// What all months have in common stands once, in the shop folder above the month's job folder. A
// shop.toml makes a folder a shop folder; lists of parts or orders make it a job folder all the
// same, from which nothing is taken. Each file is taken from there where the month has none of its
// own. Defects lie on the boards of the rack beside them, so these two come from one place.

// ShopFiles are the names of what may stand in the shop folder: files, and the folder of designs.
func ShopFiles() []string {
	return []string{"shop.toml", "yard.csv", "rack.csv", "defects.csv", "designs"}
}

// there says whether something of that name lies in a folder, whatever it is.
func there(fsys fs.FS, name string) bool {
	_, err := fs.Lstat(fsys, name)
	return !errors.Is(err, fs.ErrNotExist)
}

// hasNoSettings says why most folders are no shop folder.
const hasNoSettings = "has no shop.toml, which makes it a shop folder"

// WhyNoShop says why a folder is no shop folder, as what the folder has or has not; of one that is
// it says nothing.
func WhyNoShop(shop fs.FS) string {
	if !there(shop, "shop.toml") {
		return hasNoSettings
	}
	for _, name := range []string{"parts.csv", "parts", "orders.csv"} {
		if there(shop, name) {
			return "has " + name + ", so it is a job folder itself"
		}
	}
	return ""
}

// look finds which files are taken from the shop folder.
func (r *jobReader) look(shop fs.FS) {
	var take []string
	for _, name := range ShopFiles() {
		if !there(r.fsys, name) && there(shop, name) {
			take = append(take, name)
		}
	}
	if r.shop = shop; len(take) == 0 {
		return
	}
	if why := WhyNoShop(shop); why != "" {
		r.notTaken = "that folder " + why
		if why == hasNoSettings {
			return
		}
		r.notes = append(r.notes, model.Note{File: model.Above + take[0],
			Text: "it is not read: " + r.notTaken})
		return
	}
	if r.isLink(model.Above + "shop.toml") {
		r.m.Add(linked(model.Above + "shop.toml"))
		take = slices.DeleteFunc(take, func(name string) bool { return name == "shop.toml" })
	}
	r.above = map[string]bool{}
	for _, name := range r.together(take) {
		r.above[name] = true
	}
	if !there(r.fsys, "orders.csv") { // no design is asked for
		delete(r.above, "designs")
	}
}

// together takes a rack and its defects from one place, that of the rack.
func (r *jobReader) together(take []string) []string {
	rack, defects := slices.Contains(take, "rack.csv"), slices.Contains(take, "defects.csv")
	switch {
	case rack && there(r.fsys, "defects.csv"):
		r.parted = true
		r.m.Add(&model.InputError{Code: model.CodeTwoSources, File: "defects.csv",
			Cause: "the rack that it tells of is not beside it: rack.csv is in the shop folder",
			Remedy: "put both files into one folder: its rows into " + model.Above +
				"defects.csv, or rack.csv here"})
	case defects && there(r.fsys, "rack.csv"):
		r.left = true
		return slices.DeleteFunc(take, func(name string) bool { return name == "defects.csv" })
	}
	return take
}

// leftOut tells of defects that are left out with the shop's rack, and yet are of boards that stand
// in the month's own rack, too.
func (r *jobReader) leftOut() {
	if !r.left {
		return
	}
	ids, n := map[string]bool{}, 0
	for i := range r.job.Rack {
		ids[r.job.Rack[i].ID] = true
	}
	name := model.Above + "defects.csv"
	alone := &reader{fsys: r.fsys, shop: r.shop, unit: r.unit}
	if f, ok := alone.table(name, false); ok {
		f.Defects(func(_ csvfile.Cells, id string) *model.Board {
			if ids[id] {
				n++
			}
			return nil
		})
	}
	if n > 0 {
		r.notes = append(r.notes, model.Note{File: name,
			Text: fmt.Sprintf("it is not read, as the job folder has a rack.csv of its own, but "+
				"has defects of the boards in that (rows: %d); put them into a defects.csv beside "+
				"that", n)})
	}
}
