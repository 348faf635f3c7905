package main

import (
	"runtime/debug"
	"testing"
)

// gluedJob has parts that are made up in every way: of staves, of layers, of staves of different
// widths, several in one blank; and a spare copy that would be dear.
var gluedJob = files{
	"parts.csv": `commission,part,qty,material,length,width,thickness,section,face,staves,layers,spare
C-1 table,top,1,pine,20,15,1.5,,show,auto,,
C-1 table,post,1,pine,20,3,2.5,2x6,sound,,2,
C-2 chest,lid,2,oak,16,11,0.75,,show,auto,,
C-2 chest,bar,1,oak,16,3,0.75,,sound,,,1
C-2 chest,plug,3,ash,5,3.5,0.75,1x4,hidden,,,
`,
	"commissions.csv": `commission,due
C-1 table,2027-03-12
C-2 chest,2027-03-20
`,
	"rack.csv": `board,material,section,length
R-1,pine,2x6,66
`,
	"defects.csv": `board,from,to,kind
R-1,63,64,loose knot
`,
	"yard.csv": `material,section,length,width,price
pine,2x6,96,,9.50
oak,4/4,40,6.5,12
ash,1x4,30,,4
`,
	"shop.toml": `batch = "glue"

[allowance]
length = "1/2"

[glue_up]
panel = "1/4"
step = "1/2"
narrowest = "2 1/2"

[spare]
at_most = 0.5
`,
}

// TestEveryFieldOfAGlueUpIsJudged changes every field of a plan with parts that are made up, and of
// its job.
func TestEveryFieldOfAGlueUpIsJudged(t *testing.T) {
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	w := &walk{scene: set(t, "glued", gluedJob), t: t, let: make([]int, len(harmless)),
		seen: map[string]bool{}}
	for _, name := range []string{"cuts", "glue_ups"} {
		w.table("out/" + name + ".csv")
	}
	tables := w.tried
	w.document([]string{".placements", ".work"})
	document := w.tried
	w.inputs()
	t.Logf("%d changes of tables, %d of plan.json, %d of the job; %d rejected, %d read as before, "+
		"%d true of the other job", tables, document-tables, w.tried-document, w.rejected, w.same,
		w.true)
}
