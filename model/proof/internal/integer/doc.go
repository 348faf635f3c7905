// Package integer reckons with whole numbers: quotients, divisors, sets of flags.
package integer
