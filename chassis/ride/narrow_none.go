//go:build !(goexperiment.simd && amd64)

package ride

// narrow are the tables that lanes need.
type narrow struct{}
