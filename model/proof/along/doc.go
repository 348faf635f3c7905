// Package along works out the most that one board can give along its length, and every pattern it
// can be used for.
package along
