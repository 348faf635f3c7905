package pages

import (
	"encoding/binary"
	"slices"
)

// The log has a head of 32 bytes: mark, form, page size, number, two salts, two sums. Before each
// page in it stands a head of 24: the page's number, the size of the file if a transaction ends
// here, the salts and two sums. With the words x0, x1, ... of what is summed, in the byte order
// that the mark says, each pair of words turns the sums a, b into
//
//	a' = a + x0 + b,  b' = b + x1 + a'      (32 bits)
//
// over the head of the log, and on from there over the first two words and the page of each head.
// What comes after a wrong sum or salt does not count, nor what no transaction ends behind.

// Image is the pages of a file as they count.
type Image struct {
	size  int
	file  []byte
	above map[int][]byte // pages of the log, which count in place of those of the file
	last  int
}

// Read takes in a file of pages of that size in bytes, a power of two, and its write-ahead log,
// which may be empty. Nothing is copied.
func Read(file, log []byte, size int) *Image {
	m := &Image{size: size, file: file, above: map[int][]byte{}, last: (len(file) + size - 1) / size}
	m.readLog(log)
	return m
}

const (
	logHead   = 32
	pageHead  = 24
	logMark   = 0x377f0682 // one more where words are big-endian
	mostPages = 1 << 31
)

func (m *Image) readLog(log []byte) {
	if len(log) < logHead {
		return
	}
	word := func(b []byte, n int) uint32 { return binary.BigEndian.Uint32(b[4*n:]) }
	var order binary.ByteOrder = binary.LittleEndian
	switch word(log, 0) {
	case logMark:
	case logMark + 1:
		order = binary.BigEndian
	default:
		return
	}
	s := sums{order: order}
	s.add(log[:24])
	if !s.are(log[24:]) || int64(word(log, 2)) != int64(m.size) {
		return
	}
	salts := log[16:24]
	open := map[int][]byte{}
	for rest := log[logHead:]; len(rest) >= pageHead+m.size; rest = rest[pageHead+m.size:] {
		head, page := rest[:pageHead], rest[pageHead:pageHead+m.size]
		s.add(head[:8])
		s.add(page)
		n := word(head, 0)
		if !slices.Equal(head[8:16], salts) || !s.are(head[16:]) || n == 0 || n >= mostPages {
			return
		}
		open[int(n)] = page
		if pages := word(head, 1); pages > 0 {
			for n, page := range open {
				m.above[n], m.last = page, max(m.last, n)
			}
			clear(open)
		}
	}
}

// sums are the two running sums of a log.
type sums struct {
	order binary.ByteOrder
	a, b  uint32
}

func (s *sums) add(bytes []byte) {
	for ; len(bytes) >= 8; bytes = bytes[8:] {
		s.a += s.order.Uint32(bytes) + s.b
		s.b += s.order.Uint32(bytes[4:]) + s.a
	}
}

func (s *sums) are(bytes []byte) bool {
	return s.a == binary.BigEndian.Uint32(bytes) && s.b == binary.BigEndian.Uint32(bytes[4:])
}

// page is a page by its number, from 1 on; the last one of the file may be cut short.
func (m *Image) page(n int) []byte {
	if page, is := m.above[n]; is {
		return page
	}
	from := (n - 1) * m.size
	if n < 1 || from >= len(m.file) {
		return nil
	}
	return m.file[from:min(from+m.size, len(m.file))]
}
