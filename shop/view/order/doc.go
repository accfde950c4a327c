// Package order shows what each build costs and what it buys, as it is put to the
// owner before anything is ordered.
//
// In: a job as it is tried, and how each build is judged. Out: the tree of the page.
package order
