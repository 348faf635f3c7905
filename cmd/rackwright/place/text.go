package place

import "io"

// Text is a file in memory. It grows without being copied, as long ones are.
type Text struct{ blocks [][]byte }

const block = 1 << 16 // bytes

func (t *Text) Write(p []byte) (int, error) {
	n := len(p)
	for len(p) > 0 {
		last := len(t.blocks) - 1
		if last < 0 || len(t.blocks[last]) == cap(t.blocks[last]) {
			t.blocks = append(t.blocks, make([]byte, 0, block))
			continue
		}
		b := t.blocks[last]
		fits := min(len(p), cap(b)-len(b))
		t.blocks[last], p = append(b, p[:fits]...), p[fits:]
	}
	return n, nil
}

// WriteTo writes all of it.
func (t *Text) WriteTo(w io.Writer) (n int64, err error) {
	for _, b := range t.blocks {
		m, err := w.Write(b)
		if n += int64(m); err != nil {
			return n, err
		}
	}
	return n, nil
}
