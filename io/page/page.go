package page

import (
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"html/template"
	"io"
	"regexp"
	"strconv"
	"strings"

	"rackwright/io/drawing"
	"rackwright/io/layout"
	"rackwright/io/report"
	"rackwright/io/table"
	"rackwright/model"
	"rackwright/model/makeup"
)

//go:embed parts
var parts embed.FS

// Way is a way of planning the same job by a simple rule, to set the plan against.
type Way struct {
	Name    string
	Measure model.Measure
}

// view is what the templates show. Texts are visible; templates escape them.
type view struct {
	job  *model.Job
	plan *model.Plan

	Key         string // of this plan, for what the browser remembers
	Units       string
	Title       string
	Size        string // how many commissions, parts and pieces
	Revision    string // what of the plan before stays; empty: there is none
	Date        string
	Amounts     [][3]string
	Wood        []string
	Proof       []string
	Chart       template.HTML // empty: there are no ways to set the plan against
	Savings     []string
	Shortages   [][]string
	Yards       []yard
	Reserve     []yard
	ReserveWhy  string
	Missing     []string
	Work        *work
	Cautions    []string
	Signs       *drawn // what the drawings use without a word
	Boards      []*board
	Bins        []string
	Materials   []string
	Commissions []*commission
	Costs       *grid
	SpareCosts  string // what spare copies are of them; empty: there are none
	Choice      string // what of glue-ups is left to the maker; empty: there are none
	Offcuts     []offcut
	Groups      *grid
	Searches    string
}

// grid is a table: its columns, and rows of cells.
type grid struct {
	Columns []table.Column
	Rows    [][]string
}

// Write writes the page. Ways are the simple rules' plans of the job; none: the page says that the
// plan was not set against them. After an error a part of it is written.
func Write(w io.Writer, job *model.Job, plan *model.Plan, ways []Way) error {
	pages, err := templates()
	if err != nil {
		return err
	}
	v, err := newView(job, plan, ways)
	if err != nil {
		return err
	}
	defer v.drawAhead()()
	return pages.ExecuteTemplate(w, "page.html", v)
}

// templates reads the templates. Style and script stand in the page as they are; the page allows
// this script and no other.
func templates() (*template.Template, error) {
	style, err := parts.ReadFile("parts/page.css")
	if err != nil {
		return nil, err
	}
	script, err := parts.ReadFile("parts/page.js")
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(script)
	policy := "default-src 'none'; style-src 'unsafe-inline'; script-src 'sha256-" +
		base64.StdEncoding.EncodeToString(sum[:]) + "'"
	return template.New("").Funcs(template.FuncMap{
		"policy": func() template.HTMLAttr {
			return template.HTMLAttr(`content="` + policy + `"`)
		},
		"style":  element("style", style),
		"script": element("script", script),
		"right":  func(c table.Column) bool { return c.Align == table.Right },
		"count":  report.Count,
		"said":   said,
	}).ParseFS(parts, "parts/*.html")
}

// said is a text with what stands in quotes of code set as code.
func said(text string) template.HTML {
	var out strings.Builder
	for n, part := range strings.Split(text, "`") {
		if n > 0 {
			out.WriteString([]string{"</code>", "<code>"}[n%2])
		}
		out.WriteString(template.HTMLEscapeString(part))
	}
	if strings.Count(text, "`")%2 == 1 {
		out.WriteString("</code>")
	}
	return template.HTML(out.String())
}

// element has a text of ours in it, as it is.
func element(name string, text []byte) func() template.HTML {
	return func() template.HTML {
		return template.HTML("<" + name + ">" + string(text) + "</" + name + ">")
	}
}

