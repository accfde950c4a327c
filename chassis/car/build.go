package car

// Build is the parts chosen for the car and how they are set.
type Build struct {
	ID, Name string
	Note     string
	Price    string // as typed: the program does not compute with it
	Hours    Input  // of work [s]
	Corner   [4]BuildCorner
	Mass     []Payload // added or taken out for good with this build
	Setup    Setup
	Readings *Readings // taken after fitting; nil before
}

// BuildCorner is the parts at one corner. What is said of an axle stands in both
// of its corners, to the letter; Twins finds it again.
type BuildCorner struct {
	Spring *SpringSpec
	Helper *SpringSpec // stacked on Spring; nil for none
	Damper *DamperSpec
	Stop   *StopSpec
	Mount  *MountSpec // nil: as the car had it
	Tyre   *TyreSpec  // nil: nobody said
	Wheel  *WheelSpec // nil: nobody said
	Packer Input      // [m]

	// SeatsCloser is how much nearer the new spring seats stand to each other
	// than the seats that were measured, at the same wheel travel and at the
	// platform's start mark. [m]
	SeatsCloser Input
	// MountsCloser is how much nearer the new damper's mounts stand to each
	// other than the measured ones, at the same wheel travel: a taller mount
	// or a bracket drilled elsewhere. [m]
	MountsCloser Input

	Serial        string        // of the damper
	Platform      *PlatformSpec // nil: fixed seats
	Friction      Input         // at the wheel [N]
	TyreRate      Input         // of this build's tyres; unknown means its tyre's, or the car's [N/m]
	UnsprungMore  Input         // added to one wheel by this build's brakes, and by wheels and tyres whose masses nobody gave [kg]
	BushTightened string        // "rest": bolts released and tightened where the build sits; "as-weighed": left alone
}

// Like reports whether two corners have the same parts with the same distances;
// the serial numbers of their dampers may differ.
func (p *BuildCorner) Like(o *BuildCorner) bool {
	a, b := *p, *o
	a.Serial, b.Serial = "", ""
	return a == b
}

// Alike reports whether both sides of an axle have the same parts with the same
// distances.
func (b *Build) Alike(axle int) bool { return b.Corner[2*axle].Like(&b.Corner[2*axle+1]) }

// groups are the corners of a build that have the same parts: both of an axle, or
// each of its own.
func (b *Build) groups() [][]int {
	var out [][]int
	for a := range 2 {
		if l, r := 2*a, 2*a+1; b.Alike(a) {
			out = append(out, []int{l, r})
		} else {
			out = append(out, []int{l}, []int{r})
		}
	}
	return out
}

// PlaceOf is how a job's paths name the parts of a corner of a build: by the
// axle where its two sides are alike, else by axle and side.
func (b *Build) PlaceOf(i int) string {
	where := "builds." + b.ID + "." + AxleNames[AxleOf(i)]
	if b.Alike(AxleOf(i)) {
		return where
	}
	return where + "." + SideNames[i&1]
}

// Both changes the parts at both corners of an axle. A part that both sides share
// is one part after it too.
func (b *Build) Both(axle int, change func(p *BuildCorner)) {
	l, r := &b.Corner[2*axle], &b.Corner[2*axle+1]
	left, right := *l, *r
	change(l)
	change(r)
	if left.Spring == right.Spring {
		r.Spring = l.Spring
	}
	if left.Helper == right.Helper {
		r.Helper = l.Helper
	}
	if left.Damper == right.Damper {
		r.Damper = l.Damper
	}
	if left.Stop == right.Stop {
		r.Stop = l.Stop
	}
	if left.Mount == right.Mount {
		r.Mount = l.Mount
	}
	if left.Platform == right.Platform {
		r.Platform = l.Platform
	}
	if left.Tyre == right.Tyre {
		r.Tyre = l.Tyre
	}
	if left.Wheel == right.Wheel {
		r.Wheel = l.Wheel
	}
}

// inputs are the corner's own inputs: those of its parts are shared by pointer.
func (p *BuildCorner) inputs() [6]*Input {
	return [6]*Input{&p.Packer, &p.SeatsCloser, &p.MountsCloser, &p.Friction, &p.TyreRate, &p.UnsprungMore}
}

// Twins returns, for every input on the right that is the one on the left said
// of the whole axle, that one: what was typed or estimated once is drawn once.
func Twins(builds []*Build) map[*Input]*Input {
	twins := map[*Input]*Input{}
	for _, b := range builds {
		for a := range 2 {
			left, right := b.Corner[2*a].inputs(), b.Corner[2*a+1].inputs()
			for k, in := range right {
				was := *left[k]
				was.Dim = in.Dim
				if *in == was {
					twins[in] = left[k]
				}
			}
		}
	}
	return twins
}

// Setup is how a build is set.
type Setup struct {
	Platform     [4]Input // raised from the start mark, at the platform [m]
	BodyLength   [4]Input // body screwed longer than its start mark [m]
	WantedHeight [4]Input // hub to arch in the state as weighed; replaces Platform where given [m]
	Click        [4]int   // counted from closed
	HasClick     [4]bool
	BarsOff      bool
	Pressures    string    // of the tyres, in the workshop's words
	Pressure     [4]Input  // of the tyres, cold, over the atmosphere; unknown: as weighed [Pa]
	BarHole      [2]string // of an adjustable bar, in the workshop's words
}

// SetClick sets both dampers of an axle to a click counted from closed.
func (s *Setup) SetClick(axle, click int) {
	for i := 2 * axle; i < 2*axle+2; i++ {
		s.Click[i], s.HasClick[i] = click, true
	}
}

// Readings are what was measured on a build after it was fitted.
type Readings struct {
	Load   [4]Input // at the tyre; unknown when not weighed [kg]
	Height [4]Input // hub to arch [m]
	BarsOn bool
	State  string    // load state the readings were taken in; empty: as weighed
	Aboard []Payload // what was in the car, from that load state
	Seats  *Seats    // of the seats when they were taken, where these were turned since; nil: as they stand
}

// Seats is how far apart the spring seats of a build are set, now or when it was read.
type Seats struct {
	Platform     [4]Input // raised from the start mark, at the platform [m]
	BodyLength   [4]Input // body screwed longer than its start mark [m]
	WantedHeight [4]Input // hub to arch in the state as weighed [m]
	SeatsCloser  [4]Input // than the seats that were measured [m]
}
