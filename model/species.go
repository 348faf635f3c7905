package model

import (
	"fmt"
	"slices"
	"strings"
	"sync"
)

// Species is a wood of the movement table: how much of its width it gains or loses for each 1 % of
// moisture, in 1/100000.
type Species struct {
	Name       string
	Radial     int64 // quarter-sawn: width across the rings
	Tangential int64 // flat-sawn: width along the rings
	// short names that mean this wood in the trade (common practice); of two kinds the one that
	// moves more
	also []string
}

// speciesTable holds the dimensional change coefficients C_R and C_T of North American woods: Wood
// Handbook (Forest Products Laboratory, GTR-190, 2010), Table 13-5, p. 13-16. The second half is
// recalled, in part or whole; but for hickory each pair agrees with the shrinkage of Table 4-3 to
// the last digit, see TestCoefficientsAgreeWithShrinkage.
var speciesTable = []Species{
	{"white ash", 169, 274, []string{"ash"}},
	{"quaking aspen", 119, 234, []string{"aspen"}},
	{"basswood", 230, 330, nil},
	{"american beech", 190, 431, []string{"beech"}},
	{"yellow birch", 256, 338, nil},
	{"black cherry", 126, 248, []string{"cherry"}},
	{"pecan hickory", 169, 315, []string{"pecan"}},
	{"sugar maple", 165, 353, []string{"hard maple"}},
	{"red maple", 137, 289, []string{"soft maple"}},
	{"red oak", 158, 369, []string{"northern red oak"}},
	{"white oak", 180, 365, nil},
	{"sweetgum", 183, 365, nil},
	{"sycamore", 172, 296, nil},
	{"black walnut", 190, 274, []string{"walnut"}},
	{"red alder", 151, 256, []string{"alder"}},

	{"true hickory", 259, 411, []string{"hickory", "shagbark hickory"}},
	{"yellow-poplar", 158, 289, []string{"poplar", "tulip poplar"}},
	{"douglas-fir, coast", 165, 267, []string{"douglas-fir"}},
	{"douglas-fir, interior north", 130, 241, nil},
	{"white fir", 112, 245, nil},
	{"eastern white pine", 71, 212, []string{"white pine"}},
	{"loblolly pine", 165, 259, nil},
	{"longleaf pine", 176, 263, nil},
	{"shortleaf pine", 158, 271, nil},
	{"slash pine", 187, 267, nil},
	{"ponderosa pine", 133, 216, nil},
	{"sugar pine", 99, 194, nil},
	{"sitka spruce", 148, 263, nil},
	{"engelmann spruce", 130, 248, nil},
	{"western hemlock", 144, 274, nil},
	{"western larch", 155, 323, nil},
	{"western redcedar", 111, 234, []string{"western red cedar"}},
	{"redwood, old-growth", 120, 205, []string{"redwood"}},
}

// FindSpecies looks a wood up by its name or a short name of the trade, whatever its case, blanks
// and dashes. The error says what is wrong; what to write.
func FindSpecies(name string) (*Species, error) {
	if s := byFoldedName()[foldSpecies(name)]; s != nil {
		return s, nil
	}
	if foldSpecies(name) == "" {
		return nil, fmt.Errorf("the species is missing; write one such as red oak")
	}
	return nil, fmt.Errorf("the movement of %.40q is not known here; write %s, or another name "+
		"that `rackwright movement --help` lists",
		name, nearestSpecies(name))
}

// byFoldedName is the table by all names, folded; of woods of one name it has the first.
var byFoldedName = sync.OnceValue(func() map[string]*Species {
	out := map[string]*Species{}
	for i := range speciesTable {
		s := &speciesTable[i]
		for _, n := range append([]string{s.Name}, s.also...) {
			if n = foldSpecies(n); out[n] == nil {
				out[n] = s
			}
		}
	}
	return out
})

var dashes = strings.NewReplacer("-", "", ",", "")

func foldSpecies(s string) string { return FoldName(dashes.Replace(s)) }

// nearestSpecies names the woods that share the last word, as an oak is most like the other oaks;
// else the one most like it in spelling.
func nearestSpecies(name string) string {
	words := func(s string) []string {
		return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool {
			return strings.ContainsRune(" -,", r)
		})
	}
	var kin []string
	for _, s := range speciesTable {
		if w := words(name); len(w) > 0 &&
			slices.Contains(words(strings.Join(append(s.also, s.Name), " ")), w[len(w)-1]) {
			kin = append(kin, s.Name)
		}
	}
	if kin == nil {
		return Nearest(name, SpeciesNames())
	}
	return strings.Join(kin, " or ")
}

// SpeciesNames lists the woods of the table, sorted.
func SpeciesNames() []string {
	var names []string
	for _, s := range speciesTable {
		names = append(names, s.Name)
	}
	slices.Sort(names)
	return names
}

// SpeciesFor gives the wood that a material is: the one that shop.toml names for it, else the one
// of its own name; nil where neither is known.
func (s *Settings) SpeciesFor(material string) *Species {
	setWhereGiven(&material, s.Materials[material].Species)
	return byFoldedName()[foldSpecies(material)]
}
