//go:build !windows

package main

// doubleClicked is of Windows alone: elsewhere a program that is clicked on has
// no window to say where its page is.
func doubleClicked() bool { return false }
