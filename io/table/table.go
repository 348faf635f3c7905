// Package table sets cells in columns: plain tables for a terminal.
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
// Cells are not broken over lines.
func Write(w io.Writer, columns []Column, rows [][]string) error {
	align := make([]tw.Align, len(columns))
	head := make([]any, len(columns))
	for i, c := range columns {
		head[i] = unbroken(c.Name)
		if align[i] = tw.AlignLeft; c.Align == Right {
			align[i] = tw.AlignRight
		}
	}
	var out strings.Builder
	t := tablewriter.NewTable(&out,
		tablewriter.WithHeaderAutoFormat(tw.Off),
		tablewriter.WithAlignment(align),
		tablewriter.WithPadding(tw.Padding{Left: "", Right: "  ", Overwrite: true}),
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
			cells[i] = unbroken(c)
		}
		if err := t.Append(cells...); err != nil {
			return err
		}
	}
	if err := t.Render(); err != nil {
		return err
	}
	for n, line := range strings.Split(strings.TrimRight(out.String(), "\n"), "\n") {
		line = strings.TrimRight(strings.ReplaceAll(line, noBreakSpace, " "), " ")
		if n == 1 {
			// the rule reaches under the padding of the last column
			line = strings.TrimSuffix(line, "--")
		}
		if _, err := io.WriteString(w, "  "+line+"\n"); err != nil {
			return err
		}
	}
	return nil
}

// unbroken keeps a cell on one line: the package wraps at blanks. What is printed has blanks again,
// so that a name in it can be searched for.
func unbroken(s string) string { return strings.ReplaceAll(s, " ", noBreakSpace) }

const noBreakSpace = "\u00a0"
