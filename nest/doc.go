// Package nest plans a job: which board becomes which part, what to buy, what is left over.
//
// [Plan] is the one entry: it groups parts and the boards that can hold them, formulates each group
// as a cutting-stock program (formulate.go), solves the groups side by side (package cutstock),
// decodes the solutions into rows of the plan (decode.go, rows.go), and lets the independent
// checker of package model judge the result. [Compare] does the same by the simple rules of package
// baseline.
package nest
