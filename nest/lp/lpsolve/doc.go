// Package lpsolve is a thin binding of lp_solve 5.5, an outside solver of linear and integer
// programs, for tests to compare nest/lp and nest/cutstock with. Without the build tag lpsolve it
// is empty, so nothing that is built for a shop needs it.
//
// With the tag it needs cgo and Debian's liblpsolve55-dev; `make reference` installs that and runs
// the tests.
package lpsolve
