// Command drive writes the car and the roads for the peers, times the engine on them, and sets the table.
//
//	drive export DIR          one compiled car, rigid and with mounts, and six roads
//	drive engine DIR          the engine's lines, in the peers' format
//	drive table DIR VERSION   the page from DIR/*.lines, as Markdown
//	drive lanes VERSION       the page of the engine in lanes
package main

import (
	"fmt"
	"os"
	"strings"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "drive:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	if len(args) < 2 {
		return fmt.Errorf("usage: drive export|engine|table DIR [VERSION], drive lanes VERSION")
	}
	var out strings.Builder
	var err error
	switch args[0] {
	case "export":
		return export(args[1])
	case "engine":
		err = engine(&out)
	case "table":
		if len(args) < 3 {
			return fmt.Errorf("usage: drive table DIR VERSION")
		}
		err = table(&out, args[1], args[2])
	case "lanes":
		err = lanes(&out, args[1])
	default:
		err = fmt.Errorf("no such job: %s", args[0])
	}
	if err != nil {
		return err
	}
	_, err = os.Stdout.WriteString(out.String())
	return err
}
