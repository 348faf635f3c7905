package pages

import (
	"encoding/binary"
	"maps"
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
//
// Where a page of the log is damaged, though, whole transactions may stand behind it. They have the
// same salts, and their last page says so. It may also be a rest of an older log there, if one was
// written over.

// Image is the pages of a file as they count.
type Image struct {
	size  int
	file  []byte
	above map[int][]byte // pages of the log, which count in place of those of the file
	rest  map[int][]byte // those that stand behind a damaged one, or nil
	last  int
}

// Read takes in a file of pages of that size in bytes, a power of two, and its write-ahead log,
// which may be empty. Nothing is copied.
func Read(file, log []byte, size int) *Image {
	m := &Image{size: size, file: file, above: map[int][]byte{},
		last: (len(file) + size - 1) / size}
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
	frames := m.frames(log)
	if len(frames) == 0 {
		return
	}
	s := sums{order: binary.LittleEndian}
	mark := binary.BigEndian.Uint32(log)
	if mark == logMark+1 {
		s.order = binary.BigEndian
	}
	s.add(log[:24])
	sound := mark&^1 == logMark && s.are(log[24:]) &&
		int64(binary.BigEndian.Uint32(log[8:])) == int64(m.size)
	salts := log[16:24]
	if !sound {
		salts = frames[0].salts
	}
	open := map[int][]byte{} // what no transaction ends behind yet
	m.rest = map[int][]byte{}
	for _, f := range frames {
		s.add(f.head)
		s.add(f.page)
		if !slices.Equal(f.salts, salts) || f.number == 0 || f.number >= mostPages {
			sound = false
			continue
		}
		sound = sound && s.are(f.sums)
		if open[f.number] = f.page; !f.ends {
			continue
		}
		to := m.above
		if !sound {
			to = m.rest
		}
		maps.Copy(to, open)
		clear(open)
	}
	for n := range m.above {
		m.last = max(m.last, n)
	}
}

// frame is a page of the log with its head.
type frame struct {
	number                  int
	ends                    bool // a transaction ends with it
	head, salts, sums, page []byte
}

func (m *Image) frames(log []byte) (all []frame) {
	if len(log) < logHead {
		return nil
	}
	for rest := log[logHead:]; len(rest) >= pageHead+m.size; rest = rest[pageHead+m.size:] {
		all = append(all, frame{int(binary.BigEndian.Uint32(rest)),
			binary.BigEndian.Uint32(rest[4:]) > 0, rest[:8], rest[8:16], rest[16:24],
			rest[pageHead : pageHead+m.size]})
	}
	return all
}

// Behind is the pages as they would count if those of the log did that stand behind a damaged one;
// nil if there are none.
func (m *Image) Behind() *Image {
	if len(m.rest) == 0 {
		return nil
	}
	b := &Image{size: m.size, file: m.file, above: maps.Clone(m.above), last: m.last}
	for n, page := range m.rest {
		b.above[n], b.last = page, max(b.last, n)
	}
	return b
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
