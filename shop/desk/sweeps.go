package desk

import (
	"bytes"
	"context"
	"path"
	"slices"
	"strings"

	"trunnion/chassis/dyno"
	"trunnion/chassis/valving"
	"trunnion/shop/answer"
	"trunnion/shop/intake"
	"trunnion/shop/quantity"
)

// SweepsAsk is files of a damper dyno, and what they do not say.
type SweepsAsk struct {
	Files   []intake.SweepFile  `json:"files" kong:"-" maxItems:"400"`
	Mapping intake.SweepMapping `json:"mapping,omitempty" kong:"-"`
	Damper  string              `help:"Which damper, where the files hold several." json:"damper,omitempty" maxLength:"200" placeholder:"NAME"`
	At      string              `help:"Skin temperature that the curves are for; that of most runs without it." json:"at,omitempty" maxLength:"60" placeholder:"TEMPERATURE"`
}

// Sweeps is what files of sweeps give: curves of every damper that is wanted, and what
// is still to be said of the files.
type Sweeps struct {
	*intake.Sweeps
	Curves []Swept
	Bare   []Swept // dampers of which no run gives a curve; their runs left out say why
}

// Swept is one damper read and made curves of.
type Swept struct {
	Name string
	Set  dyno.Set
}

// Sweeps reads files of sweeps into curves.
func (d *Desk) Sweeps(ctx context.Context, ask SweepsAsk) (*Sweeps, error) {
	reference := 0.0
	if ask.At != "" {
		at, err := quantity.Parse(ask.At, quantity.Temperature)
		if err != nil {
			return nil, bad("at", "%s: %w", ask.At, err)
		}
		kelvin, err := quantity.Find("K", quantity.Temperature)
		if err != nil {
			return nil, err
		}
		reference = kelvin.FromSI(at.Value)
	}
	if len(ask.Files) == 0 {
		return nil, absent("enter the files of a sweep, or their folder")
	}
	for _, role := range ask.Mapping.Columns {
		if !slices.Contains(intake.SweepRoles, role) {
			return nil, bad("column", "%q: a column is one of %s", role, strings.Join(intake.SweepRoles, ", "))
		}
	}
	done, err := d.patient.turn(ctx)
	if err != nil {
		return nil, err
	}
	defer done()
	got, err := intake.ReadSweeps(ctx, ask.Files, ask.Mapping)
	if err != nil {
		return nil, err
	}
	out := &Sweeps{Sweeps: got}
	if len(got.Questions) > 0 {
		return out, nil
	}
	for i := range got.Dampers {
		one := &got.Dampers[i]
		if ask.Damper != "" && one.Name != ask.Damper {
			continue
		}
		one.Options.Reference = reference
		name := one.Name
		if name == "" {
			base := path.Base(ask.Files[0].Name)
			name = strings.TrimSuffix(base, path.Ext(base))
		}
		set, err := dyno.Reduce(one.Runs, one.Options)
		if err != nil {
			out.Bare = append(out.Bare, Swept{name, set})
			continue
		}
		out.Curves = append(out.Curves, Swept{name, set})
	}
	if len(out.Curves)+len(out.Bare) == 0 && len(got.Dampers) > 0 {
		return nil, absent("no damper is called %q in these files", ask.Damper)
	}
	return out, nil
}

// Names are those of the dampers read.
func (s *Sweeps) Names() string {
	var out []string
	for i := range s.Curves {
		out = append(out, s.Curves[i].Name)
	}
	return strings.Join(out, ", ")
}

// ready reports that nothing is asked any more.
func (s *Sweeps) ready() error {
	switch {
	case len(s.Questions) > 0:
		return absent("the files do not say all: read them first and answer what is asked")
	case len(s.Curves) == 0:
		return absent("no run of the files gives a curve")
	}
	return nil
}

// Document is what was read, for programs.
func (s *Sweeps) Document(program string) *answer.Sweeps {
	d := answer.NewSweeps(program)
	for _, q := range s.Questions {
		d.Questions = append(d.Questions, answer.SweepQuestion(q))
	}
	for _, a := range s.Assumptions {
		d.Assumptions = append(d.Assumptions, answer.SweepAssumption(a))
	}
	for _, f := range s.Faults {
		d.Faults = append(d.Faults, answer.SweepFault(f))
	}
	for i := range s.Curves {
		d.Add(s.Curves[i].Name, &s.Curves[i].Set)
	}
	for i := range s.Bare {
		d.Add(s.Bare[i].Name, &s.Bare[i].Set)
	}
	return d
}

// PairAsk is two dampers to hold side by side.
type PairAsk struct {
	SweepsAsk
	Other []intake.SweepFile `json:"other,omitempty" kong:"-" maxItems:"400"`
	Use   string             `default:"club" enum:"club,race,road" help:"Tolerance of common practice: ${enum}." json:"use,omitempty"`
	Share string             `help:"A tolerance of your own, such as 4 %." json:"share,omitempty" maxLength:"60" placeholder:"SHARE"`
	Least string             `help:"The least force that counts as apart." json:"least,omitempty" maxLength:"60" placeholder:"FORCE"`
}

// Paired is two dampers side by side.
type Paired struct {
	A, B Swept
	Pair dyno.Pair
}

