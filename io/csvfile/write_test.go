package csvfile

import (
	"bytes"
	"io"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rackwright/model"
)

// No cell that is written runs as a formula in a spreadsheet, whatever it was; a value below 0
// stays a number.
func TestFormulasAreGuarded(t *testing.T) {
	var b bytes.Buffer
	err := WriteCosts(&b, []model.Cost{{Commission: "=1+1"}, {Commission: "+1"}, {Commission: "-1"},
		{Commission: "@x"}, {Commission: "'=1"}, {Commission: "'s"},
		{Commission: "a=1", Cost: -12500}})
	if err != nil {
		t.Fatal(err)
	}
	want := "commission,cost,yard_cost,rack_cost,handling,ripping,offcut_credit,tally\n" +
		"'=1+1,0.00,0.00,0.00,0.00,0.00,0.00,0\n'+1,0.00,0.00,0.00,0.00,0.00,0.00,0\n" +
		"'-1,0.00,0.00,0.00,0.00,0.00,0.00,0\n'@x,0.00,0.00,0.00,0.00,0.00,0.00,0\n" +
		"''=1,0.00,0.00,0.00,0.00,0.00,0.00,0\n's,0.00,0.00,0.00,0.00,0.00,0.00,0\n" +
		"a=1,-1.25,0.00,0.00,0.00,0.00,0.00,0\n"
	if d := cmp.Diff(want, b.String()); d != "" {
		t.Error(d)
	}
}

// The columns of the files that we write are those of the design, also of an empty table.
func TestHeaders(t *testing.T) {
	for want, write := range map[string]func(io.Writer) error{
		"board,origin,material,section,step,kind,from,to,left,right,commission,part,copy,face," +
			"offcut\n": func(w io.Writer) error {
			return WriteCuts(w, nil, nil, model.Inch)
		},
		"material,section,length,qty,price,total,tally,width,surface,yard,grade,tax," +
			"reserve,boards\n": func(w io.Writer) error {
			return WriteBuy(w,
				nil, model.Inch)
		},
		"board,material,section,length,qty,width,thickness,surface,bin,value,since,for,untouched," +
			"longest,note\n": func(w io.Writer) error {
			return WriteRack(w,
				nil, model.Inch)
		},
		"board,from,to,kind,left,right\n": func(w io.Writer) error {
			return WriteDefects(w,
				nil, model.Inch)
		},
		"pass,sequence,saw,setting,board,step,piece\n": func(w io.Writer) error {
			return WriteOrder(w,
				nil, model.Inch)
		},
		"commission,cost,yard_cost,rack_cost,handling,ripping,offcut_credit," +
			"tally\n": func(w io.Writer) error {
			return WriteCosts(w,
				nil)
		},
	} {
		var b bytes.Buffer
		if err := write(&b); err != nil || b.String() != want {
			t.Errorf("%v %q, want %q", err, b.String(), want)
		}
	}
}
