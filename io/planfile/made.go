package planfile

import (
	"slices"

	"rackwright/model"
)

// What a plan says of parts that are made up. The pieces of these are made again as the plan is
// read, before it is checked. So what cannot be made at all, or would be endless, is refused here.

// judgeMadeUp says what no plan can hold of how its parts are made up.
func judgeMadeUp(bad func(format string, args ...any), doc *document) {
	job := doc.Job.job()
	if is := makesUp(job); is != (doc.Version == MadeVersion) {
		bad("version %d has parts that are made up, or pieces of such, and no other has",
			MadeVersion)
	}
	if doc.Version != MadeVersion && len(doc.Made) > 0 {
		bad("made stands in version %d alone", MadeVersion)
	}
	for i := range job.Parts {
		p := &job.Parts[i]
		if p.InOne != 0 && p.InOne != model.Auto {
			bad("part %q of %q: in_one is %d, and no number is given to a plan", p.Name,
				p.Commission, p.InOne)
		}
		if p.Makes != nil {
			judgeMakes(bad, p, p.Makes)
		}
	}
	left := int64(model.MostCopies)
	for i := range doc.Made {
		left = judgeMade(bad, i+1, &doc.Made[i], left)
	}
	if left < 0 {
		bad("made: there are more than %d pieces", model.MostCopies)
	}
}

// judgeMade says what no way can be in which copies of a part are made. So many pieces may be left;
// below 0 there are too many.
func judgeMade(bad func(format string, args ...any), number int, m *model.Made,
	left int64) int64 {
	wrong := false
	say := func(format string, args ...any) {
		bad("made %d: "+format, append([]any{number}, args...)...)
		wrong = true
	}
	for _, l := range []struct {
		name         string
		least, value model.Length
	}{{"length", 1, m.Length}, {"width", 1, m.Width}, {"thickness", 1, m.Thickness},
		{"net", 0, m.Net}} {
		if l.value < l.least || l.value > model.LongestLength {
			say("%s %d is not from %d to %d", l.name, l.value, l.least, model.LongestLength)
		}
	}
	for _, n := range []struct {
		name        string
		most, value int64
	}{{"staves", model.MostPieces, m.Staves}, {"layers", model.MostPieces, m.Layers},
		{"in_one", model.MostCopies, m.InOne}} {
		if n.value < 1 || n.value > n.most {
			say("%s %d is not from 1 to %d", n.name, n.value, n.most)
		}
	}
	if len(m.Copies) == 0 || !rising(m.Copies) {
		say("copies are not numbers from 1 on that rise")
	}
	if m.Nets != nil && (int64(len(m.Nets)) != m.Staves || m.InOne != 1 || m.Net != 0) {
		say("nets are not those of %d staves", m.Staves)
	}
	for n, net := range m.Nets {
		if net < 1 || net > model.LongestLength || n > 0 && net < m.Nets[n-1] {
			say("net %d does not rise from 1 on", net)
		}
	}
	if wrong || left < 0 {
		return left
	}
	blanks := (int64(len(m.Copies)) + m.InOne - 1) / m.InOne
	return left - blanks*m.Staves*m.Layers
}

// rising says whether numbers rise, from 1 on.
func rising(numbers []int64) bool {
	last := int64(0)
	for _, n := range numbers {
		if n <= last {
			return false
		}
		last = n
	}
	return true
}

// judgeMakes says what no piece of a part can make.
func judgeMakes(bad func(format string, args ...any), p *model.Part, m *model.Makes) {
	say := func(format string, args ...any) {
		bad("part %q of %q: it "+format, append([]any{p.Name, p.Commission}, args...)...)
	}
	if p.MadeUp() {
		say("is a piece, and is made up itself")
	}
	if m.Part == "" {
		say("is a piece, and of no part")
	}
	for _, l := range []model.Length{m.Length, m.Width, m.Thickness} {
		if l < 1 || l > model.LongestLength {
			say("makes a part with a size of %d", l)
		}
	}
	if m.Wanted < 0 || m.Wanted > model.MostCopies {
		say("is of a part that is wanted %d times", m.Wanted)
	}
	if m.InOne < 1 || m.InOne > model.MostCopies || m.Net < 0 || m.Net > model.LongestLength {
		say("has in_one %d and net %d", m.InOne, m.Net)
	}
	if int64(len(m.Of)) != p.All() {
		say("says of %d copies what they make; there are %d", len(m.Of), p.All())
	}
	if slices.ContainsFunc(m.Of, func(o model.Member) bool {
		return len(o.Copies) == 0 || int64(len(o.Copies)) > m.InOne || !rising(o.Copies) ||
			o.Stave < 1 || o.Stave > o.Staves || o.Staves > model.MostPieces ||
			o.Layer < 1 || o.Layer > o.Layers || o.Layers > model.MostPieces
	}) {
		say("makes something that no piece makes")
	}
}

// judgeWants says what no certificate can say of parts that are made up.
func judgeWants(bad func(format string, args ...any), g *model.Group) {
	cert := &g.Certificate
	for n := range cert.Wants {
		w := &cert.Wants[n]
		say := func(format string, args ...any) {
			bad("group %q, want %d: "+format, append([]any{g.Name, n}, args...)...)
		}
		no := func(item int) bool { return item < 0 || item >= len(cert.Items) }
		if w.Demand < 0 || w.Forgo != nil && *w.Forgo < 0 {
			say("demand or forgo is below 0")
		}
		if slices.ContainsFunc(w.Ways, func(v model.CertWay) bool {
			return no(v.Item) || v.Pieces < 1 || v.Copies < 1
		}) {
			say("a way is of no item, or its pieces or copies are below 1")
		}
		for k := range w.Covers {
			v := &w.Covers[k]
			if v.Need < 1 || v.Layers < 1 || len(v.Staves) == 0 {
				say("cover %d has a need or layers below 1, or no staves", k)
			}
			if slices.ContainsFunc(v.Staves, func(s model.CertStave) bool {
				return no(s.Item) || s.Steps < 1
			}) {
				say("a stave of cover %d is of no item, or its steps are below 1", k)
			}
		}
	}
}