// Tolerance is what the ask takes for a pair.
func (a *PairAsk) tolerance() (dyno.Tolerance, error) {
	t, there := tolerances[a.Use]
	if !there {
		return t, bad("use", "is club, race or road, not %q", a.Use)
	}
	for _, one := range []struct {
		field, text string
		kind        quantity.Kind
		to          *float64
	}{{"share", a.Share, quantity.Share, &t.Share}, {"least", a.Least, quantity.Force, &t.Least}} {
		if one.text == "" {
			continue
		}
		v, err := quantity.Parse(one.text, one.kind)
		if err != nil {
			return t, bad(one.field, "%w", err)
		}
		if v.Value < 0 {
			return t, bad(one.field, "is not negative")
		}
		*one.to = v.Value
	}
	return t, nil
}

// Pair holds two dampers side by side: both of one set of files, or one of each.
func (d *Desk) Pair(ctx context.Context, ask PairAsk) (*Paired, error) {
	t, err := ask.tolerance()
	if err != nil {
		return nil, err
	}
	read := func(files []intake.SweepFile, want int) ([]Swept, error) {
		of := ask.SweepsAsk
		of.Files = files
		got, err := d.Sweeps(ctx, of)
		if err == nil {
			err = got.ready()
		}
		if err == nil && len(got.Curves) != want {
			dampers := "dampers"
			if len(got.Curves) == 1 {
				dampers = "damper"
			}
			err = absent("the files hold %d %s (%s), %d wanted: name two files or folders, or one damper", len(got.Curves), dampers, got.Names(), want)
		}
		if err != nil {
			return nil, err
		}
		return got.Curves, nil
	}
	var both []Swept
	if len(ask.Other) == 0 {
		both, err = read(ask.Files, 2)
	} else if both, err = read(ask.Files, 1); err == nil {
		var other []Swept
		other, err = read(ask.Other, 1)
		both = append(both, other...)
	}
	if err != nil {
		return nil, err
	}
	return Pair(both[0], both[1], t)
}

// Pair holds two dampers that were read against each other.
func Pair(a, b Swept, t dyno.Tolerance) (*Paired, error) {
	p, err := dyno.Compare(&a.Set, &b.Set, t)
	if err != nil {
		return nil, absent("%w", err)
	}
	return &Paired{a, b, p}, nil
}

// Tolerance is that of common practice for a use; of club where none is said.
func Tolerance(use string) dyno.Tolerance { return tolerances[use] }

// Document is the pair, for programs.
func (p *Paired) Document(program string) *answer.Pair {
	return answer.NewPair(program, p.A.Name, p.B.Name, &p.Pair, p.A.Set.Adjusters)
}

// AcceptAsk is an order and the sweep of the damper that came back.
type AcceptAsk struct {
	SweepsAsk
	Order string `json:"order" kong:"-" maxLength:"2000000"` // the order as CSV, from Target
	For   string `help:"Which damper of the order: front, rear or a corner." json:"for,omitempty" maxLength:"60" placeholder:"NAME"`
}

// Returned is a damper that came back, against its order.
type Returned struct {
	Name     string
	Accepted *valving.Accepted
}

// Lines are those of the order for the damper that is meant.
func (a *AcceptAsk) Lines() ([]valving.Line, error) {
	lines, err := intake.Order(bytes.NewReader([]byte(a.Order)))
	if err != nil {
		return nil, bad("order", "is no order: %w", err)
	}
	return chosen(lines, a.For)
}

// Accept holds a returned damper against its order.
func (d *Desk) Accept(ctx context.Context, ask AcceptAsk) (*Returned, error) {
	lines, err := ask.Lines()
	if err != nil {
		return nil, err
	}
	got, err := d.Sweeps(ctx, ask.SweepsAsk)
	if err == nil {
		err = got.ready()
	}
	if err != nil {
		return nil, err
	}
	if len(got.Curves) > 1 {
		return nil, bad("damper", "is to be chosen: the files hold %s", got.Names())
	}
	one := &got.Curves[0]
	if n := len(one.Set.Adjusters); n > 1 {
		return nil, absent("%s has %d adjusters; an order has the clicks of one", one.Name, n)
	}
	held, err := valving.Accept(&one.Set, lines)
	if err != nil {
		return nil, absent("%w", err)
	}
	return &Returned{one.Name, held}, nil
}

// chosen are the lines of the damper that is meant.
func chosen(order []valving.Line, name string) ([]valving.Line, error) {
	var have []string
	for _, l := range order {
		if !slices.Contains(have, l.Damper) {
			have = append(have, l.Damper)
		}
	}
	if name == "" && len(have) > 1 {
		return nil, bad("for", "is to be chosen: the order is for %s", strings.Join(have, ", "))
	}
	if name != "" && !slices.Contains(have, name) {
		return nil, bad("for", "%q is not in the order; it has %s", name, strings.Join(have, ", "))
	}
	return slices.DeleteFunc(order, func(l valving.Line) bool { return name != "" && l.Damper != name }), nil
}

// Document is the verdict, for programs.
func (r *Returned) Document(program string) *answer.Accepted {
	return answer.NewAccepted(program, r.Name, r.Accepted)
}
