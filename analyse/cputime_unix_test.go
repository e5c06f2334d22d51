//go:build unix

package analyse

import (
	"syscall"
	"time"
)

// cpuTime is the processor time that the process has had, user and system.
func cpuTime() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
