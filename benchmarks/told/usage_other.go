//go:build !unix

package told

import (
	"os"
	"time"
)

// PeakMemory is the most memory, in MiB, that the process has had so far: not known here.
func PeakMemory() int64 { return 0 }

// CPUTime is the time that cores have worked for the process so far: not known here.
func CPUTime() time.Duration { return 0 }

// MemoryOf is the most memory, in MiB, that a process had which has ended: not known here.
func MemoryOf(*os.ProcessState) int64 { return 0 }
