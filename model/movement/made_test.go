package movement

import (
	"testing"

	"rackwright/model"
)

// Pieces count by the width of what they make, once, and as the part itself where some of its
// copies are cut as they are.
func TestWidePartsOfPieces(t *testing.T) {
	of := func(name string, width model.Length, makes string) model.Part {
		p := model.Part{Commission: "C", Name: name, Width: width, Material: "oak"}
		if makes != "" {
			p.Makes = &model.Makes{Part: makes, Width: 35, Length: 60, Thickness: 2}
		}
		return p
	}
	j := &model.Job{Settings: model.DefaultSettings(), Commissions: []model.Commission{{Name: "C"}},
		Parts: []model.Part{of("top, stave of 7", 5, "top"), of("top, stave of 8", 4, "top"),
			of("shelf", 35, ""), of("shelf, spare", 35, "shelf"), of("rail", 3, "")}}
	w := WideParts(j, 6)
	if len(w) != 1 || len(w[0].Parts) != 2 || w[0].Parts[0].Name != "top" ||
		w[0].Parts[0].Width != 35 || w[0].Parts[1].Name != "shelf" {
		t.Errorf("%+v", w)
	}
	if j.Parts[0].Name != "top, stave of 7" {
		t.Error("the job has changed")
	}
}
