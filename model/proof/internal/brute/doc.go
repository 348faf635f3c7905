// Package brute tries all layouts of a small board, for the tests of the proof's rooms.
package brute
