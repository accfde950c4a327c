// Package modes linearises a car about where it rests: frequencies and damping
// ratios of single corners as the trade quotes them, and the complex modes of
// the seven degrees of freedom.
//
// In: a solved rest state and a damper speed at which the dampers are made
// linear. Out: frequencies [Hz], ratios [-], shares of each movement in a
// mode. Friction, unseating and lift-off are outside it.
package modes
