// Package cornering finds how a car sits in a steady corner, under braking or
// power, or both: roll, pitch and heave of the body, four wheel travels and four
// tyre loads, on the same springs, stops, bars and tyres that it rests on; at
// what acceleration each bump stop is first met, and what that does to the split
// of the load transfer between the axles.
//
// In: a system with its rest position, and what a corner needs beside them: the
// height of the sprung mass, roll-centre heights and how fast they fall as a
// wheel goes into bump. Out: points over the acceleration, contacts, lifted
// wheels, and where the answer ends because nothing holds the car any more.
//
// Lateral forces go to the body along the line from each contact patch to the
// roll centre, wheel by wheel, so that an axle whose outer tyre does most of the
// work is lifted. Where the links' points are known, they give that line over the
// wheel's travel, what braking and power lift, and how each wheel leans to the
// road; a motion table says nothing of either, and longitudinal forces then lift
// nothing. The body is taken as rigid, camber as of no account for forces, and no
// tyre as ever sliding: whether the tyres can hold the acceleration is not asked
// here. It does not move in time and knows no limits.
package cornering
