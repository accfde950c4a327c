package sheet

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	_ "image/jpeg" // a logo may be one
	_ "image/png"  // or the other
)

// Most of a logo. Chosen: what a printed sheet cannot show finer.
const (
	MostLogoBytes  = 5 << 20
	MostLogoPixels = 40_000_000
)

// ErrLogo says that a logo cannot be printed.
var ErrLogo = errors.New("the logo cannot be printed")

// CheckLogo refuses what is no picture, or too large a one, before it is decoded.
func CheckLogo(logo []byte) error {
	if len(logo) > MostLogoBytes {
		return fmt.Errorf("%w: it is larger than %d MB", ErrLogo, MostLogoBytes>>20)
	}
	c, kind, err := image.DecodeConfig(bytes.NewReader(logo))
	if err != nil {
		return fmt.Errorf("%w: it is no PNG or JPEG picture", ErrLogo)
	}
	if c.Width < 1 || c.Height < 1 || c.Width > MostLogoPixels/c.Height {
		return fmt.Errorf("%w: %d by %d points are too many", ErrLogo, c.Width, c.Height)
	}
	if _, _, err := image.Decode(bytes.NewReader(logo)); err != nil {
		return fmt.Errorf("%w: the %s picture is damaged", ErrLogo, kind)
	}
	return nil
}
