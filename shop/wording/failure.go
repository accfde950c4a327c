package wording

import (
	"errors"
	"fmt"
	"strings"

	"trunnion/chassis/equilibrium"
	"trunnion/chassis/ride"
)

// NoRest is said where a build does not rest and why is not known.
const NoRest = "No rest position was found."

// failed says why a case has no answer, in the reader's units.
func (t *Teller) failed(err error) string {
	var rest *equilibrium.NoRest
	var seat *equilibrium.NotSeated
	var diverged *ride.DivergedError
	var still *ride.RestError
	switch {
	case err == nil:
		return "The reason was not kept."
	case errors.As(err, &rest):
		c := rest.Corner
		if rest.Residual < 1 { // no wheel is out of balance: the body as a whole is
			return fmt.Sprintf("No rest position: the car does not stand on its wheels; %s is %s into bump there. Look at the masses and where they sit, and at the lengths of spring, damper and stop.",
				Corner(c), t.Amount("", "m", rest.Last.Travel[c]))
		}
		return fmt.Sprintf("No rest position: %s is left over at %s with the wheel %s into bump. Look at the lengths of spring, damper and stop there.",
			t.Amount("", "N", rest.Residual), Corner(c), t.Amount("", "m", rest.Last.Travel[c]))
	case errors.As(err, &seat):
		if strings.HasPrefix(seat.Path, "parts.") {
			return "Fitted, not assessed yet: the " + Corner(seat.Corner) + " spring has neither a free length nor a drop. Enter one of the two."
		}
		return "Fitted, not assessed yet: the " + Corner(seat.Corner) + " spring is given by its free length, and the length seat to seat as weighed is not known. Enter it left and right, or the free length of the spring that was on the car."
	case errors.As(err, &still):
		return fmt.Sprintf("The drive finds no rest position: %s is missing at %s.", t.Amount("", "N", still.Miss), Corner(still.Corner))
	case errors.As(err, &diverged):
		return "The drive did not come to its end: the movement grew without bound."
	}
	return upper(err.Error()) + "."
}
