package pastjobs

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strings"

	"trunnion/chassis/car"
	"trunnion/chassis/equilibrium"
	"trunnion/chassis/figure"
	"trunnion/chassis/study"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// Pack is what a certifier asks for: figures with where they come from, the rules
// that were looked up with their text and date, and blanks to sign. It judges
// nothing.
type Pack struct {
	Title    string      `json:"title"`
	Head     [][2]string `json:"head"` // of the car and the job
	Sections []Section   `json:"sections"`
	Blanks   []string    `json:"blanks"` // to be filled in by hand
	Caution  string      `json:"caution"`
}

// Section is one table of the pack.
type Section struct {
	Title   string     `json:"title"`
	Columns []string   `json:"columns"`
	Rows    [][]string `json:"rows"`
}

const packCaution = "Figures and quotations for somebody who is licensed to judge. Nothing here judges the car. The rules quoted may be incomplete or out of date."

// EvidencePack gathers it for a build in a load state; build empty: that of the
// handover.
func EvidencePack(job *jobfile.Job, a *study.Answer, build, load string, system quantity.System) (*Pack, error) {
	if build == "" && job.Handover != nil {
		build = job.Handover.Build
	}
	b := buildOf(job, build)
	if b == nil {
		return nil, jobfile.NoBuild(job, build)
	}
	if load == "" {
		load = a.UsualLoad()
	}
	p := &packer{job: job, a: a, b: b, load: load, system: system, tell: wording.New(a, system)}
	pack := &Pack{Title: "Measured figures of a changed suspension", Caution: packCaution}
	pair := func(name, value string) {
		if value != "" {
			pack.Head = append(pack.Head, [2]string{name, value})
		}
	}
	pair("Car", job.Car.Name)
	pair("Plate", job.Info.Plate)
	pair("Owner", job.Info.Owner)
	pair("Job", job.Info.Number)
	pair("Date", job.Info.Date)
	pair("Workshop", job.Info.Workshop)
	pair("Build", p.tell.Build(b.ID))
	pair("Load state of the figures", p.tell.Load(load))
	for _, f := range jobfile.Fields(job.Text) {
		if f.Path == "car.weighed.state" {
			pair("As weighed", f.Typed)
		}
	}
	pair("Fingerprint of the job file", job.SHA256)
	pack.Sections = append(pack.Sections, p.heights(), p.travel(), p.parts())
	if s, ok := p.limits(); ok {
		pack.Sections = append(pack.Sections, s)
	}
	pack.Blanks = []string{
		"Heights and loads measured again by", "Date", "Clearance at both locks, full bump and full droop checked by", "Hoses, leads and shafts checked by",
		"Headlamp aim set by", "Sensors and cameras checked by", "Current text of the rules read by", "Certifier", "Number of the certifier's authority", "Signature",
	}
	return pack, nil
}

type packer struct {
	job    *jobfile.Job
	a      *study.Answer
	b      *car.Build
	load   string
	system quantity.System
	tell   *wording.Teller
}

func (p *packer) show(v float64, kind quantity.Kind) string {
	if math.IsNaN(v) {
		return quantity.Nothing
	}
	return quantity.Format(v, kind, p.system, quantity.Auto)
}

func (p *packer) measured(in figure.Input, kind quantity.Kind) string {
	if !in.Known() {
		return "not measured"
	}
	text := p.show(in.Value, kind)
	if in.Half > 0 {
		text += " ± " + p.show(in.Half, kind)
	}
	return text
}

// heights are what was measured before and after, and what is computed in the
// load state.
func (p *packer) heights() Section {
	s := Section{Title: "Heights and loads", Columns: []string{"", "front left", "front right", "rear left", "rear right"}}
	row := func(name string, of func(i int) string) {
		cells := []string{name}
		for i := range 4 {
			cells = append(cells, of(i))
		}
		s.Rows = append(s.Rows, cells)
	}
	w := &p.job.Car.Weighed
	row("hub to arch as it arrived, measured", func(i int) string { return p.measured(w.Height[i], quantity.Length) })
	row("load at the tyre as it arrived, measured", func(i int) string { return p.measured(w.Load[i], quantity.Mass) })
	if r := p.b.Readings; r != nil {
		state := "as weighed"
		if r.State != "" {
			state = p.tell.Load(r.State)
		}
		row("hub to arch after fitting, measured ("+state+")", func(i int) string { return p.measured(r.Height[i], quantity.Length) })
		row("load at the tyre after fitting, measured ("+state+")", func(i int) string { return p.measured(r.Load[i], quantity.Mass) })
	} else {
		row("hub to arch after fitting, measured", func(int) string { return "" })
		row("load at the tyre after fitting, measured", func(int) string { return "" })
	}
	row("hub to arch, computed", func(i int) string { return p.tell.Value(p.a.Get("arch-height", p.b.ID, p.load, i)) })
	row("load at the tyre, computed", func(i int) string {
		v := p.a.Get("corner-load", p.b.ID, p.load, i)
		if v == nil || v.State == figure.Unknown {
			return "not known"
		}
		return p.show(v.Value/equilibrium.Gravity, quantity.Mass)
	})
	row("change of height against “"+p.tell.Build(p.a.Reference)+"”, computed", func(i int) string {
		now, was := p.a.Get("arch-height", p.b.ID, p.load, i), p.a.Get("arch-height", p.a.Reference, p.load, i)
		if now == nil || was == nil || now.State == figure.Unknown || was.State == figure.Unknown {
			return "not known"
		}
		return p.show(now.Value-was.Value, quantity.Length)
	})
	return s
}

