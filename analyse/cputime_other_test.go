//go:build !unix

package analyse

import "time"

// cpuTime is not known here.
func cpuTime() time.Duration { return 0 }
