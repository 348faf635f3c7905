package table

import (
	"io"
	"slices"
	"strings"

	"github.com/clipperhouse/displaywidth"
	"github.com/olekukonko/tablewriter/pkg/twwidth"
)

// A column is as wide as its widest cell and its head, if there is room for that. If not, columns
// are made narrower by one, the widest ahead, again and again: first those with a head wider than
// all cells, then those that lean to the left, then the others. A column stays wide enough for its
// longest word; one that leans to the left may break words that are longer than longestWord.

const longestWord = 16

// fit finds how wide each column is to be so that the table has at most width columns of the
// terminal; it may not fit at all.
func fit(width int, columns []Column, rows [][]string) (wide []int, fits bool) {
	wide, least := make([]int, len(columns)), make([]int, len(columns))
	cells := make([]int, len(columns)) // how wide a column is without its head
	for i, c := range columns {
		head := longest(c.Name)
		least[i] = head
		for _, r := range rows {
			cells[i], least[i] = max(cells[i], Width(r[i])), max(least[i], longest(r[i]))
		}
		wide[i], cells[i] = max(cells[i], Width(c.Name)), max(cells[i], head)
		if c.Align == Left {
			least[i] = min(least[i], max(longestWord, head))
		}
	}
	room := width - len(indent) - len(gap)*(len(columns)-1)
	if sum(least) > room {
		return nil, false
	}
	give := func(may func(i int) bool) {
		for sum(wide) > room {
			at := -1
			for i := range wide {
				if may(i) && wide[i] > least[i] && (at < 0 || wide[i] > wide[at]) {
					at = i
				}
			}
			if at < 0 {
				break
			}
			wide[at]--
		}
	}
	give(func(i int) bool { return wide[i] > cells[i] })
	give(func(i int) bool { return columns[i].Align == Left })
	give(func(i int) bool { return true })
	return wide, true
}

// Natural is how wide a table is if nothing gives way.
func Natural(columns []Column, rows [][]string) int {
	n := len(indent) + len(gap)*(len(columns)-1)
	for i, c := range columns {
		wide := Width(c.Name)
		for _, r := range rows {
			wide = max(wide, Width(r[i]))
		}
		n += wide
	}
	return n
}

// paragraphs prints each row as one: the first cell that leans to the left is its title, and the
// others stand behind their columns' names. Empty ones are left out.
func paragraphs(w io.Writer, width int, columns []Column, rows [][]string) error {
	title := max(0, slices.IndexFunc(columns, func(c Column) bool { return c.Align == Left }))
	for _, r := range rows {
		var told []string
		for i, c := range columns {
			if i != title && r[i] != "" {
				told = append(told, c.Name+" "+r[i])
			}
		}
		lines := Break(r[title], width-len(indent))
		for _, line := range Break(strings.Join(told, ", "), width-2*len(indent)) {
			lines = append(lines, indent+line)
		}
		for _, line := range lines {
			line = strings.TrimRight(indent+strings.ReplaceAll(line, noBreakSpace, " "), " ")
			if _, err := io.WriteString(w, line+"\n"); err != nil {
				return err
			}
		}
	}
	return nil
}

// Width is how many columns of a terminal a text takes. Letters of some scripts take two.
func Width(text string) int { return twwidth.Width(text) }

// Break parts a text at blanks into lines of at most width columns. A word that is wider is parted,
// too, but never within a letter and its accents. There is one line at least.
func Break(text string, width int) (lines []string) {
	if Width(text) <= width {
		return []string{text}
	}
	line := ""
	for n, word := range strings.Split(text, " ") {
		if n > 0 && Width(line)+1+Width(word) <= width {
			line += " " + word
			continue
		}
		if n > 0 {
			lines, line = append(lines, line), ""
		}
		for letters := displaywidth.StringGraphemes(word); letters.Next(); {
			if l := letters.Value(); line != "" && Width(line)+Width(l) > width {
				lines, line = append(lines, line), l
			} else {
				line += l
			}
		}
	}
	return append(lines, line)
}

func longest(text string) (n int) {
	for _, word := range strings.Split(text, " ") {
		n = max(n, Width(word))
	}
	return n
}

func sum(list []int) (n int) {
	for _, i := range list {
		n += i
	}
	return n
}