// travelCodes are the figures of the travel, in the order they are asked for.
var travelCodes = []string{
	"travel-to-stop", "travel-to-solid", "makers-bump-kept", "makers-solid-kept", "travel-to-open", "spring-gap-open", "solid-before-arch", "solid-before-block",
	"travel-to-limit", "end-before-limit",
}

func (p *packer) travel() Section {
	s := Section{Title: "Travel left, computed from the readings", Columns: []string{"figure", "where", "value", "meaning", "doubt"}}
	for _, code := range travelCodes {
		e, _ := figure.Look(code)
		for i := range p.a.Values {
			v := &p.a.Values[i]
			if v.Code != code || v.Place.Build != p.b.ID || v.Place.Load != p.load {
				continue
			}
			where := v.Place
			where.Build, where.Load = "", ""
			s.Rows = append(s.Rows, []string{wording.Name(code), p.tell.Place(where), p.tell.Value(v), meaning(&e), p.tell.Doubt(v)})
		}
	}
	return s
}

// meaning is what a figure means, with its sign where the value's words do not say
// the side.
func meaning(e *figure.Entry) string {
	if wording.HasSides(e.Code) {
		return e.Meaning
	}
	return e.Meaning + "; " + e.Sign
}

func (p *packer) parts() Section {
	s := Section{Title: "Parts fitted", Columns: []string{"axle", "part", "id", "data"}}
	add := func(axle, part, id, about string) { s.Rows = append(s.Rows, []string{axle, part, id, about}) }
	for x, axle := range car.AxleNames {
		l, r := 2*x, 2*x+1
		if p.b.Alike(x) {
			p.cornerParts(l, axle, add)
			continue
		}
		p.cornerParts(l, wording.Corner(l), add)
		p.cornerParts(r, wording.Corner(r), add)
	}
	return s
}

// cornerParts are those of a corner, or of both where they are alike.
func (p *packer) cornerParts(i int, axle string, add func(axle, part, id, about string)) {
	ax := &p.b.Corner[i]
	for _, one := range []struct {
		name string
		spec *car.SpringSpec
	}{{"spring", ax.Spring}, {"helper spring", ax.Helper}} {
		if sp := one.spec; sp != nil {
			add(axle, one.name, sp.ID, "rate "+p.measured(sp.Rate, quantity.Stiffness)+", free "+p.measured(sp.Free, quantity.Length)+", block "+p.measured(sp.Block, quantity.Length))
		}
	}
	if d := ax.Damper; d != nil {
		about := "open " + p.measured(d.Open, quantity.Length) + ", closed " + p.measured(d.Closed, quantity.Length)
		for k, word := range car.SideNames {
			corner := i&^1 + k
			if s := p.b.Corner[corner].Serial; s != "" && (corner == i || axle == car.AxleNames[car.AxleOf(i)]) {
				about += ", " + word + " no. " + s
			}
		}
		add(axle, "damper", d.ID, about)
	}
	if st := ax.Stop; st != nil {
		add(axle, "bump stop", st.ID, "free "+p.measured(st.Length, quantity.Length)+", packers "+p.show(ax.Packer.Value, quantity.Length))
	}
	if pl := ax.Platform; pl != nil {
		add(axle, "collar", pl.ID, "thread "+p.measured(pl.Pitch, quantity.ThreadPitch)+", up "+p.measured(pl.Up, quantity.Length)+", down "+p.measured(pl.Down, quantity.Length))
	}
}

