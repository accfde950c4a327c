// Package examples holds the example jobs and sweeps, so that the program can write
// them into a folder of their own. It holds nothing else.
package examples

import "embed"

// Jobs are the example jobs, one folder a car.
//
//go:embed */*.yaml
var Jobs embed.FS

// RoadTests are logs of invented drives.
//
//go:embed roadtest
var RoadTests embed.FS

// Sweeps are the four shapes of file that a damper dyno writes, of invented dampers.
//
//go:embed sweeps
var Sweeps embed.FS
