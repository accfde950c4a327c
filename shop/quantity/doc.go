// Package quantity turns figures in trade units, as typed, into SI, and SI
// figures into trade units, as shown. It is the only place with conversion
// factors.
//
// In: text such as "45 N/mm", "257 lbf/in ± 3 %" or "13 7/8 in", and the kind
// of quantity that is due. Out: a Typed with the value and its band in SI and
// the text unchanged, or an *Error that says what stands there and what could.
// The other way round: an SI value, its kind and a system of units give text.
//
// What a band means: "±", "+-" and "+/-" are half of a 95 % interval; "tol ±"
// is a maker's limit. A band in the unit of the value, or in another unit of
// its kind, is absolute; a band in % is relative, unless the value is itself
// typed in %, where the band is in points ("50 % ± 2 %" is 48 to 52 %).
//
// Pressures are gauge, over the atmosphere. Temperatures are kept in degrees
// Celsius: the one kind that is not in the coherent SI unit.
//
// It does not know lines, paths or fields of a job, gives no default for a
// missing figure, does not judge whether a figure is sensible for a car, and
// writes no sentences other than its errors.
package quantity
