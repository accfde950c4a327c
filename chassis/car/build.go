package car

// Build is the parts chosen for the car and how they are set.
type Build struct {
	ID, Name string
	Note     string
	Price    string // as typed: the program does not compute with it
	Hours    Input  // of work [s]
	Axle     [2]BuildAxle
	Mass     []Payload // added or taken out for good with this build
	Setup    Setup
	Readings *Readings // taken after fitting; nil before
}

// BuildAxle is the parts of one axle.
type BuildAxle struct {
	Spring *SpringSpec
	Helper *SpringSpec // stacked on Spring; nil for none
	Damper *DamperSpec
	Stop   *StopSpec
	Mount  *MountSpec // nil: as the car had it
	Packer Input      // [m]

	// SeatsCloser is how much nearer the new spring seats stand to each other
	// than the seats that were measured, at the same wheel travel and at the
	// platform's start mark. [m]
	SeatsCloser Input
	// MountsCloser is how much nearer the new damper's mounts stand to each
	// other than the measured ones, at the same wheel travel: a taller mount
	// or a bracket drilled elsewhere. [m]
	MountsCloser Input

	Serials       [2]string     // of the dampers, left and right
	Platform      *PlatformSpec // nil: fixed seats
	Friction      Input         // at the wheel [N]
	TyreRate      Input         // of this build's tyres; unknown means the car's [N/m]
	UnsprungMore  Input         // added to one wheel by this build's wheels and brakes [kg]
	BushTightened string        // "rest": bolts released and tightened where the build sits; "as-weighed": left alone
}

// Setup is how a build is set.
type Setup struct {
	Platform     [4]Input // raised from the start mark, at the platform [m]
	BodyLength   [4]Input // body screwed longer than its start mark [m]
	WantedHeight [4]Input // hub to arch in the state as weighed; replaces Platform where given [m]
	Click        [2]int   // counted from closed
	HasClick     [2]bool
	BarsOff      bool
	Pressures    string    // of the tyres, in the workshop's words
	BarHole      [2]string // of an adjustable bar, in the workshop's words
}

// Readings are what was measured on a build after it was fitted.
type Readings struct {
	Load   [4]Input // at the tyre; unknown when not weighed [kg]
	Height [4]Input // hub to arch [m]
	BarsOn bool
	State  string    // load state the readings were taken in; empty: as weighed
	Aboard []Payload // what was in the car, from that load state
}
