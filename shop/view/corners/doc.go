// Package corners shows what the builds do in a bend or under braking, point by point
// and in the order in which it goes wrong, and how steady they are at speed.
//
// In: a job as it is tried and the driving that is asked for. Out: the page's tree,
// words and plain numbers ready. The sweep is chassis/cornering's, the yaw
// chassis/stability's.
package corners
