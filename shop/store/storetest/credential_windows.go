package storetest

import "syscall"

// Credential is for systems on which a program can be started as somebody else.
func Credential(int, int) *syscall.SysProcAttr { return nil }
