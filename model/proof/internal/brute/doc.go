// Package brute tries all layouts of a small board, for the tests of the proof's rooms. It knows
// what wood is worth from the words of package model, and goes unit by unit.
package brute
