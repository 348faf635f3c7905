package folder

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"unicode"

	"rackwright/io/csvfile"
	"rackwright/io/settings"
	"rackwright/model"
)

// MonthFiles are the tables that a month has of its own in a shop folder.
func MonthFiles() []string { return []string{"parts.csv", "orders.csv", "commissions.csv"} }

// NewShop gives the files of an empty shop folder whose bare numbers are in u, with the job folder
// of one month in it: bytes by name, with slashes. A name that ends in a slash is an empty folder.
func NewShop(u model.Unit, month string) (map[string][]byte, error) {
	if err := monthName(month); err != nil {
		return nil, err
	}
	files := map[string][]byte{"designs/": nil}
	var b bytes.Buffer
	errs := []error{settings.Write(&b, u)}
	files["shop.toml"] = b.Bytes()
	errs = append(errs, emptyTables(files, "", "yard.csv", "rack.csv", "defects.csv"),
		emptyTables(files, month+"/", MonthFiles()...))
	return files, errors.Join(errs...)
}

// NewMonth gives the files of an empty job folder of that name in a shop folder: bytes by name.
func NewMonth(month string) (map[string][]byte, error) {
	if err := monthName(month); err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	return files, emptyTables(files, "", MonthFiles()...)
}

// emptyTables adds tables that are a header line alone.
func emptyTables(files map[string][]byte, within string, names ...string) error {
	for _, name := range names {
		var b bytes.Buffer
		if err := csvfile.WriteEmpty(&b, name); err != nil {
			return err
		}
		files[within+name] = b.Bytes()
	}
	return nil
}

// monthName judges the name of a month's job folder. The error says what is wrong; what to do.
func monthName(name string) error {
	taken := append(append(ShopFiles(), MonthFiles()...), "parts", "out")
	switch {
	case !fs.ValidPath(name) || strings.ContainsAny(name, `/\:*?"<>|`) ||
		strings.ContainsFunc(name, unicode.IsControl) || strings.Trim(name, ". ") != name ||
		SystemFile(name):
		return fmt.Errorf("%q cannot be the name of a folder here; write one such as 2027-03", name)
	case slices.ContainsFunc(taken, func(t string) bool { return strings.EqualFold(t, name) }):
		return fmt.Errorf("%s has a meaning of its own in a shop folder; write another name, such "+
			"as 2027-03", name)
	case model.BatchOf(name) == "":
		return fmt.Errorf("%q has no letter a to z and no digit for new ids; write a name such as "+
			"2027-03", name)
	}
	return nil
}
