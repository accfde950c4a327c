package wording

import (
	"math"
	"strconv"
	"strings"

	"trunnion/chassis/drives"
	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
)

// mountPartNames are what passes through an upper mount.
var mountPartNames = map[string]string{drives.MountDamper: "the damper", drives.MountStop: "the bump stop", drives.MountOpen: "the open end of the damper", drives.MountSpring: "the spring"}

// reference is the baseline by its name, where it is known.
func (t *Teller) reference() string {
	if t.answer == nil {
		return "the baseline"
	}
	return "“" + t.Build(t.answer.Reference) + "”"
}

// mountParts says what does the wear of a mount, the greatest part first: " Of it the bump
// stop does 78 %, the damper 22 %."; empty where nothing is known.
func (t *Teller) mountParts(p *figure.Place) string {
	if t.answer == nil {
		return ""
	}
	type part struct {
		name  string
		share float64
	}
	var list []part
	for _, name := range drives.MountParts {
		q := *p
		q.Mode, q.At = name, figure.Must("mount-damage-share").At
		if v := t.answer.At("mount-damage-share", q); v != nil && !missing(v) && math.Abs(v.Value) >= 0.005 {
			at := len(list)
			for at > 0 && list[at-1].share < v.Value {
				at--
			}
			list = append(list[:at], append([]part{{mountPartNames[name], v.Value}}, list[at:]...)...)
		}
	}
	if len(list) == 0 {
		return ""
	}
	var words []string
	for k, one := range list {
		share := quantity.Format(one.share, quantity.Share, t.System, 0)
		if k == 0 {
			words = append(words, one.name+" does "+share)
		} else {
			words = append(words, one.name+" "+share)
		}
	}
	return " Of it " + strings.Join(words, ", ") + "."
}

// mountLife says what of its life a mount loses, where a rated range was entered.
func (t *Teller) mountLife(p *figure.Place) string {
	if t.answer == nil {
		return ""
	}
	q := *p
	q.At = figure.Must("mount-life-share").At
	life := t.answer.At("mount-life-share", q)
	if life == nil || missing(life) {
		return ""
	}
	u := unitOf(life.Code, "1", t.System)
	per := quantity.Shown(quantity.PerDistance, t.System)
	far := strconv.Itoa(int(math.Round(drives.MountDistance / per.FromSI(1))))
	return " By its rated range that is " + u.format(life.Value) + " of its life in " + far + " " + strings.TrimPrefix(per.Label(), "/") +
		u.band(life.Low, life.High, life.HasBand) + ", as an order of magnitude."
}
