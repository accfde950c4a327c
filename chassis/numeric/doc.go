// Package numeric holds methods with a name and a source: monotone cubic
// tables, polynomial fits with their spread, small linear solves, complex
// modes. It knows no car.
package numeric
