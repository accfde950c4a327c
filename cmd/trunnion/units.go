package main

import (
	"fmt"

	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// inUnits are the units of what a command prints.
type inUnits struct {
	Units string `enum:"metric,imperial,mixed" default:"metric" help:"Units of the text: ${enum}."`
}

// system is that of the units; no others get past the command line.
func (u inUnits) system() quantity.System {
	s, err := wording.System(u.Units)
	if err != nil {
		panic(fmt.Sprintf("units that no flag takes: %v", err))
	}
	return s
}
