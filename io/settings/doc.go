// Package settings reads shop.toml: the shop's kerfs, trims, allowances and what is worth keeping.
//
// Read [Read]. One table of keys (keys.go, and the lengths that model lists) says what may stand in
// the file; the walk over the file refuses everything else with the nearest known key, and reports
// all mistakes with their lines.
package settings
