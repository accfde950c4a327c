package sheet

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/finding"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// Source is what a sheet is made of.
type Source struct {
	Job      *jobfile.Job
	Answer   *study.Answer     // of the job, with bands
	Findings []finding.Finding // of that answer; may be nil
	InShort  *wording.InShort  // what each build says to the owner's words; nil where nothing was understood
	Build    string            // that leaves; empty: the job's own choice, else its last
	Load     string            // empty: the usual one
	System   quantity.System
	Program  string // version
	Printed  string // date of printing
	Find     string // address under which the job is found; empty: its number and fingerprint
	Workshop Workshop

	// Opened is what moves on the scales have opened again (bushes, alignment,
	// lamps, sensors, stop-gap), and Moved the day of the last of them; empty where
	// none was made.
	Opened []string
	Moved  string
}

// Faults of making a sheet.
var (
	ErrNoBuild = errors.New("the job has no such build")
	ErrNoLoad  = errors.New("the job has no such load state")
	ErrNoCar   = errors.New("the job has no answer to print")
)

// maker is a sheet being made.
type maker struct {
	Source
	build  *car.Build
	before *car.Build // as it arrived
	hand   jobfile.Handover
	tell   *wording.Teller
	sheet  *Sheet
}

// empty reports whether nothing stands in a part.
func (p Part) empty() bool {
	return p.Words == "" && p.Quote == nil && len(p.List) == 0 && len(p.Pairs) == 0 && p.Table == nil && p.Plan == nil && p.Strips == nil &&
		len(p.Checks) == 0 && len(p.Sign) == 0
}

// Leaves is the id of the build that leaves: the one asked for, else the job's own
// choice, else its last.
func (s *Source) Leaves() string {
	switch {
	case s.Build != "":
		return s.Build
	case s.Job.Handover != nil && s.Job.Handover.Build != "":
		return s.Job.Handover.Build
	case len(s.Job.Builds) > 0:
		return s.Job.Builds[len(s.Job.Builds)-1].ID
	}
	return ""
}

// choose finds the build that leaves and the load state it is told in.
func (m *maker) choose() error {
	m.Build = m.Leaves()
	for _, b := range m.Job.Builds {
		if b.ID == m.Build {
			m.build = b
		}
		if b.ID == m.Job.Car.Weighed.Build {
			m.before = b
		}
	}
	if m.build == nil {
		return fmt.Errorf("%w: %q", ErrNoBuild, m.Build)
	}
	if m.Load == "" {
		m.Load = m.Job.Brief.UsualLoad
	}
	if !slices.ContainsFunc(m.Job.Loads, func(l car.Load) bool { return l.ID == m.Load }) {
		return fmt.Errorf("%w: %q", ErrNoLoad, m.Load)
	}
	return nil
}

// miss keeps why the sheet is still a draft.
func (m *maker) miss(what string) {
	if !slices.Contains(m.sheet.Missing, what) {
		m.sheet.Missing = append(m.sheet.Missing, what)
	}
}

// lacks is why a sheet is a draft in one line: the final checks are counted, the rest is named.
func (s *Sheet) lacks() string {
	var list []string
	for _, one := range s.Missing {
		if !slices.Contains(s.Unchecked, one) {
			list = append(list, one)
		}
	}
	if n := len(s.Unchecked); n > 0 {
		list = append(list, fmt.Sprintf("%d of %d final checks", n, len(jobfile.CheckKeys)))
	}
	return strings.Join(list, "; ")
}

// missCheck says why a line of the final checks keeps the sheet a draft.
func (m *maker) missCheck(what string) {
	m.miss(what)
	m.sheet.Unchecked = append(m.sheet.Unchecked, what)
}

// get is a value of a build in a load state; nil when it is not known.
func (m *maker) get(code, build, load string, corner int) *figure.Value {
	v := m.Answer.Get(code, build, load, corner)
	if v == nil || v.State == figure.Unknown {
		return nil
	}
	return v
}

// fullest is the load state that puts the rear lowest in the build that leaves.
func (m *maker) fullest() string {
	best, least := m.Load, 0.0
	for i := range m.Job.Loads {
		id := m.Job.Loads[i].ID
		v := m.get("arch-height", m.build.ID, id, figure.RearLeft)
		if v != nil && (least == 0 || v.Value < least) {
			best, least = id, v.Value
		}
	}
	return best
}
