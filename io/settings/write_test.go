package settings

import (
	"bytes"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"rackwright/model"
)

// The file written for a new shop has every key once, with its meaning, and reads as the settings
// of a shop that leaves all of them out.
func TestWrite(t *testing.T) {
	for _, u := range []model.Unit{model.Inch, model.Millimetre} {
		var b bytes.Buffer
		if err := Write(&b, u); err != nil {
			t.Fatal(err)
		}
		got, err := Read(bytes.NewReader(b.Bytes()), "shop.toml")
		want := model.DefaultSettingsIn(u)
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %v\n%+v\n%+v", u, err, got, want)
		}
		rd := &reader{lines: map[string]int{}}
		if twice := rd.findLines(b.Bytes()); twice != "" {
			t.Errorf("%s stands twice", twice)
		}
		lines := strings.Split(b.String(), "\n")
		for _, k := range keyTable(&want) {
			n := rd.lines[k.name]
			if n < 2 || k.about == "" || lines[n-2] != "# "+k.about {
				t.Errorf("%s of %s does not stand there with its meaning", k.name, u)
			}
		}
		for n, line := range lines {
			if utf8.RuneCountInString(line) > 80 {
				t.Errorf("line %d is too long: %s", n+1, line)
			}
		}
	}
}

// Every length of the settings is in the table of keys, and every field of the settings is set by
// one of its keys; those of single materials, sections and yards are set by tables of their own.
func TestEveryFieldHasAKey(t *testing.T) {
	var s model.Settings
	var at []uintptr
	for _, k := range keyTable(&s) {
		at = append(at, reflect.ValueOf(k.at).Pointer())
	}
	for _, l := range s.Lengths() {
		if !slices.Contains(at, reflect.ValueOf(l.Value).Pointer()) {
			t.Errorf("%s is no key", l.Key)
		}
	}
	var walk func(name string, v reflect.Value)
	walk = func(name string, v reflect.Value) {
		_, isFraction := v.Interface().(model.Fraction)
		switch {
		case slices.Contains([]string{".Materials", ".Sections", ".Yards",
			".Bins"}, name):
		case v.Kind() == reflect.Struct && !isFraction:
			for i := range v.NumField() {
				walk(name+"."+v.Type().Field(i).Name, v.Field(i))
			}
		case !slices.Contains(at, v.Addr().Pointer()):
			t.Errorf("no key sets %s", name)
		}
	}
	walk("", reflect.ValueOf(&s).Elem())
}

// What the file shows of single materials, sections and yards can be taken in by taking the signs
// away.
func TestWrittenExamples(t *testing.T) {
	longest := map[model.Unit]model.Length{model.Inch: 48 * model.UnitsPerInch,
		model.Millimetre: 1200 * model.UnitsPerMillimetre}
	sign := regexp.MustCompile(`(?m)^# (\[|\w+ = )`)
	for u, load := range map[model.Unit]model.Length{model.Inch: 144 * model.UnitsPerInch,
		model.Millimetre: 4000 * model.UnitsPerMillimetre} {
		text := fmt.Sprintf("units = %q\n", u) + sign.ReplaceAllString(ofSomeOnly(u), "$1")
		got, err := Read(strings.NewReader(text), "shop.toml")
		if err != nil || len(got.Materials) != 1 || len(got.Sections) != 1 || len(got.Yards) != 1 ||
			len(got.Bins) != 1 {
			t.Error(err, got)
		}
		if y := got.Yards["north mill"]; y.TaxPercent == nil ||
			*y.LongestLoad != load {
			t.Error(y)
		}
		if b := got.Bins["A1"]; b.Most == nil || *b.Most != 20 || *b.Longest != longest[u] {
			t.Error(b)
		}
	}
}
