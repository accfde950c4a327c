// Package route is what the brief drives, as a car meets it: its roads at their speeds and
// load states, its obstacles with their shapes, and both laid under the wheels.
package route
