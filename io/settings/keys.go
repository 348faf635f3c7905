package settings

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"

	"rackwright/model"
)

// A setter takes over one value as the file has it; its error says what is wrong; what to write.
type setter func(v any, u model.Unit) error

// overrideKeys are the keys of one material, or of one section, which has no allowances and is of
// no species.
func overrideKeys(o *model.Override, material bool) map[string]setter {
	keys := map[string]setter{
		"seasoning":          fresh(&o.Seasoning, choice(model.Seasonings)),
		"surface":            fresh(&o.Surface, choice(model.Surfaces)),
		"offcut.value":       fresh(&o.Value, share),
		"offcut.strip_value": fresh(&o.StripValue, share),
	}
	if material {
		keys["species"] = fresh(&o.Species, word)
		keys["reserve.usable"] = fresh(&o.Usable, share)
	}
	for _, l := range o.Lengths() {
		if material || !strings.HasPrefix(l.Key, "allowance.") {
			keys[l.Key] = fresh(l.Value, length)
		}
	}
	return keys
}

// yardKeys are the keys of one yard.
func yardKeys(y *model.YardFacts) map[string]setter {
	return map[string]setter{"tax_percent": fresh(&y.TaxPercent, percent),
		"longest_load": fresh(&y.LongestLoad, length)}
}

// binKeys are the keys of one bin.
func binKeys(b *model.BinFacts) map[string]setter {
	return map[string]setter{"longest": fresh(&b.Longest, length), "most": fresh(&b.Most, count)}
}

// fresh sets a value that is nil where its key is left out.
func fresh[T any](at **T, set func(*T) setter) setter {
	return func(v any, u model.Unit) error {
		*at = new(T)
		if err := set(*at)(v, u); err != nil {
			*at = nil
			return err
		}
		return nil
	}
}

func length(at *model.Length) setter {
	return func(v any, u model.Unit) error {
		text, ok := v.(string)
		if !ok {
			text, ok = number(v)
		}
		if !ok {
			return fmt.Errorf(`this is no length; write one in quotes, such as "1/8" or "3.2mm"`)
		}
		text, err := plain(v, text, func(text string) bool {
			l, _, err := model.ParseLength(text, u)
			return err == nil && l <= model.LongestBoard
		})
		if err != nil {
			return err
		}
		l, _, err := model.ParseLength(text, u)
		if err == nil {
			*at = l
		}
		return err
	}
}

// metric is a length whose bare number is in millimetres, whatever the shop's unit is.
func metric(at *model.Length) setter {
	return func(v any, _ model.Unit) error { return length(at)(v, model.Millimetre) }
}

func count(at *int64) setter {
	return func(v any, _ model.Unit) error {
		n, ok := v.(int64)
		if !ok {
			return fmt.Errorf("this is no whole number; write one without quotes, such as 3")
		}
		*at = n
		return nil
	}
}

func money(at *model.Money) setter {
	return func(v any, _ model.Unit) error {
		text, ok := v.(string)
		if !ok {
			text, ok = number(v)
		}
		if !ok {
			return fmt.Errorf("this is no amount of money; write a number, such as 0.50")
		}
		text, err := plain(v, text, func(text string) bool {
			m, err := model.ParseMoney(text)
			return err == nil && m <= model.DearestBoard
		})
		if err != nil {
			return err
		}
		m, err := model.ParseMoney(text)
		if err == nil {
			*at = m
		}
		return err
	}
}

func minutes(at *model.Minutes) setter {
	return func(v any, _ model.Unit) error {
		text, ok := number(v)
		if !ok {
			return fmt.Errorf("this is no number of minutes; write one without quotes, such as 1.5")
		}
		m, err := model.ParseMinutes(text)
		if err == nil {
			*at = m
		}
		return err
	}
}

// plain refuses a text in quotes that could be a thousand or a fraction. A bare number, v then,
// has a point before decimals by the rules of TOML.
func plain(v any, text string, fits func(string) bool) (string, error) {
	if _, quoted := v.(string); !quoted {
		return text, nil
	}
	text, _, err := (&model.Signs{}).Plain(text, fits)
	return text, err
}

func share(at *model.Fraction) setter { return fraction(at, "share", "between 0 and 1", "0.5") }

func percent(at *model.Fraction) setter {
	return fraction(at, "percentage", "between 0 and 100", "8.25")
}

func fraction(at *model.Fraction, what, limits, such string) setter {
	return func(v any, _ model.Unit) error {
		text, ok := number(v)
		f, isNumber := new(big.Rat).SetString(text)
		if !ok || !isNumber {
			return fmt.Errorf("this is no %s; write a number %s without quotes, such as %s", what,
				limits, such)
		}
		if !f.Num().IsInt64() || !f.Denom().IsInt64() {
			return fmt.Errorf("%.20s is out of all limits; write a number %s, such as %s", text,
				limits, such)
		}
		*at = model.Fraction{Num: f.Num().Int64(), Den: f.Denom().Int64()}
		return nil
	}
}

// number gives the decimal text of a bare number: the shortest that reads back as the same, so as
// it was written up to 15 digits.
func number(v any) (string, bool) {
	switch n := v.(type) {
	case int64:
		return strconv.FormatInt(n, 10), true
	case float64:
		return strconv.FormatFloat(n, 'f', -1, 64), true
	}
	return "", false
}

func unit(at *model.Unit) setter {
	return func(v any, _ model.Unit) error {
		text, ok := v.(string)
		if !ok || text != string(model.Inch) && text != string(model.Millimetre) {
			return fmt.Errorf(`the unit of a bare number is not known; write "in" or "mm"`)
		}
		*at = model.Unit(text)
		return nil
	}
}

// choice is one of a few words.
func choice[T ~string](words []T) func(*T) setter {
	return func(at *T) setter {
		return func(v any, _ model.Unit) error {
			text, ok := v.(string)
			if !ok {
				return fmt.Errorf("this is no text; put it in quotes, such as %q", string(words[0]))
			}
			w, err := model.ParseChoice(strings.TrimSpace(text), words)
			if err == nil {
				*at = w
			}
			return err
		}
	}
}

func yesNo(at *bool) setter {
	return func(v any, _ model.Unit) error {
		b, ok := v.(bool)
		if !ok {
			return fmt.Errorf("this is neither yes nor no; write true or false, without quotes")
		}
		*at = b
		return nil
	}
}

func word(at *string) setter {
	return func(v any, _ model.Unit) error {
		text, ok := v.(string)
		if !ok {
			return fmt.Errorf("this is no text; put it in quotes")
		}
		*at = strings.TrimSpace(text)
		return nil
	}
}

func kinds(at *[]string) setter {
	return func(v any, _ model.Unit) error {
		list, ok := v.([]any)
		out := make([]string, len(list))
		for i := range list {
			text, isText := list[i].(string)
			ok, out[i] = ok && isText, model.DefectKind(text)
		}
		if !ok {
			return fmt.Errorf(
				`this is no list of kinds of defects; write one such as ["sound knot", "stain"]`)
		}
		*at = out
		return nil
	}
}