// limits are the rules that the workshop looked up, each with the figure beside
// it. Whether it is met is not said: the rule's text decides, and who may read
// it.
func (p *packer) limits() (Section, bool) {
	s := Section{
		Title:   "Rules, quoted",
		Columns: []string{"figure", "least", "most", "says", "from", "dated", "figure of this car, worst corner"},
	}
	h := p.job.Handover
	if h == nil || len(h.Limits) == 0 {
		return s, false
	}
	for _, l := range h.Limits {
		s.Rows = append(s.Rows, []string{strings.ReplaceAll(l.Figure, "-", " "), l.Least.Typed, l.Most.Typed, l.Says, l.From, l.Dated, p.beside(l.Figure)})
	}
	return s, true
}

// asks are the codes behind the figures a rule may ask about, and which corner is
// the worst.
var asks = map[string]struct {
	code string
	low  bool
}{
	"arch-height": {"arch-height", true}, "droop-left": {"travel-to-open", true}, "bump-left": {"travel-to-stop", true},
	"bump-travel-kept": {"makers-bump-kept", true}, "spring-loose": {"spring-gap-open", false},
}

func (p *packer) beside(asked string) string {
	ask, ok := asks[asked]
	if !ok {
		if asked == "height-change" {
			ask.code, ask.low = "arch-height", true
			worst, at := 0.0, -1
			for i := range 4 {
				now, was := p.a.Get("arch-height", p.b.ID, p.load, i), p.a.Get("arch-height", p.a.Reference, p.load, i)
				if now == nil || was == nil || now.State == figure.Unknown || was.State == figure.Unknown {
					continue
				}
				if d := now.Value - was.Value; at < 0 || math.Abs(d) > math.Abs(worst) {
					worst, at = d, i
				}
			}
			if at >= 0 {
				return p.show(worst, quantity.Length) + ", " + wording.Corner(at) + ", against “" + p.tell.Build(p.a.Reference) + "”"
			}
		}
		return "to be measured on the car"
	}
	var worst *figure.Value
	for i := range 4 {
		v := p.a.Get(ask.code, p.b.ID, p.load, i)
		if v == nil || v.State == figure.Unknown {
			continue
		}
		if worst == nil || ask.low && v.Value < worst.Value || !ask.low && v.Value > worst.Value {
			worst = v
		}
	}
	if worst == nil {
		return "not known: to be measured on the car"
	}
	return p.tell.Value(worst) + ", " + wording.Corner(worst.Place.Corner)
}

// WriteCSV writes the pack as one table after the other, an empty line between.
func (p *Pack) WriteCSV(to io.Writer) error {
	w := csv.NewWriter(to)
	line := func(cells ...string) {
		for i, c := range cells {
			// A table program must not take a text for a formula.
			if c != "" && strings.ContainsRune("=+@\t\r", rune(c[0])) {
				cells[i] = "'" + c
			}
		}
		_ = w.Write(cells) // Flush tells
	}
	line(p.Title)
	for _, h := range p.Head {
		line(h[0], h[1])
	}
	for _, s := range p.Sections {
		line("")
		line(s.Title)
		line(append([]string(nil), s.Columns...)...)
		for _, r := range s.Rows {
			line(append([]string(nil), r...)...)
		}
	}
	line("")
	for _, b := range p.Blanks {
		line(b, "")
	}
	line("")
	line(p.Caution)
	w.Flush()
	return w.Error()
}

// WriteText writes the pack as plain text, blanks as lines to write on.
func (p *Pack) WriteText(to io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\n", p.Title)
	for _, h := range p.Head {
		fmt.Fprintf(&b, "%s: %s\n", h[0], h[1])
	}
	for _, s := range p.Sections {
		fmt.Fprintf(&b, "\n%s\n", s.Title)
		for _, r := range s.Rows {
			var cells []string
			for i, c := range r {
				if c == "" {
					c = "____________"
					if s.Columns[i] == "doubt" || s.Columns[i] == "least" || s.Columns[i] == "most" {
						continue
					}
				}
				if i > 0 && s.Columns[i] != "" && i < len(s.Columns) {
					c = s.Columns[i] + ": " + c
				}
				cells = append(cells, c)
			}
			fmt.Fprintf(&b, "  %s\n", strings.Join(cells, "; "))
		}
	}
	b.WriteString("\n")
	for _, blank := range p.Blanks {
		fmt.Fprintf(&b, "%s: ______________________________\n", blank)
	}
	fmt.Fprintf(&b, "\n%s\n", p.Caution)
	_, err := io.WriteString(to, b.String())
	return err
}