func newView(job *model.Job, plan *model.Plan, ways []Way) (*view, error) {
	v := &view{job: job, plan: plan, Key: keyOf(job, plan), Title: "Plan", Date: plan.Date,
		Amounts: report.Amounts(job, plan),
		Wood:    visible(append(report.UseOfWood(job, plan), report.MadeUp(job)...)),
		Proof:   visible(report.Proof(job, plan)), Searches: report.Searches(plan)}
	if job.Settings.Batch != "" {
		v.Title = "Plan " + model.Visible(job.Settings.Batch)
	}
	if r := plan.Revision; r != nil {
		v.Title += fmt.Sprintf(", revision %d", r.Number)
		v.Revision = report.Revision(r)
	}
	v.Size = report.Size(job)
	for i := range plan.Shortages {
		v.Shortages = append(v.Shortages, visible(report.Shortage(job, &plan.Shortages[i])))
	}
	if len(plan.Groups) > 0 {
		columns, rows := report.Groups(job, plan)
		for i := range rows {
			rows[i] = visible(rows[i])
		}
		v.Groups = &grid{columns, rows}
	}
	if err := v.compare(ways); err != nil {
		return nil, err
	}
	v.buy()
	all := layout.Boards(job, plan)
	v.boards(all)
	var err error
	if v.Signs, err = picture(drawing.Signs(onScreen)); err != nil {
		return nil, err
	}
	v.order()
	v.Cautions = visible(report.AllCautions(job, plan))
	v.commissions()
	v.SpareCosts = unbroken(model.Visible(report.SpareCosts(job, plan)))
	if makeup.GluesUp(job) {
		v.Choice = report.MakersChoice
	}
	v.offcuts()
	return v, nil
}

// compare sets the plan against the simple rules.
func (v *view) compare(ways []Way) error {
	if len(ways) == 0 {
		return nil
	}
	ways = append(ways[:len(ways):len(ways)], Way{"this plan", model.MeasureOf(v.plan)})
	var names []string
	var measures []model.Measure
	for _, w := range ways {
		names, measures = append(names, w.Name), append(measures, w.Measure)
	}
	var b strings.Builder
	if err := Savings(&b, v.job, v.plan, ways[:len(ways)-1]); err != nil {
		return err
	}
	v.Chart = template.HTML(b.String())
	v.Savings = visible(report.Savings(names, measures, false))
	return nil
}

// keyOf tells plans apart: the same for the same work.
func keyOf(job *model.Job, plan *model.Plan) string {
	sum := sha256.New()
	var row []byte
	text := func(all ...string) {
		for _, s := range all {
			row = append(binary.AppendUvarint(row, uint64(len(s))), s...)
		}
	}
	number := func(all ...int64) {
		for _, n := range all {
			row = binary.AppendVarint(row, n)
		}
	}
	text(string(job.Settings.Units))
	number(int64(len(plan.Cuts)))
	for i := range plan.Cuts {
		c := &plan.Cuts[i]
		text(c.Board, string(c.Origin), c.Material, string(c.Section), string(c.Kind),
			c.Commission, c.Part, c.Offcut)
		number(int64(c.Step), int64(c.From), int64(c.To), int64(c.Left), int64(c.Right), c.Copy,
			int64(c.Face))
		sum.Write(row)
		row = row[:0]
	}
	for i := range plan.Buy {
		p := &plan.Buy[i]
		text(p.Material, string(p.Section), string(p.Surface), p.Yard, p.Grade,
			strings.Join(p.Boards, " "))
		number(int64(p.Length), int64(p.Width), p.Qty, int64(p.Price), int64(p.Total),
			int64(p.Tax), p.Tally)
		row = strconv.AppendBool(row, p.Reserve)
	}
	sum.Write(row)
	return hex.EncodeToString(sum.Sum(nil)[:8])
}

// visible are texts with their signs made visible. Neither a length nor a share breaks in two.
func visible(texts []string) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = unbroken(model.Visible(t))
	}
	return out
}

var mixed = regexp.MustCompile(`(\d) (\d+/\d+)`) // a whole number and a fraction

func unbroken(text string) string {
	text = strings.ReplaceAll(text, " %", model.NoBreakSpace+"%")
	return mixed.ReplaceAllString(text, "$1"+model.NoBreakSpace+"$2")
}

// size is a length by a width.
func (v *view) size(long, wide model.Length) string {
	return fmt.Sprintf("%s × %s", v.length(long), v.length(wide))
}

func (v *view) length(l model.Length) string { return v.job.Settings.Show(l) }
func (v *view) atYard(l model.Length) string { return v.job.Settings.ShowAtYard(l) }
