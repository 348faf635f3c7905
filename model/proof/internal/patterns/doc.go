// Package patterns keeps what lists of patterns are made of, for the rooms along and across:
// vectors of counts, layouts that are under way with them, and what was found.
package patterns
