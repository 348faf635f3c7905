package papers

import (
	"strconv"
	"strings"

	"rsc.io/qr"
)

// quiet is how many modules around a code stay white (ISO/IEC 18004, 4 on each side).
const quiet = 4

// code draws the QR code (ISO/IEC 18004, level M) of a text of ASCII in a square of side size, with
// its quiet zone inside. A text that is too long for one has none.
func (s *sheet) code(x, y, size float64, text string) {
	c, err := qr.Encode(text, qr.M)
	if err != nil {
		return
	}
	module := size / float64(c.Size+2*quiet)
	// In hundredths of a point, and each row as high as down to the next one: nothing shows
	// between.
	at := func(origin float64, n int) int64 {
		return int64((origin+float64(n+quiet)*module)*100/point + 0.5)
	}
	height := int64(s.h*100/point + 0.5)
	var path strings.Builder
	for row := range c.Size {
		low, high := height-at(y, row+1), height-at(y, row)
		for from := 0; from < c.Size; from++ {
			to := from
			for to < c.Size && c.Black(to, row) {
				to++
			}
			if to > from {
				left := at(x, from)
				for _, v := range []int64{left, low, at(x, to) - left, high - low} {
					hundredths(&path, v)
				}
				path.WriteString("re\n")
				from = to
			}
		}
	}
	s.pdf.RawWriteStr(path.String() + "f\n")
}

// hundredths writes a number of hundredths and a blank.
func hundredths(out *strings.Builder, n int64) {
	out.WriteString(strconv.FormatInt(n/100, 10))
	out.WriteByte('.')
	out.WriteByte(byte('0' + n/10%10))
	out.WriteByte(byte('0' + n%10))
	out.WriteByte(' ')
}
