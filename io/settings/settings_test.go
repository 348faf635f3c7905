package settings

import (
	"strings"
	"testing"
)

func TestScratch(t *testing.T) {
	for _, s := range []string{
		"units = 'mm'\n[kerf]\ncrosscut = 3.2\nripp = \"1/8\"\n[offcut]\nvalue = 1.5\n[kerff]\na=1\n[material.\"white oak\".allowance]\nthickness = \"1/4x\"\n[section.\"8/4\".offcut]\nkeep_length = '2000000'\n[section.'2 x 6'.offcut]\nkeep_length = '101m'\n[section.'9/9'.offcut]\n",
		"kerf = 5\nmaterial = 1\nhandling = {board = -2}\n",
		"a = 1\na = 2", "kerf = { crosscut = 1/8 }", "x = 99999999999999999999999", "[[kerf]]\nrip=1", "[kerf]\nrip = 'a\n", "crosscut = '1/8'",
		"kerf.rip = '4mm'\nkerf.crosscut = 4 # mm\nbatch = '=a'\ncurrency=''\n",
		"[a]\n[a]", "[defects]\nsound=['A  b', 5]", "a = \xff", "x = " + strings.Repeat("[", 250000),
		"x = " + strings.Repeat("{a=", 80000),
	} {
		set, err := Read(strings.NewReader(s), "shop.toml")
		t.Logf("%.60q\n%v\n%v", s, err, set.Units)
	}
}
