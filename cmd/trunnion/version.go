package main

import (
	"fmt"
	"runtime/debug"
)

// version is what an answer says it was made by.
const version = "0.1.0"

type versionCommand struct{}

// Run prints the version and what it was built from.
func (c *versionCommand) Run(s streams) error {
	line := "trunnion " + version
	if info, ok := debug.ReadBuildInfo(); ok {
		revision, changed := "", ""
		for _, setting := range info.Settings {
			switch setting.Key {
			case "vcs.revision":
				revision = setting.Value
			case "vcs.modified":
				if setting.Value == "true" {
					changed = ", changed since"
				}
			}
		}
		if len(revision) >= 12 {
			line += " (" + revision[:12] + changed + ")"
		}
		line += " " + info.GoVersion
	}
	_, err := fmt.Fprintln(s.out, line)
	return err
}
