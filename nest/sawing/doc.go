// Package sawing puts the cuts of a plan in an order of work: which unit is taken in hand when, and
// where stop and fence stand.
//
// [Write] is the one entry. It fills Order and Work of a plan whose boards are written down.
package sawing
