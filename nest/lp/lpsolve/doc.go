// Package lpsolve binds lp_solve 5.5, an outside solver, for tests only.
//
// lp_solve solves linear and integer programs; nest/lp, nest/cutstock and nest/assign are compared
// with it.
// Without the build tag lpsolve the package is empty, so nothing that is built for a shop needs it.
//
// With the tag it needs cgo and Debian's liblpsolve55-dev; `make reference` installs that and runs
// the tests.
package lpsolve
