package car

// Seats is how far apart the spring seats of a build are set.
func (b *Build) Seats() Seats {
	s := Seats{Platform: b.Setup.Platform, BodyLength: b.Setup.BodyLength, WantedHeight: b.Setup.WantedHeight}
	for i := range b.Corner {
		s.SeatsCloser[i] = b.Corner[i].SeatsCloser
	}
	return s
}

// In is the build with its seats set otherwise, as one that was read so and not turned since.
func (b *Build) In(s *Seats) *Build {
	out := *b
	out.Setup.Platform, out.Setup.BodyLength, out.Setup.WantedHeight = s.Platform, s.BodyLength, s.WantedHeight
	for i := range out.Corner {
		out.Corner[i].SeatsCloser = s.SeatsCloser[i]
	}
	if b.Readings != nil {
		read := *b.Readings
		read.Seats = nil
		out.Readings = &read
	}
	return &out
}

// ReadAs settles what the readings of a build are worth once it is changed from what
// it was when they were taken. Seats that were turned are remembered where they stood;
// of a car with other parts or other mass nothing was read.
func (b *Build) ReadAs(was *Build) {
	if b.Readings == nil || b.Readings != was.Readings {
		return
	}
	if !b.restsOnTheSame(was) {
		b.Readings = nil
		return
	}
	now, then := b.Seats(), was.Seats()
	if b.Readings.Seats != nil || now.sameAs(&then) {
		return
	}
	read := *b.Readings
	read.Seats = &then
	b.Readings = &read
}

// sameAs compares what the seats are set to, whoever said it.
func (s *Seats) sameAs(o *Seats) bool {
	for _, pair := range [][2]*[4]Input{{&s.Platform, &o.Platform}, {&s.BodyLength, &o.BodyLength}, {&s.WantedHeight, &o.WantedHeight}, {&s.SeatsCloser, &o.SeatsCloser}} {
		for i := range 4 {
			if l, r := &pair[0][i], &pair[1][i]; l.Value != r.Value || l.Half != r.Half { //nolint:floateq // untouched or not
				return false
			}
		}
	}
	return true
}

// restsOnTheSame reports whether two builds have the same parts where the car's weight
// rests on them, and the same mass. Stops, packers and clicks do not carry it.
func (b *Build) restsOnTheSame(o *Build) bool {
	if len(b.Mass) != len(o.Mass) {
		return false
	}
	for i := range b.Mass {
		if b.Mass[i] != o.Mass[i] {
			return false
		}
	}
	for i := range b.Corner {
		l, r := &b.Corner[i], &o.Corner[i]
		if l.Spring != r.Spring || l.Helper != r.Helper || l.Mount != r.Mount || l.Tyre != r.Tyre || l.Wheel != r.Wheel ||
			l.MountsCloser != r.MountsCloser || l.TyreRate != r.TyreRate || l.UnsprungMore != r.UnsprungMore || !l.Damper.carriesLike(r.Damper) {
			return false
		}
	}
	return true
}

// carriesLike reports whether two dampers are as long and push alike at rest: one may
// be valved otherwise.
func (d *DamperSpec) carriesLike(o *DamperSpec) bool {
	if d == nil || o == nil || d == o {
		return d == o
	}
	return d.Open == o.Open && d.Closed == o.Closed && d.GasForce == o.GasForce && d.GasRate == o.GasRate &&
		d.GasPressure == o.GasPressure && d.GasVolume == o.GasVolume && d.Rod == o.Rod
}
