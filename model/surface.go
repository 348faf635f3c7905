package model

// Faces and edges as wood comes. What a surface means for a blank is common practice: rough stock
// is sawn and uneven on all sides, stock planed on two sides (S2S) has flat faces and edges as
// sawn.
//
//	surface   width of the blank     thickness of the blank
//	rough     width + 2 edge         thickness + [allowance] thickness
//	S2S       width + 2 edge         the stock's own, or thickness + [allowance] thickness_s2s
//	none      the board's own, or    the stock's own, or
//	          width + 2 edge         thickness + [allowance] thickness
//
// None are the softwood sections, which come dressed on four sides, and metric sections of which
// nothing else is said. Why rough stock as thick as the part does not hold it: nothing would be
// left to plane the saw marks off.

// SurfaceFor says how wood of one material and section comes of which no row says it. Quarters have
// a surface always, softwood sections never; a metric section has one where its own table or that
// of its material in shop.toml sets it.
func (s *Settings) SurfaceFor(material string, section Section) Surface {
	switch section.size(Condition{}).kind {
	case quarters:
		return s.ConditionFor(material, section).Surface
	case metric:
		var own Surface
		for _, o := range []Override{s.Materials[material], s.Sections[section]} {
			setWhereGiven(&own, o.Surface)
		}
		return own
	}
	return ""
}

// Finish is what is done to the faces and edges of a blank to make the part of it.
type Finish struct {
	Sawn   bool // both edges; else they are the board's own
	Planed bool // the faces; else they are the board's own
	// what is planed off both faces together
	Thickness Length
}

// finish is what is done to a blank of a part in one wood, by the table above.
func (a *Allowance) finish(p *Part, w *Wood) Finish {
	f := Finish{Sawn: p.Width != w.Width, Planed: p.Thickness != w.Thickness,
		Thickness: a.Thickness}
	switch w.Surface {
	case Rough:
		f.Sawn, f.Planed = true, true
	case S2S:
		f.Sawn, f.Thickness = true, a.ThicknessS2S
	}
	if !f.Planed {
		f.Thickness = 0
	}
	return f
}
