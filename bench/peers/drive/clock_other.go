//go:build !unix

package main

import "time"

var began = time.Now()

// clock returns a running time [s].
func clock() float64 { return time.Since(began).Seconds() }
