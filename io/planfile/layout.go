package planfile

import "bytes"

// wide is how many bytes a list or object may have to stand in one line.
const wide = 320

// layout puts line breaks and spaces into compact JSON. What has at most wide bytes, or holds no
// list or object, stands in one line. Anything else has one item a line.
func layout(compact []byte) []byte {
	compact = bytes.TrimSpace(compact)
	all := brackets(compact)
	out := make([]byte, 0, len(compact)+len(compact)/2)
	var open []bool // whether each open one has its items on lines of their own
	line := func() {
		out = append(out, '\n')
		for range open {
			out = append(out, ' ')
		}
	}
	quoted := false
	for i := 0; i < len(compact); i++ {
		b := compact[i]
		switch {
		case quoted:
			out = append(out, b)
			if b == '\\' {
				i++
				out = append(out, compact[i])
			}
			quoted = b != '"'
		case b == '{' || b == '[':
			out = append(out, b)
			open = append(open, all[0].nested && all[0].end-i > wide)
			all = all[1:]
			if open[len(open)-1] {
				line()
			}
		case b == '}' || b == ']':
			broken := open[len(open)-1]
			open = open[:len(open)-1]
			if broken {
				line()
			}
			out = append(out, b)
		case b == ',':
			out = append(out, b)
			if open[len(open)-1] {
				line()
			} else {
				out = append(out, ' ')
			}
		case b == ':':
			out = append(out, ':', ' ')
		default:
			out = append(out, b)
			quoted = b == '"'
		}
	}
	return append(out, '\n')
}

// bracket is a list or object: where it ends, and whether it holds another one.
type bracket struct {
	end    int
	nested bool
}

// brackets finds lists and objects, in the order in which they begin.
func brackets(compact []byte) (all []bracket) {
	var open []int // in all
	quoted := false
	for i := 0; i < len(compact); i++ {
		switch b := compact[i]; {
		case quoted && b == '\\':
			i++
		case b == '"':
			quoted = !quoted
		case quoted:
		case b == '{' || b == '[':
			if len(open) > 0 {
				all[open[len(open)-1]].nested = true
			}
			open = append(open, len(all))
			all = append(all, bracket{})
		case b == '}' || b == ']':
			all[open[len(open)-1]].end = i
			open = open[:len(open)-1]
		}
	}
	return all
}
