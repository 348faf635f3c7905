package settings

import (
	"bytes"
	"fmt"
	"io"
	"reflect"
	"strconv"
	"strings"

	"rackwright/model"
)

// Write writes shop.toml for a shop whose bare numbers are in u: every key of the shop, the value
// that it has when it is left out, and its meaning as a comment. Lengths have their unit, so that
// they stay what they are whatever becomes of the key units.
func Write(w io.Writer, u model.Unit) error {
	var b bytes.Buffer
	b.WriteString("# The settings of the shop: every key with the value that it has when it is " +
		"left\n# out. `rackwright help settings` tells more.\n\n")
	set := model.DefaultSettingsIn(u)
	in := ""
	for _, k := range keyTable(&set) {
		table, name, ok := strings.Cut(k.name, ".")
		if !ok {
			table, name = "", k.name
		}
		if table != in {
			in = table
			fmt.Fprintf(&b, "\n[%s]\n", table)
		}
		fmt.Fprintf(&b, "# %s\n%s = %s\n", k.about, name, written(k.at, u))
	}
	b.WriteString(ofSomeOnly(u))
	_, err := w.Write(b.Bytes())
	return err
}

// ofSomeOnly shows how keys are set for one material, section, yard or bin.
func ofSomeOnly(u model.Unit) string {
	if u == model.Millimetre {
		return strings.NewReplacer("1/4 in", "6 mm", "8/4", "50x150mm", "48 in", "1200 mm",
			"8 in", "200 mm", "12 ft", "4 m").Replace(inchExamples)
	}
	return inchExamples
}

const inchExamples = `
# Some keys can be set again for one material, one section or one yard, and bins
# can be named for offcuts. Take the signs # away before such lines:

# [material."white oak".allowance]
# thickness = "1/4 in"

# [section."8/4".offcut]
# keep_length = "8 in"

# [yards."north mill"]
# on the price of each board
# tax_percent = 8.25
# no longer board is bought there
# longest_load = "12 ft"

# [bins."A1"]
# no longer offcut is put there
# longest = "48 in"
# as long as it has fewer boards in it
# most = 20
`

// written is a value as the file has it.
func written(at any, u model.Unit) string {
	switch v := at.(type) {
	case *model.Length:
		number := v.Decimal(u)
		if u == model.Inch {
			number = strings.TrimSuffix(strings.ReplaceAll(v.Exact(u), model.NoBreakSpace, " "),
				`"`)
		}
		return strconv.Quote(number + " " + string(u))
	case *metricLength:
		return model.Length(*v).Decimal(model.Millimetre)
	case *model.Fraction:
		return strconv.FormatFloat(float64(v.Num)/float64(v.Den), 'f', -1, 64)
	case *[]string:
		quoted := make([]string, len(*v))
		for i, s := range *v {
			quoted[i] = strconv.Quote(s)
		}
		return "[" + strings.Join(quoted, ", ") + "]"
	case fmt.Stringer:
		return v.String() // an amount of money, or of minutes
	}
	if v := reflect.ValueOf(at).Elem(); v.Kind() == reflect.String { // a word, or one of a few
		return strconv.Quote(v.String())
	}
	return fmt.Sprint(reflect.ValueOf(at).Elem()) // yes or no, or a count
}
