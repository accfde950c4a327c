// Package queue has the pieces of searches computed: inside the program, or by workers on
// any number of machines that reach the same database.
//
// In: what a search is made ready of, and its pieces; see package search. Out: their
// results, the same whoever computed them. Inputs, pieces and results stand in the store
// under the fingerprint of what they follow from, so that nothing is computed twice, also
// after a restart. A piece belongs to one worker at a time; a worker that is not heard of
// loses it, and what it says afterwards counts for nothing. A result and the end of its
// piece are one change of one row.
//
// It knows nothing of cars, and no sentence of an answer.
package queue
