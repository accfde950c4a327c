// Command drive writes the linkages for the multibody engine, and sets the table of
// what it and the program say of them and of the driven car.
//
//	drive export FILE             the linkages
//	drive table DIR VERSION       the page, from what the engine printed into DIR
package main

import (
	"fmt"
	"os"
	"strings"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "multibody:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	switch {
	case len(args) == 2 && args[0] == "export":
		var w strings.Builder
		export(&w)
		return os.WriteFile(args[1], []byte(w.String()), 0o644)
	case len(args) == 3 && args[0] == "table":
		page, err := table(args[1], args[2])
		if err != nil {
			return err
		}
		fmt.Print(page)
		return nil
	}
	return fmt.Errorf("drive export FILE, or drive table DIR VERSION")
}
