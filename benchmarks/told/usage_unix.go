//go:build unix

package told

import (
	"os"
	"runtime"
	"syscall"
	"time"
)

// PeakMemory is the most memory, in MiB, that the process has had so far; 0 where the system does
// not say.
func PeakMemory() int64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return mebibytes(&u)
}

// MemoryOf is the most memory, in MiB, that a process had which has ended; 0 where the system does
// not say.
func MemoryOf(p *os.ProcessState) int64 {
	u, ok := p.SysUsage().(*syscall.Rusage)
	if !ok {
		return 0
	}
	return mebibytes(u)
}

func mebibytes(u *syscall.Rusage) int64 {
	if runtime.GOOS == "darwin" { // there in bytes, elsewhere in KiB
		return int64(u.Maxrss) >> 20
	}
	return int64(u.Maxrss) >> 10
}

// CPUTime is the time that cores have worked for the process so far, all of them together; 0 where
// the system does not say.
func CPUTime() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
