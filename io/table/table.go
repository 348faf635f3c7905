// Package table sets cells in columns: plain tables for a terminal.
//
// Start at [Write]. A table is never wider than it may be: fit.go says which columns give way.
package table

import (
	"io"
	"strings"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"
)

// Align says to which side a column leans.
type Align bool

// The sides.
const (
	Left  Align = false
	Right Align = true
)

// Column is a heading and the side that its cells lean to.
type Column struct {
	Name  string
	Align Align
}

// Write prints rows under their columns, indented by two blanks, a rule of dashes under the head.
// Where that is wider than width columns, cells are broken over lines, those of columns that lean
// to the left first; where even so it is too wide, each row is a paragraph that names its cells.
// Nothing is left out.
func Write(w io.Writer, width int, columns []Column, rows [][]string) error {
	wide, fits := fit(width, columns, rows)
	if !fits {
		return paragraphs(w, width, columns, rows)
	}
	align := make([]tw.Align, len(columns))
	head := make([]any, len(columns))
	for i, c := range columns {
		head[i] = strings.Join(Break(c.Name, wide[i]), "\n")
		if align[i] = tw.AlignLeft; c.Align == Right {
			align[i] = tw.AlignRight
		}
	}
	var out strings.Builder
	t := tablewriter.NewTable(&out,
		tablewriter.WithHeaderAutoFormat(tw.Off),
		tablewriter.WithHeaderAutoWrap(tw.WrapNone),
		tablewriter.WithRowAutoWrap(tw.WrapNone),
		tablewriter.WithTrimSpace(tw.Off),
		tablewriter.WithAlignment(align),
		tablewriter.WithPadding(tw.Padding{Left: "", Right: gap, Overwrite: true}),
		tablewriter.WithRenderer(renderer.NewBlueprint()),
		tablewriter.WithRendition(tw.Rendition{
			Borders: tw.Border{Left: tw.Off, Right: tw.Off, Top: tw.Off, Bottom: tw.Off},
			Symbols: tw.NewSymbolCustom("plain").WithRow("-").WithColumn("").WithCenter(""),
			Settings: tw.Settings{
				Separators: tw.Separators{BetweenColumns: tw.Off, BetweenRows: tw.Off,
					ShowHeader: tw.On},
				Lines: tw.Lines{ShowHeaderLine: tw.On},
			},
		}))
	t.Header(head...)
	for _, r := range rows {
		cells := make([]any, len(r))
		for i, c := range r {
			cells[i] = strings.Join(Break(c, wide[i]), "\n")
		}
		if err := t.Append(cells...); err != nil {
			return err
		}
	}
	if err := t.Render(); err != nil {
		return err
	}
	rule := strings.Repeat("-", sum(wide)+len(gap)*(len(wide)-1))
	for line := range strings.Lines(out.String()) {
		line = strings.TrimRight(strings.ReplaceAll(line, noBreakSpace, " "), " \n")
		if strings.HasPrefix(line, rule) { // it reaches under the gap after the last column
			line = rule
		}
		if _, err := io.WriteString(w, indent+line+"\n"); err != nil {
			return err
		}
	}
	return nil
}

const (
	indent       = "  "
	gap          = "  " // between columns
	noBreakSpace = "\u00a0"
)
