package csvfile

import (
	"fmt"
	"io"
)

// WriteEmpty writes a table that a maker fills in, such as parts.csv: its header line with every
// column, and no row.
func WriteEmpty(w io.Writer, name string) error {
	switch name {
	case "parts.csv":
		return writeRows[partRow](w, nil)
	case "orders.csv":
		return writeRows[orderRow](w, nil)
	case "commissions.csv":
		return writeRows[commissionRow](w, nil)
	case "rack.csv":
		return writeRows[rackRow](w, nil)
	case "defects.csv":
		return writeRows[defectRow](w, nil)
	case "yard.csv":
		return writeRows[yardRow](w, nil)
	}
	return fmt.Errorf("%s is no table that a maker fills in", name)
}
