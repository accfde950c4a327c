// Package counting answers how hard a force history is on a part: rainflow cycles and
// Miner's sum on the part's own line, with a knee.
//
// In: forces in their order, one at a time, with what they are made of; a line. Out:
// cycles, the share of the life they take and what each part of the force has of it. A
// share is as good as the line: without a test of the part it only says how one history
// compares with another.
//
// The closed form for random forces is for the road test's logs (issue 16), which do not
// ask yet.
package counting
