// Package movement reckons how much the wide parts of a job gain and lose over the year.
package movement
