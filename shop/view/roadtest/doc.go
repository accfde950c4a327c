// Package roadtest is what the page Road test shows: a log's channels, its figures beside
// their predictions, and the corrections it speaks for, each as edits that the page makes.
package roadtest
