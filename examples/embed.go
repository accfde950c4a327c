// Package examples holds the example jobs, so that the program can write them
// into a folder of their own. It holds nothing else.
package examples

import "embed"

// Jobs are the example jobs, one folder a car.
//
//go:embed */*.yaml
var Jobs embed.FS
