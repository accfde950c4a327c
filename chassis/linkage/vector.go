package linkage

import (
	"gonum.org/v1/gonum/spatial/r3"

	"trunnion/chassis/geom"
)

type vec = geom.Vec

func add(a, b vec) vec { return vec{X: a.X + b.X, Y: a.Y + b.Y, Z: a.Z + b.Z} }

func sub(a, b vec) vec { return vec{X: a.X - b.X, Y: a.Y - b.Y, Z: a.Z - b.Z} }

func scale(f float64, a vec) vec { return vec{X: f * a.X, Y: f * a.Y, Z: f * a.Z} }

func dot(a, b vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

func cross(a, b vec) vec {
	return vec{X: a.Y*b.Z - a.Z*b.Y, Y: a.Z*b.X - a.X*b.Z, Z: a.X*b.Y - a.Y*b.X}
}

func norm(a vec) float64 { return r3.Norm(a) }
