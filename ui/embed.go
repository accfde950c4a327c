// Package ui holds the built page, so that the program is one file.
//
// In: what `npm run build` left in dist. Out: a file system of it. A clone in
// which the page was not built has an empty one, which Built reports, so that
// vet and the tests of other packages need no page. It serves nothing itself.
package ui

import (
	"embed"
	"io/fs"
)

//go:embed all:dist
var dist embed.FS

// Files returns the built page, with index.html at its root.
func Files() fs.FS {
	sub, err := fs.Sub(dist, "dist")
	if err != nil {
		return dist // cannot happen: the name is a valid path
	}
	return sub
}

// Built reports whether the page was built before the program was.
func Built() bool {
	_, err := fs.Stat(dist, "dist/index.html")
	return err == nil
}
