// Package proof judges whether the certificates of a plan prove its bound.
package proof
