// Package settings is shop.toml: the shop's kerfs, trims, allowances and what is worth keeping.
//
// Start at [Read]; [Write] writes the file of a new shop. One table of keys (table.go, its setters
// in keys.go) says for both what may stand in the file. The walk over the file (settings.go)
// refuses everything else with the nearest known key.
//
// The file is decoded into maps, and the walk goes over these. Decoding into structs would stop at
// the first value of a wrong type, and all mistakes shall come out at once, each with its line.
package settings
