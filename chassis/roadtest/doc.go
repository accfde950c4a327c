// Package roadtest answers whether a car came out as predicted: it judges the channels
// of a log, says what they show by themselves, takes the road out of them through the
// model of the build, drives that build over it again, and says which inputs of the
// build would explain what differs, each with its band.
//
// In: channels in SI at equal time steps, the build as the ride engine's car, bands of
// its inputs. Out: figures beside their predictions, the road's class and roughness by
// stretch, corrections with bands, and what the log cannot tell apart. It changes
// nothing: a correction is offered, not taken.
//
// It knows no bends, no braking and no aerodynamic force: the recovered road is that of
// a car that goes straight on, so that stretches with more lateral or longitudinal
// acceleration than LevelAcceleration are left out of it.
package roadtest
