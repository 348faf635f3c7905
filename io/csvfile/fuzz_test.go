package csvfile

import (
	"bytes"
	"testing"
	"testing/fstest"

	"rackwright/model"
)

// Whatever stands in the files of a job, reading gives a job that passes its own checks and writes what reads back the same,
// or mistakes that all name a file and a remedy.
func FuzzReadJob(f *testing.F) {
	f.Add("parts.csv", []byte(plain["parts.csv"]))
	f.Add("rack.csv", []byte(rackHead+"A1,oak,2x6,96,3,,,\n"))
	f.Add("defects.csv", []byte(defectHead+"A1,1,2,knot,,\nA2,0,\"35 1/4\"\"\",check,1,2\n"))
	f.Add("yard.csv", []byte("material;section;length;price\noak;2x6;96,5;12,50\n"))
	f.Add("commissions.csv", []byte("commission,due,note\nBench,2026-04-01,\"a,b\"\n"))
	f.Add("shop.toml", []byte("units = \"mm\"\n[kerf]\nrip = 3\n"))
	for _, b := range badFiles {
		if len(b.text) < 200 {
			f.Add(b.file, []byte(b.text))
		}
	}
	f.Fuzz(func(t *testing.T, name string, data []byte) {
		switch name {
		case "parts.csv", "rack.csv", "defects.csv", "yard.csv", "commissions.csv", "shop.toml":
		default:
			name = "parts.csv"
		}
		fsys := folder(nil)
		fsys[name] = &fstest.MapFile{Data: data, Mode: 0o644}
		job, _, err := ReadJob(fsys)
		if err != nil {
			for _, e := range err.(model.InputErrors) {
				if e.File == "" || e.Remedy == "" || e.Cause == "" || e.Code == "" {
					t.Fatalf("%+v", e)
				}
			}
			return
		}
		var first, second bytes.Buffer
		if err := WriteParts(&first, job.Parts, job.Settings.Units); err != nil {
			t.Fatal(err)
		}
		fsys["parts.csv"] = &fstest.MapFile{Data: first.Bytes(), Mode: 0o644}
		again, _, err := ReadJob(fsys)
		if err != nil {
			t.Fatalf("%v\n%s", err, first.Bytes())
		}
		if err := WriteParts(&second, again.Parts, job.Settings.Units); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(first.Bytes(), second.Bytes()) {
			t.Fatalf("%s\n%s", first.Bytes(), second.Bytes())
		}
	})
}

// What is read as cuts writes the same cuts again.
func FuzzReadCuts(f *testing.F) {
	f.Add([]byte("board,origin,material,section,step,kind,from,to,left,right,commission,part,copy,face,offcut\n" +
		"A1,rack,oak,2x6,1,part,0.5,16,0,5.5,Bench,Leg,1,show,\nA1,rack,oak,2x6,1,offcut,16,40,0,5.5,,,,,'=M1\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		cuts, err := ReadCuts(bytes.NewReader(data), "cuts.csv", model.Millimetre)
		if err != nil {
			return
		}
		var first, second bytes.Buffer
		if err := WriteCuts(&first, cuts, model.Millimetre); err != nil {
			t.Fatal(err)
		}
		again, err := ReadCuts(bytes.NewReader(first.Bytes()), "cuts.csv", model.Millimetre)
		if err != nil {
			t.Fatalf("%v\n%s", err, first.Bytes())
		}
		if err := WriteCuts(&second, again, model.Millimetre); err != nil || !bytes.Equal(first.Bytes(), second.Bytes()) {
			t.Fatalf("%v\n%s\n%s", err, first.Bytes(), second.Bytes())
		}
	})
}
