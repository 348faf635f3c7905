package settings

import (
	"maps"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"

	"rackwright/io/manual"
	"rackwright/model"
)

// keysIn lists the keys of a table and of the tables in it, their names joined by points.
func keysIn(table map[string]any, before string) (out []string) {
	for key, v := range table {
		if inner, ok := v.(map[string]any); ok {
			out = append(out, keysIn(inner, before+key+".")...)
		} else {
			out = append(out, before+key)
		}
	}
	return out
}

// The manual shows every key with its default, every length with its default in both units, names
// for each whether a material or a section may have it as well, and gives examples that can be
// read.
func TestManual(t *testing.T) {
	text, _ := manual.Text("settings")
	examples := regexp.MustCompile("(?s)```toml\n(.*?)```").FindAllStringSubmatch(text, -1)
	if len(examples) != 3 {
		t.Fatalf("there are %d examples, not 3", len(examples))
	}
	shown, err := Read(strings.NewReader(examples[0][1]), "shop.toml")
	if want := model.DefaultSettings(); err != nil || !reflect.DeepEqual(shown, want) {
		t.Errorf("the first example is not what is left out: %v\n%+v\n%+v", err, shown, want)
	}
	table := map[string]any{}
	if err := toml.Unmarshal([]byte(examples[0][1]), &table); err != nil {
		t.Fatal(err)
	}
	keys := keysIn(table, "")
	slices.Sort(keys)
	if known := slices.Sorted(maps.Keys(shopKeys(&model.Settings{}))); !slices.Equal(keys, known) {
		t.Errorf("the manual has the keys\n%q\nthe program\n%q", keys, known)
	}
	for _, e := range examples[1:] {
		if _, err := Read(strings.NewReader(e[1]), "shop.toml"); err != nil {
			t.Error(err)
		}
	}

	ofMaterial, ofSection, ofYard, ofBin := []string{}, []string{}, []string{}, []string{}
	leftOut := []model.LengthSetting{}
	of := ""
	for _, line := range strings.Split(text, "\n") {
		cells := strings.Split(line, "|")
		if len(cells) < 4 || strings.HasPrefix(line, "| ---") {
			continue
		}
		key := strings.TrimSpace(cells[1])
		switch yes := func(n int) bool { return strings.TrimSpace(cells[n]) == "yes" }; {
		case key == "key":
			of = strings.TrimSpace(cells[2])
		case of == "inch shop, in":
			inch, _, err1 := model.ParseLength(strings.TrimSpace(cells[2]), model.Inch)
			mm, _, err2 := model.ParseLength(strings.TrimSpace(cells[3]), model.Millimetre)
			if err1 != nil || err2 != nil {
				t.Error(key, err1, err2)
			}
			leftOut = append(leftOut, model.LengthSetting{Key: key, Inch: inch, Metric: mm})
		case of == "of one yard":
			ofYard = append(ofYard, key)
		case of == "of one bin":
			ofBin = append(ofBin, key)
		default:
			if yes(2) {
				ofMaterial = append(ofMaterial, key)
			}
			if yes(3) {
				ofSection = append(ofSection, key)
			}
		}
	}
	lengths := (&model.Settings{}).Lengths()
	for i := range lengths {
		lengths[i].Value = nil
	}
	if !slices.Equal(leftOut, lengths) {
		t.Errorf("left out, the manual has the lengths\n%v\nthe program\n%v", leftOut, lengths)
	}
	for _, x := range []struct {
		what  string
		shown []string
		known map[string]setter
	}{
		{"material", ofMaterial, overrideKeys(&model.Override{}, true)},
		{"section", ofSection, overrideKeys(&model.Override{}, false)},
		{"yard", ofYard, yardKeys(&model.YardFacts{})},
		{"bin", ofBin, binKeys(&model.BinFacts{})},
	} {
		slices.Sort(x.shown)
		if known := slices.Sorted(maps.Keys(x.known)); !slices.Equal(x.shown, known) {
			t.Errorf("of a %s the manual has the keys\n%q\nthe program\n%q", x.what, x.shown, known)
		}
	}
}
