package model

import "strings"

// LongestBatch is how many signs the batch of a shop may have at most.
const LongestBatch = 24

// BatchOf makes a batch of the name of a job folder, for a shop that names none: its letters a to z
// and digits, with one dash for whatever else stands between them. A longer name than a batch may
// be keeps its beginning and its end, as months differ in either. It is empty where nothing is
// left.
func BatchOf(folder string) string {
	words := strings.FieldsFunc(folder, func(r rune) bool {
		return !strings.ContainsRune(lettersAndDigits, r)
	})
	s := strings.Join(words, "-")
	if len(s) > LongestBatch {
		const end = LongestBatch / 2
		s = strings.TrimRight(s[:LongestBatch-end-1], "-") + "-" +
			strings.TrimLeft(s[len(s)-end:], "-")
	}
	return s
}

const lettersAndDigits = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
