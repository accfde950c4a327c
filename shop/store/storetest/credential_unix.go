//go:build !windows

package storetest

import "syscall"

// Credential makes a program run as somebody else; as who we are for -1.
func Credential(uid, gid int) *syscall.SysProcAttr {
	if uid < 0 {
		return nil
	}
	return &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}}
}
