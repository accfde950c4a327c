// Command platforms type-checks the program and all it stands on, from source, for
// each platform it is given as system/processor. It says what does not fit, and
// ends with 1.
package main

import (
	"fmt"
	"os"
	"strings"

	"golang.org/x/tools/go/packages"
)

func main() {
	failed := false
	for _, platform := range os.Args[1:] {
		system, processor, _ := strings.Cut(platform, "/")
		all, err := packages.Load(&packages.Config{
			Mode: packages.LoadAllSyntax,
			Dir:  "..",
			Env:  append(os.Environ(), "GOOS="+system, "GOARCH="+processor, "CGO_ENABLED=0"),
		}, "./...")
		if err != nil || len(all) == 0 {
			fmt.Fprintf(os.Stderr, "%s: %d packages: %v\n", platform, len(all), err)
			os.Exit(1)
		}
		checked := 0
		packages.Visit(all, nil, func(p *packages.Package) {
			checked++
			for _, e := range p.Errors {
				fmt.Fprintf(os.Stderr, "%s: %s: %v\n", platform, p.PkgPath, e)
				failed = true
			}
		})
		fmt.Printf("%s: %d packages fit\n", platform, checked)
	}
	if failed {
		os.Exit(1)
	}
}
