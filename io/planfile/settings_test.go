package planfile

import (
	"bytes"
	"testing"

	"rackwright/model"
)

// What a shop says nothing of does not stand in a plan: its bytes are as they were before there
// was anything to say. What it says is read back.
func TestSparesAndMachines(t *testing.T) {
	const in = model.UnitsPerInch
	job, plan := sample()
	write := func() []byte {
		var b bytes.Buffer
		if err := Write(&b, job, plan); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	job.Settings.Machine, job.Settings.SpareAtMost = model.Machine{}, 0
	before := write()
	for _, word := range []string{"machine", "planer", "jointer", "spare_at_most",
		"staves", "layers"} {
		if bytes.Contains(before, []byte(`"`+word)) {
			t.Errorf("%s stands there", word)
		}
	}
	for _, m := range []model.Machine{{JointerWidth: 6 * in}, {PlanerWidth: 12 * in},
		{PlanerShortest: 10 * in}} {
		job.Settings.Machine, job.Settings.SpareAtMost = m, 12500
		got, _, err := Read(bytes.NewReader(write()))
		if err != nil || got.Settings.Machine != m || got.Settings.SpareAtMost != 12500 {
			t.Errorf("%+v: %v", m, err)
		}
	}
}
