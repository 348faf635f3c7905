// Package check judges a finished plan by the rules of the trade alone.
package check
