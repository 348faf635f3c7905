// Package handmade holds jobs and plans made by hand, with their sums, for the tests of the checker
// and of the proof.
package handmade
