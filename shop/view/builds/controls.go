package builds

import (
	"fmt"
	"strconv"
	"strings"

	"trunnion/chassis/car"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// controls are what can be changed of a build.
func (s *page) controls(v *View, b *car.Build) []Control {
	out := []Control{}
	choices := func(axle, kind string, list []Outlined) []view.Choice {
		var own, others []view.Choice
		for _, o := range list {
			other := car.AxleNames[1]
			if axle == other {
				other = car.AxleNames[0]
			}
			if v.fitted(other, kind, o.ID) && !v.fitted(axle, kind, o.ID) {
				others = append(others, view.Choice{Value: o.ID, Label: o.Label, Group: wording.FittedAt(other)})
			} else {
				own = append(own, view.Choice{Value: o.ID, Label: o.Label})
			}
		}
		return append(own, others...)
	}
	label := func(list []Outlined, id string) string {
		for _, o := range list {
			if o.ID == id {
				return o.Label
			}
		}
		if id == "" {
			return "as on the car"
		}
		return id
	}
	for a := range car.AxleNames {
		corners := []int{2 * a}
		set := &b.Setup
		sided := !b.Alike(a) || set.Click[2*a] != set.Click[2*a+1] || set.HasClick[2*a] != set.HasClick[2*a+1]
		if sided {
			corners = append(corners, 2*a+1)
		}
		for _, i := range corners {
			out = append(out, s.cornerControls(v, b, i, sided, choices, label)...)
		}
	}
	return out
}

// fitted reports whether any build has a part at an axle, or at a side of it.
func (v *View) fitted(axle, kind, id string) bool {
	for path := range v.Fields {
		if v.Fields[path].Typed != id || !strings.HasPrefix(path, "builds.") {
			continue
		}
		words := strings.Split(path, ".")
		if len(words) >= 4 && words[2] == axle && words[len(words)-1] == kind {
			return true
		}
	}
	return false
}

// helped reports whether a build has a helper spring at an axle, or at a side of it.
func (v *View) helped(build, axle string) bool {
	at := "builds." + build + "." + axle
	return v.Fields[at+".helper"].Typed != "" || v.Fields[at+".left.helper"].Typed != "" || v.Fields[at+".right.helper"].Typed != ""
}

// typedUnder reports whether a value below a path was typed.
func (v *View) typedUnder(path string) bool {
	for at := range v.Fields {
		if f := v.Fields[at]; strings.HasPrefix(at, path) && f.Typed != "" && !f.Filled {
			return true
		}
	}
	return false
}

// cornerControls are those of a corner, or of both of an axle that are alike.
func (s *page) cornerControls(v *View, b *car.Build, i int, sided bool, choices func(axle, kind string, list []Outlined) []view.Choice, label func([]Outlined, string) string) []Control {
	var out []Control
	number := func(x float64) *float64 { return &x }
	ax, axle := &b.Corner[i], car.AxleNames[car.AxleOf(i)]
	path, name, side, clickAt := "builds."+b.ID+"."+axle, axle, "", axle
	if sided {
		side = car.SideNames[i&1]
		path, name, clickAt = path+"."+side, axle+" "+side, axle+"_"+side
	}
	pick := func(kind, id string, list []Outlined) {
		typed := v.Fields[path+"."+kind].Typed
		if typed == "" {
			typed = id
		}
		shown := label(list, typed)
		if strings.HasPrefix(typed, "builds.") { // a part without a name has its place for one
			if shown = "written into the build"; !v.typedUnder(typed + ".") {
				typed, shown = "", "not entered, estimated"
			}
		}
		out = append(out, Control{
			Path: path + "." + kind, Label: name + " " + kind, Axle: axle, Side: side, Kind: kind, Value: typed, Shown: shown, Choices: choices(axle, kind, list),
		})
	}
	pick("spring", idOf(ax.Spring != nil, func() string { return ax.Spring.ID }), v.Outline.Springs)
	if v.helped(b.ID, axle) {
		pick("helper", idOf(ax.Helper != nil, func() string { return ax.Helper.ID }), v.Outline.Springs)
		if last := &out[len(out)-1]; last.Value == "" {
			last.Shown = "none"
		}
	}
	pick("damper", idOf(ax.Damper != nil, func() string { return ax.Damper.ID }), v.Outline.Dampers)
	pick("stop", idOf(ax.Stop != nil, func() string { return ax.Stop.ID }), v.Outline.Stops)
	if d := ax.Damper; d != nil && d.ClickMost > 0 {
		click := b.Setup.Click[i]
		out = append(out, Control{
			Path: "builds." + b.ID + ".setup.click." + clickAt, Label: name + " click", Axle: axle, Side: side, Kind: "click", Value: strconv.Itoa(click),
			Shown: strconv.Itoa(click) + " from closed", Min: number(0), Max: number(float64(d.ClickMost)), Step: number(1),
			Hint: "0 is closed, " + strconv.Itoa(d.ClickMost) + " the softest",
		})
	}
	if p := ax.Platform; p != nil && (i&1 == 0 || b.Corner[i-1].Platform == nil) {
		// It is pulled on both sides at once.
		out = append(out, s.platform(b, car.AxleOf(i), "builds."+b.ID+"."+axle, p))
	}
	packer := v.Fields[path+".packer"].Typed
	shown := packer
	if ax.Packer.Known() {
		shown = quantity.Format(ax.Packer.Value, quantity.Length, s.System, quantity.Auto)
	}
	if packer == "" {
		packer = quantity.Format(ax.Packer.Value, quantity.Length, s.System, quantity.Auto)
		shown = "none"
		if ax.Packer.Value > 0 {
			shown = packer
		}
	}
	return append(out, Control{Path: path + ".packer", Label: name + " packer", Axle: axle, Side: side, Kind: "packer", Value: packer, Shown: shown, Hint: "a rigid spacer that brings the stop in earlier"})
}

func idOf(there bool, id func() string) string {
	if !there {
		return ""
	}
	return id()
}

func (s *page) platform(b *car.Build, a int, path string, p *car.PlatformSpec) Control {
	values := b.Setup.Platform[2*a : 2*a+2]
	if p.Kind == "body" {
		values = b.Setup.BodyLength[2*a : 2*a+2]
	}
	u := quantity.Shown(quantity.Length, s.System)
	shown := u.Format(values[0].Value, quantity.Auto)
	if values[0].Value != values[1].Value {
		shown = u.Number(values[0].Value, quantity.Auto) + " left, " + u.Format(values[1].Value, quantity.Auto) + " right"
	}
	hint := "from its start mark, up positive"
	if p.Up.Known() && p.Down.Known() {
		hint = fmt.Sprintf("%s up to %s down of its start mark", u.Format(p.Up.Value, quantity.Auto), u.Format(p.Down.Value, quantity.Auto))
	}
	return Control{Path: path, Label: car.AxleNames[a] + " platform", Axle: car.AxleNames[a], Kind: "platform", Value: u.Format(values[0].Value, quantity.Auto), Shown: shown, Hint: hint}
}
