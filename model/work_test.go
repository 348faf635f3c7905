package model

import (
	"encoding/json"
	"strings"
	"testing"
)

// Minutes are read and written exactly; what has more than three decimals is refused.
func TestMinutes(t *testing.T) {
	for text, want := range map[string]Minutes{"1.5": 1500, "0": 0, ".25": 250, "12": 12_000,
		" 0.001 ": 1, "1.5000": 1500, "999999999.999": 999_999_999_999} {
		got, err := ParseMinutes(text)
		if err != nil || got != want {
			t.Errorf("%q is %d, %v", text, got, err)
		}
	}
	for text, want := range map[string]string{"": "no number of minutes", "-1": "no number",
		"1e2": "no number", "1,5": "no number", "1.0001": "more than three decimals",
		"1000000000": "no number", "one": "no number"} {
		if m, err := ParseMinutes(text); err == nil || !strings.Contains(err.Error(), want) ||
			!strings.Contains(err.Error(), "; ") {
			t.Errorf("%q is %d, %v", text, m, err)
		}
	}
	for m, want := range map[Minutes]string{1500: "1.5", 0: "0", 250: "0.25", 641_500: "641.5",
		90_000: "90", 1: "0.001"} {
		if got := m.String(); got != want {
			t.Errorf("%d is %q, want %q", int64(m), got, want)
		}
		data, err := json.Marshal(m)
		var back Minutes
		if err != nil || json.Unmarshal(data, &back) != nil || back != m {
			t.Errorf("%d is written %s and read %d", int64(m), data, int64(back))
		}
	}
}
