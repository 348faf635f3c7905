package model

import "testing"

// A batch is made of the letters and digits of a folder's name; whatever the name, the settings
// allow it.
func TestBatchOf(t *testing.T) {
	for _, c := range []struct{ folder, want string }{
		{"march", "march"},
		{"2027-03", "2027-03"},
		{"March 2027 (2nd try)", "March-2027-2nd-try"},
		{"--a..b__c--", "a-b-c"},
		{"März", "M-rz"},
		{"三月", ""},
		{"...", ""},
		{"", ""},
		{"abcdefghijklmnopqrstuvwx", "abcdefghijklmnopqrstuvwx"},
		{"abcdefghijklmnopqrstuvwxy", "abcdefghijk-nopqrstuvwxy"},
		{"commissions of the month 2027-03", "commissions-onth-2027-03"},
		{"commissions of the month 2027-04", "commissions-onth-2027-04"},
		{"abcdefghij-klmnopqrst-uvwxyz12345", "abcdefghij-uvwxyz12345"},
	} {
		got := BatchOf(c.folder)
		if got != c.want {
			t.Errorf("%q gives %q, want %q", c.folder, got, c.want)
		}
		s, m := DefaultSettings(), Mistakes{}
		s.Batch = got
		if s.Validate(&m); m.Err() != nil {
			t.Errorf("%q gives %q: %v", c.folder, got, m.Err())
		}
	}
}
