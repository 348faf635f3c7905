package pages

import (
	"encoding/binary"
	"math"
)

// A page that ends a table has a head of 8 bytes, whose fourth and fifth say how many rows it has,
// and then for each row two bytes that say where on the page it begins. Page 1 has 100 bytes more
// before. A row is
//
//	length of its record, its number, its record
//
// the first two as numbers of variable length. Of a record of P bytes that does not fit on a page
// of U, with X = U - 35, M = (U - 12) 32/255 - 23 and K = M + (P - M) mod (U - 4), the first K
// bytes stand there if K <= X, else the first M. Four more say on which page it goes on; that one
// begins with the number of the next. A record is
//
//	length of its head, a type for each cell   (the head)
//	the cells
//
// all numbers of the head of variable length, as said at sqlite.org/fileformat2.html.

// Row is a row of some table. A cell is nil, an int64, a float64, a string or a []byte. A column
// that is the number of its row stands as nil.
type Row struct {
	Number int64
	Cells  []any
}

// Rows hands over the rows on all pages, in the order of the pages. Also those pages are tried that
// say of themselves that they are of another kind.
func (m *Image) Rows(take func(Row)) {
	for n := 1; n <= m.last; n++ {
		page := m.page(n)
		head := 0
		if n == 1 {
			head = 100
		}
		if len(page) < head+8 {
			continue
		}
		count := int(binary.BigEndian.Uint16(page[head+3:]))
		for i := range count {
			at := head + 8 + 2*i
			if at+2 > len(page) {
				break
			}
			from := int(binary.BigEndian.Uint16(page[at:])) & (m.size - 1) // as SQLite does
			if from < at+2 || from >= len(page) {
				continue
			}
			if row, ok := m.row(page[from:]); ok {
				take(row)
			}
		}
	}
}

// row reads the row that bytes of a page begin with.
func (m *Image) row(from []byte) (row Row, ok bool) {
	length, from, ok1 := number(from)
	at, from, ok2 := number(from)
	if !ok1 || !ok2 || length < 1 || length > int64(m.last)*int64(m.size) {
		return row, false
	}
	record, ok := m.record(from, int(length))
	if !ok {
		return row, false
	}
	row.Number = at
	row.Cells, ok = cells(record)
	return row, ok
}

// record puts together a record of that length.
func (m *Image) record(from []byte, length int) ([]byte, bool) {
	here, low := length, (m.size-12)*32/255-23
	if length > m.size-35 {
		if here = low + (length-low)%(m.size-4); here > m.size-35 {
			here = low
		}
	}
	if here == length {
		if len(from) < length {
			return nil, false
		}
		return from[:length], true
	}
	if len(from) < here+4 {
		return nil, false
	}
	record := append([]byte{}, from[:here]...)
	next := binary.BigEndian.Uint32(from[here:])
	for len(record) < length {
		page := m.page(int(next))
		if len(page) < m.size {
			return nil, false
		}
		next = binary.BigEndian.Uint32(page)
		record = append(record, page[4:min(m.size, 4+length-len(record))]...)
	}
	return record, true
}

// cells reads a record.
func cells(record []byte) (cells []any, ok bool) {
	size, rest, ok := number(record)
	used := int64(len(record) - len(rest))
	if !ok || size < used || size > int64(len(record)) {
		return nil, false
	}
	head, body := record[used:size], record[size:]
	for len(head) > 0 {
		var kind int64
		if kind, head, ok = number(head); !ok {
			return nil, false
		}
		var c any
		if c, body, ok = cell(kind, body); !ok {
			return nil, false
		}
		cells = append(cells, c)
	}
	return cells, true
}

// wholes are the lengths of whole numbers by their type.
var wholes = [...]int64{1: 1, 2: 2, 3: 3, 4: 4, 5: 6, 6: 8}

// cell reads a cell of a type, and gives what stands behind it.
func cell(kind int64, body []byte) (any, []byte, bool) {
	size := int64(0)
	switch {
	case kind < 0 || kind == 10 || kind == 11:
		return nil, nil, false
	case kind >= 12:
		size = (kind - 12) / 2
	case kind == 7:
		size = 8
	case kind < 7:
		size = wholes[kind]
	}
	if size > int64(len(body)) {
		return nil, nil, false
	}
	is, rest := body[:size], body[size:]
	switch {
	case kind == 0:
		return nil, rest, true
	case kind == 7:
		return math.Float64frombits(binary.BigEndian.Uint64(is)), rest, true
	case kind == 8 || kind == 9:
		return kind - 8, rest, true
	case kind >= 12 && kind%2 == 0:
		return is, rest, true
	case kind >= 12:
		return string(is), rest, true
	}
	n := int64(int8(is[0]))
	for _, b := range is[1:] {
		n = n<<8 | int64(b)
	}
	return n, rest, true
}

// number reads a number of variable length, high bits first: seven bits a byte as long as the
// eighth is set, and all eight of a ninth byte.
func number(from []byte) (n int64, rest []byte, ok bool) {
	for i, b := range from {
		if i == 8 {
			return n<<8 | int64(b), from[9:], true
		}
		n = n<<7 | int64(b&0x7f)
		if b < 0x80 {
			return n, from[i+1:], true
		}
	}
	return 0, nil, false
}
