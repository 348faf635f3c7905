package model

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// A number such as 1.200 or 1,200 is a thousand and two hundred to one hand, and one and a fifth to
// another. Which of the two is meant is settled by other numbers of the same hand, or the number is
// refused:
//
//	decimals   a sign that stands once, and not before three digits alone: 12,5 or 0.750
//	thousands  a sign that stands before three digits again and again, or before those and the
//	           other sign: 1.200.000 or 1.200,5
//
// Where one sign stands before decimals, the other can only part thousands.

// Signs are those that the numbers of one hand have in them, as far as is known. The zero value
// knows nothing.
type Signs struct {
	DecimalComma bool // a comma may stand before decimals; else it is left where it does

	decimals, thousands map[byte]bool
}

var (
	signedNumber = regexp.MustCompile(`\d+(?:[.,]\d+)+`)
	// groups of three digits, and decimals behind the other sign
	pointGroups = regexp.MustCompile(`^([1-9]\d{0,2}(?:\.\d{3})+)(?:,(\d+))?$`)
	commaGroups = regexp.MustCompile(`^([1-9]\d{0,2}(?:,\d{3})+)(?:\.(\d+))?$`)
)

// groups splits a number with signs between thousands, or with what may be such a sign; sure says
// that it can be nothing else.
func groups(s string) (whole, decimals string, sign byte, sure, ok bool) {
	sign = '.'
	m := pointGroups.FindStringSubmatch(s)
	if m == nil {
		sign = ','
		if m = commaGroups.FindStringSubmatch(s); m == nil {
			return "", "", 0, false, false
		}
	}
	sure = m[2] != "" || strings.Count(m[1], string(sign)) > 1
	return strings.ReplaceAll(m[1], string(sign), ""), m[2], sign, sure, true
}

func otherSign(sign byte) byte { return '.' + ',' - sign }

// Learn takes in the numbers of a text. fits says whether a text, with a number written as a
// thousand, is one that may stand there.
func (k *Signs) Learn(text string, fits func(plain string) bool) {
	if k.decimals == nil {
		k.decimals, k.thousands = map[byte]bool{}, map[byte]bool{}
	}
	for _, at := range signedNumber.FindAllStringIndex(text, -1) {
		s := text[at[0]:at[1]]
		whole, decimals, sign, sure, grouped := groups(s)
		switch {
		case grouped && sure:
			k.thousands[sign] = true
			if decimals != "" {
				k.decimals[otherSign(sign)] = true
			}
		case grouped && fits(text[:at[0]]+whole+text[at[1]:]):
		case strings.Count(s, ".")+strings.Count(s, ",") == 1:
			k.decimals[s[strings.IndexAny(s, ".,")]] = true
		}
	}
}

// Plain writes the numbers of a text with a decimal point and without signs between thousands; what
// it can make nothing of is left as it is. fits is as for [Signs.Learn]; thousand says that a
// number was read as one though it alone could be a fraction. The error says what is wrong; what to
// write.
func (k *Signs) Plain(text string, fits func(plain string) bool) (plain string, thousand bool,
	err error) {
	var out strings.Builder
	end := 0
	for _, at := range signedNumber.FindAllStringIndex(text, -1) {
		s := text[at[0]:at[1]]
		out.WriteString(text[end:at[0]])
		end = at[1]
		whole, decimals, sign, sure, grouped := groups(s)
		open := grouped && !sure && fits(text[:at[0]]+whole+text[at[1]:])
		fraction := open && k.decimals[sign]
		isThousand := open && (k.thousands[sign] || k.decimals[otherSign(sign)])
		switch {
		case open && fraction == isThousand:
			return "", false, fmt.Errorf(
				"%q could be a thousand or a fraction; write %s or %s, whichever is meant", text,
				text[:at[0]]+whole+text[at[1]:], text[:at[0]]+k.asFraction(s)+text[at[1]:])
		case isThousand:
			out.WriteString(whole)
			thousand = true
		case grouped && sure && decimals != "":
			out.WriteString(whole + "." + decimals)
		case grouped && sure:
			out.WriteString(whole)
		case k.DecimalComma && strings.Count(s, ",") == 1 && !strings.Contains(s, "."):
			out.WriteString(strings.Replace(s, ",", ".", 1))
		default:
			out.WriteString(s)
		}
	}
	out.WriteString(text[end:])
	return out.String(), thousand, nil
}

// asFraction writes a number such as 1.200 so that it can be no thousand: 1.2, or 1.2250.
func (k *Signs) asFraction(s string) string {
	if !k.DecimalComma {
		s = strings.Replace(s, ",", ".", 1)
	}
	return Unmistaken(strings.TrimRight(strings.TrimRight(s, "0"), ".,"))
}

// Unmistaken writes a decimal such as 1.225 as 1.2250, which nobody takes for a thousand; any other
// as it is.
func Unmistaken(decimal string) string {
	if _, _, _, sure, ok := groups(decimal); ok && !sure {
		return decimal + "0"
	}
	return decimal
}

// twoNumbers says what is wrong with a text s whose number t has a blank or a dash in it, between a
// and b, and how each of its meanings is written. Those of a length may be a fraction, or feet and
// inches.
func twoNumbers(s, t, a, b string, length bool) error {
	var ways []string
	way := func(meant bool, number, as string) {
		if meant {
			if strings.Count(s, t) == 1 { // with its unit
				number = strings.Replace(s, t, number, 1)
			}
			ways = append(ways, number+" for "+as)
		}
	}
	whole := strings.Trim(a+b, "0123456789") == ""
	n, err := strconv.Atoi(b)
	few := whole && err == nil
	decimal := strings.TrimSuffix(strings.TrimRight(a+"."+b, "0"), ".")
	way(few && len(b) == 3 && len(a) < 4 && a[0] != '0', a+b, "thousands")
	way(whole, Unmistaken(decimal), "decimals")
	way(few && length && 1 < n && n <= 64, a+" 1/"+b, "a fraction")
	way(few && length && 0 < n && n < 12 && t == s, a+"' "+b+`"`, "feet and inches")
	if len(ways) == 0 {
		return fmt.Errorf("%q is two numbers; write the one that is meant", s)
	}
	return fmt.Errorf("%q is two numbers; write %s", s, orList(ways))
}

// orList joins choices: a, b or c.
func orList(ways []string) string {
	last := len(ways) - 1
	if last == 0 {
		return ways[0]
	}
	return strings.Join(ways[:last], ", ") + " or " + ways[last]
}
