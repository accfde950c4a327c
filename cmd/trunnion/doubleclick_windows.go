package main

import (
	"unsafe"

	"golang.org/x/sys/windows"
)

// doubleClicked reports whether the program has a console window to itself:
// somebody clicked on it, and nobody typed a command.
func doubleClicked() bool {
	var list [2]uint32
	count, _, _ := windows.NewLazySystemDLL("kernel32.dll").NewProc("GetConsoleProcessList").Call(uintptr(unsafe.Pointer(&list[0])), uintptr(len(list)))
	return count == 1
}
