//go:build unix

package main

import "syscall"

// clock returns the processor time of this process [s]: other work on the machine then counts only by what it does to the
// caches.
func clock() float64 {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return float64(u.Utime.Sec+u.Stime.Sec) + 1e-6*float64(u.Utime.Usec+u.Stime.Usec)
}
