// Package movement says how much the wide parts of a job move over the year.
//
//	WideParts                       the parts from a width on, by material
//	ParseSeason, ParseClimates      how dry and how damp wood becomes over the year
//	Change, Slot                    what a width gains or loses, and the slot that asks for
//
// The formulas are those of the Wood Handbook; movement.go and climate.go have them. The
// coefficients of the species stand in package model, as settings name species.
package movement
