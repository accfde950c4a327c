// Package screening answers quickly how a car rides over a random road: the same seven-degree-of-freedom model and the
// same tables as the time simulation, replaced by the linear model that comes nearest in the mean square while the car
// moves as much as it does (stochastic linearisation with Gaussian closure).
//
// In: a compiled car as the Model interface sees it, a Grid of spectral lines made once for a road, a speed and a
// wheelbase.
// Out: weighted acceleration of floor points, tyre load variation, travel, damper speed and power, and how the car
// sinks on its dampers in the mean; or no numbers and the reasons why not.
//
// It knows no peaks, no hits and no single obstacles: those are simulated in time. A damper's mount is in it; the loss
// in a bump stop is not. Where a stop, lift-off or friction shapes the motion the linear model is wrong, and Solve
// withholds its numbers.
//
// Axes, signs and the order of the corners are those of the time simulation: x forward, y left, z up; front left, front
// right, rear left, rear right; wheel travel, damper travel and damper speed positive in bump.
package screening
