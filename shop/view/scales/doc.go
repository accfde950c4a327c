// Package scales shows a build on the scales: what the readings are good for, what to
// turn now and where that leads, what it costs, what the readings say about the parts,
// the order of work, and the height of the centre of gravity from one axle lifted.
//
// In: a job's text, its rounds as they were kept, and what is asked. Out: the tree of
// the page, words ready. The work is levelling's and chassis/scales'.
package scales
