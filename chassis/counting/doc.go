// Package counting answers how hard a force history is on a part, compared with
// another history: rainflow cycles and Miner's sum with a slope that somebody
// chose.
//
// In: forces in their order, one at a time. Out: cycles, their damage sum and
// the range that would do the same in as many cycles. It gives no life: without
// a test of the part a sum only says how one history compares with another on
// the same part.
//
// Counting a history whole, the range that would do the same, and the closed forms for random forces are for the mounts'
// wear (issue 12) and the road test's logs (issue 16), which do not ask yet.
package counting
