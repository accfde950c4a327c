// Package pastjobs reads the workshop's own records: what was changed on a car
// and how to go back, what comes back and is due, and which car was like this
// one.
//
// In: texts of jobs and the notes written beside them, as the store keeps them,
// and the day it is, which is handed in. Out: lists ready to show: changes with
// their names, turns and clicks of a way back in the order of work, counts of
// come-backs, cars that are due, dampers with their hours, the nearest jobs with
// why they are near and what became of them, and what a certifier asks for.
//
// It knows nothing but what this workshop wrote down itself. It judges no car
// legal or safe, and changes nothing.
package pastjobs
