// Package trunnion is the root of the module and holds no code of its own.
//
// The physics is under chassis, everything around it under shop, the command in
// cmd/trunnion. ARCHITECTURE.md has the picture. The tests beside this file keep
// the house in order: floors_test.go the direction of imports, units_test.go the
// units of the physics.
package trunnion
