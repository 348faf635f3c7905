package benchmarks

import (
	"flag"
	"fmt"

	"rackwright/model"
)

// Kerfs are those of a shop, as shop.toml has them; an empty one is as the seed draws it. Nothing
// else of a month hangs on them.
type Kerfs struct{ Crosscut, Rip string }

// Flags adds the flags of a command that set them.
func (k *Kerfs) Flags(set *flag.FlagSet) {
	for _, f := range []struct {
		name string
		kerf *string
	}{{"crosscut", &k.Crosscut}, {"rip", &k.Rip}} {
		set.Func(f.name, "`kerf` of the "+f.name+" saw, such as 1/8 or 2.8mm, for that of the seed",
			func(s string) error {
				kerf, err := parseKerf(s)
				*f.kerf = kerf
				return err
			})
	}
}

// String tells of those that are set.
func (k Kerfs) String() (s string) {
	for _, of := range [][2]string{{"crosscut", k.Crosscut}, {"rip", k.Rip}} {
		if of[1] != "" {
			s += ", " + of[0] + " " + of[1]
		}
	}
	return s
}

// parseKerf gives a kerf as any shop reads it: what is written without a unit is in inches.
func parseKerf(s string) (string, error) {
	l, rounded, err := model.ParseLength(s, model.Inch)
	switch {
	case err != nil:
		return "", err
	case rounded || l > model.WidestKerf:
		return "", fmt.Errorf("write at most 1 in, in 64ths of an inch or tenths of a millimetre," +
			" such as 1/8 or 2.8mm")
	}
	if metric, _, _ := model.ParseLength(s, model.Millimetre); metric != l {
		s += "in"
	}
	return s, nil
}
