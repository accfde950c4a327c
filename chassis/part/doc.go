// Package part holds the force laws of the parts a workshop can buy: springs
// with helpers, gas, bump stops, dampers, anti-roll bars, tyres, platforms.
//
// Each part takes its own travel and answers its own force; nothing here knows
// a motion ratio or a car. Forces of springs, gas and stops are positive when
// they push the two ends of the part apart.
package part
