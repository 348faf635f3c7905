// Package integer divides whole numbers.
package integer
