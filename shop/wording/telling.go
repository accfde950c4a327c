package wording

import (
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
)

// telling is what the sentences of one finding are made of.
type telling struct {
	t      *Teller
	f      *finding.Finding
	v      *figure.Value
	u      unit
	corner string // "rear left"
	axle   string // "rear"
	loaded string // " with four aboard"
	driven string // " over the round hump of 75 mm at 30 km/h"
}
