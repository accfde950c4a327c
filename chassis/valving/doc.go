// Package valving says what to ask a damper's builder for: force over damper speed per
// click from wanted damping ratios on this car, with the tolerance in which a returned
// damper is accepted, and holds a returned sweep against it line by line.
//
// In: a study of one build and what is wanted; later a set of curves. Out: forces only,
// never how a damper is built inside, and how near the bump force comes to what the gas
// can hold. Whether a damper is safe to build so is for its builder to say.
package valving
