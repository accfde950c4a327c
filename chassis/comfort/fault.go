package comfort

import "fmt"

// InputError says which number given to this package cannot be used, and what
// could stand there.
type InputError struct {
	What  string  // the quantity, in words
	Value float64 // what stands there [SI unit of the quantity]
	Want  string  // what could stand there
}

func (e *InputError) Error() string {
	return fmt.Sprintf("comfort: %s is %g; it must be %s", e.What, e.Value, e.Want)
}
