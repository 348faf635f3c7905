// Package across works out the most that one board can give that may be ripped.
package across
