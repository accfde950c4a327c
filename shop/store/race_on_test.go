//go:build race

package store

// raced says that the race detector watches, which makes everything many times
// slower.
const raced = true
