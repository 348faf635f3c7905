//go:build !unix

package told

// PeakMemory is the most memory, in MiB, that the process has had so far: not known here.
func PeakMemory() int64 { return 0 }
