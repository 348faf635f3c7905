package planfile

import "bytes"

// wide is how many bytes a list or object may have to stand in one line.
const wide = 320

// layout puts line breaks and spaces into compact JSON. What has at most wide bytes, or holds no
// list or object, stands in one line. Anything else has one item a line.
func layout(compact []byte) []byte {
	compact = bytes.TrimSpace(compact)
	ends, nested := brackets(compact)
	var out bytes.Buffer
	var broken []bool // whether each open bracket has its items on lines of their own
	line := func() {
		out.WriteByte('\n')
		for range len(broken) {
			out.WriteByte(' ')
		}
	}
	quoted := false
	for i := 0; i < len(compact); i++ {
		b := compact[i]
		switch {
		case quoted:
			out.WriteByte(b)
			if b == '\\' {
				i++
				out.WriteByte(compact[i])
			}
			quoted = b != '"'
		case b == '{' || b == '[':
			out.WriteByte(b)
			broken = append(broken, nested[i] && ends[i]-i > wide)
			if broken[len(broken)-1] {
				line()
			}
		case b == '}' || b == ']':
			last := broken[len(broken)-1]
			broken = broken[:len(broken)-1]
			if last {
				line()
			}
			out.WriteByte(b)
		case b == ',':
			out.WriteByte(b)
			if broken[len(broken)-1] {
				line()
			} else {
				out.WriteByte(' ')
			}
		case b == ':':
			out.WriteString(": ")
		default:
			out.WriteByte(b)
			quoted = b == '"'
		}
	}
	out.WriteByte('\n')
	return out.Bytes()
}

// brackets finds where each list and object ends, and whether it holds another one.
func brackets(compact []byte) (ends map[int]int, nested map[int]bool) {
	ends, nested = map[int]int{}, map[int]bool{}
	var open []int
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
				nested[open[len(open)-1]] = true
			}
			open = append(open, i)
		case b == '}' || b == ']':
			ends[open[len(open)-1]] = i
			open = open[:len(open)-1]
		}
	}
	return ends, nested
}
