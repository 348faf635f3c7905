package model

import "math/big"

// Tally is the measured quantity of a run of this wood: millionths of a board foot in an inch shop, of a cubic metre
// in a millimetre shop, halves up. A board foot is 144 cubic inches, counted
//   - in softwood by nominal thickness (under 1 in counts as 1 in), nominal width and length (PS 20);
//   - in hardwood quarters by nominal thickness (likewise), measured width and length;
//   - in metric sections by measured sizes.
//
// Cubic metres are of the measured sizes.
func (w *Wood) Tally(run Length, u Unit) int64 {
	thickness, width := w.Thickness, w.Width
	whole := big.NewInt(1000 * UnitsPerMillimetre)
	whole.Exp(whole, big.NewInt(3), nil)
	if u != Millimetre {
		whole = big.NewInt(144 * UnitsPerInch * UnitsPerInch * UnitsPerInch)
		if size := w.Section.size(); size.kind != metric {
			thickness = max(size.nominalThickness, UnitsPerInch)
			if size.kind == softwood {
				width = size.nominalWidth
			}
		}
	}
	n := big.NewInt(2_000_000)
	for _, l := range []Length{thickness, width, run} {
		n.Mul(n, big.NewInt(int64(l)))
	}
	n.Add(n, whole)
	return n.Div(n, whole.Lsh(whole, 1)).Int64()
}
