package study

import (
	"trunnion/chassis/brief"
	"trunnion/chassis/car"
)

// UsualLoadAt is the place of the load state of ordinary driving; −1 when there is none.
func UsualLoadAt(b *brief.Brief, loads []car.Load) int {
	want := "driver"
	if b != nil && b.UsualLoad != "" {
		want = b.UsualLoad
	}
	for k := range loads {
		if loads[k].ID == want {
			return k
		}
	}
	for k := range loads {
		if len(loads[k].Items) > 0 {
			return k
		}
	}
	return -1
}

// UsualLoad is the id of the load state of ordinary driving: the brief's, else one
// called driver, else the first with something aboard, else the first. Empty
// without any.
func UsualLoad(b *brief.Brief, loads []car.Load) string {
	if k := UsualLoadAt(b, loads); k >= 0 {
		return loads[k].ID
	}
	if len(loads) == 0 {
		return ""
	}
	return loads[0].ID
}

// UsualLoad is the id of the load state of ordinary driving.
func (a *Answer) UsualLoad() string { return UsualLoad(a.Job.Brief, a.Job.Loads) }
