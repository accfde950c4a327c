// Package struts shows what the struts of an axle carry: forces frame by frame, what
// gives out first, what a change does, and what passes through the upper mounts.
//
// In: a job as it is tried, an axle, what is moved and how hard the car is driven.
// Out: the page's tree, words and plain numbers ready. The forces are those of
// chassis/strut, the cases study's.
package struts
