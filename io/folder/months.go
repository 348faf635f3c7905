package folder

import (
	"errors"
	"io/fs"
	"slices"
	"strings"
)

// Months gives the names of the months of a shop folder, in their order: of the folders in it that
// say which parts are wanted. A link is none; links to such folders are given apart.
func Months(shop fs.FS) (months, links []string, err error) {
	entries, err := fs.ReadDir(shop, ".")
	if err != nil {
		return nil, nil, err
	}
	for _, e := range entries { // sorted by name
		name := e.Name()
		link := e.Type()&fs.ModeSymlink != 0
		if !e.IsDir() && !link || strings.HasPrefix(name, ".") || SystemFile(name) ||
			slices.Contains(ShopFiles(), name) {
			continue
		}
		within, err := fs.Sub(shop, name)
		if err != nil {
			return nil, nil, err
		}
		switch {
		case link && isFolder(shop, name):
			links = append(links, name)
		case !link && saysParts(within):
			months = append(months, name)
		}
	}
	return months, links, nil
}

// saysParts says whether a folder has what says which parts are wanted.
func saysParts(fsys fs.FS) bool {
	return slices.ContainsFunc([]string{"parts.csv", "parts", "orders.csv"},
		func(name string) bool { return there(fsys, name) })
}

// isFolder says whether a name is that of a folder, or of a link to one that may not be looked
// into, as it lies elsewhere.
func isFolder(fsys fs.FS, name string) bool {
	info, err := fs.Stat(fsys, name)
	return err == nil && info.IsDir() || err != nil && !errors.Is(err, fs.ErrNotExist)
}
