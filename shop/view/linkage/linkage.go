package linkage

import (
	"errors"
	"math"
	"strings"

	"trunnion/chassis/axles"

	"trunnion/chassis/car"
	"trunnion/chassis/figure"
	"trunnion/chassis/geom"
	"trunnion/chassis/linkage"
	"trunnion/shop/desk"
	"trunnion/shop/drawing"
	"trunnion/shop/jobfile"
	"trunnion/shop/quantity"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// page is a request while it is answered.
type page struct {
	*view.Trial
	ask   Request
	axle  int
	out   *View
	study axles.LinkageAsk
	plate float64 // top mount inward by [m]
	build string
	strip drawing.Strip // of the build whose ends are marked
	moved *axles.Moved
	plain *axles.Moved // without what was changed; moved itself where nothing was
}

var modes = map[string]linkage.Mode{"parallel": linkage.Parallel, "opposite": linkage.Opposite, "single": linkage.Single}

// Of shows how an axle's linkage moves.
func Of(s *view.Trial, req Request) *View {
	m := &page{Trial: s, ask: req}
	if req.Axle == car.AxleNames[car.Rear] {
		m.axle = car.Rear
	}
	m.out = &View{
		Units: wording.SystemName(s.System), Axle: req.Axle, Mode: "parallel",
		Unit:    Units{Length: quantity.Units(quantity.Length, s.System), Angle: quantity.Units(quantity.Angle, s.System)},
		Missing: []view.Missing{}, Sliders: []view.Slider{}, Builds: []view.Choice{}, Marks: []view.TravelMark{}, Points: []string{}, Lines: []Line{},
		Wheels: []Wheel{}, Heads: []string{}, Frames: []Frame{}, Charts: []view.ChartGroup{}, Says: []string{}, Effects: []Effect{},
		Motions: []Motion{}, Notes: []string{},
	}
	m.out.Faults = view.Listed(s.Faults)
	if s.Answer != nil {
		m.choose()
		m.out.Faults = append(m.out.Faults, m.asked()...)
		m.run()
	}
	return m.out
}

// choose picks the build whose ends of travel are marked.
func (m *page) choose() {
	m.build = m.Answer.Reference
	if m.build == "" {
		m.build = m.Answer.Job.Builds[0].ID
	}
	for _, b := range m.Answer.Job.Builds {
		m.out.Builds = append(m.out.Builds, view.Choice{Value: b.ID, Label: b.Name})
		if b.ID == m.ask.Build {
			m.build = b.ID
		}
	}
	m.out.Build = m.build
	m.strip = drawing.Strips(m.Answer, m.build, m.Load)[2*m.axle]
	m.out.Marks = m.TravelMarks(&m.strip)
}

const mostRack, mostPlate = 0.100, 0.030 // [m]

func (m *page) asked() []jobfile.Fault {
	var faults []jobfile.Fault
	sets := make([][4]drawing.Strip, len(m.Answer.Job.Builds))
	for i, b := range m.Answer.Job.Builds {
		sets[i] = drawing.Strips(m.Answer, b.ID, m.Load)
	}
	m.study = axles.UsualLinkageAsk(m.axle)
	low, high := view.Reach(sets, 2*m.axle)
	// Travel 0 is where points were measured: it is always among what is shown.
	m.study.Low, m.study.High = math.Min(-view.FrameStep, view.FrameStep*math.Floor(low/view.FrameStep)), math.Max(view.FrameStep, view.FrameStep*math.Ceil(high/view.FrameStep))
	m.study.Points = 1 + int(math.Round((m.study.High-m.study.Low)/view.FrameStep))
	if mode, ok := modes[m.ask.Mode]; ok {
		m.study.Mode, m.out.Mode = mode, m.ask.Mode
	}
	read := func(path, typed string, most float64, to *float64) {
		if typed == "" {
			return
		}
		v, err := quantity.Parse(typed, quantity.Length)
		if err != nil || math.Abs(v.Value) > most {
			faults = append(faults, jobfile.Fault{Path: path, Got: typed, Want: m.Within(most), Kind: jobfile.Warn})
			return
		}
		*to = v.Value
	}
	read("rack", m.ask.Rack, mostRack, &m.study.Rack)
	read("lower", m.ask.Lower, view.MostLower, &m.study.Lower)
	read("offset", m.ask.Offset, view.MostOffset, &m.study.Change.Offset)
	read("longer", m.ask.Longer, view.MostLonger, &m.study.Change.Extension)
	read("plate", m.ask.Plate, mostPlate, &m.plate)
	m.study.Change.Plate = geom.Vec{Y: -m.plate}
	if m.plate == 0 {
		m.study.Change.Plate = geom.Vec{}
	}
	return faults
}

// sliders offers what the axle's kind allows to be changed.
func (m *page) sliders(h *linkage.Hardpoints) {
	add := func(s view.Slider) { m.out.Sliders = append(m.out.Sliders, s) }
	add(m.LengthSlider("lower", "Car lower", "where the wheel then stands; the linkage stays as it is", m.study.Lower, -0.030, 0.050, 0.005))
	if h.Corner != nil {
		add(m.WheelOut(m.study.Change.Offset))
		if h.Corner.Strut != nil {
			add(m.LengthSlider("plate", "Top mount inward", "a camber plate", m.plate, -0.010, 0.020, 0.002))
		}
		if len(h.Corner.Arms) > 0 {
			add(m.ArmLonger(m.study.Change.Extension))
		}
	}
	if m.moved != nil && m.moved.Steers {
		add(m.LengthSlider("rack", "Rack to the left", "steering", m.study.Rack, -0.060, 0.060, 0.010))
	}
}

func (m *page) run() {
	ax := &m.Answer.Job.Car.Axle[m.axle]
	m.out.Kind = ax.Kind
	if ax.Hardpoints == nil {
		m.tableOnly(ax)
		return
	}
	move := func(ask axles.LinkageAsk) (*axles.Moved, error) {
		return desk.MoveLinkage(&m.Result, m.build, m.Load, ask)
	}
	var err error
	if m.moved, err = move(m.study); err != nil {
		m.sliders(ax.Hardpoints)
		m.wrong(err)
		return
	}
	m.plain = m.moved
	if m.study.Change != (linkage.Change{}) {
		ask := m.study
		ask.Change, ask.Lower = linkage.Change{}, 0
		if plain, err := move(ask); err == nil {
			m.plain = plain
		}
	}
	m.sliders(ax.Hardpoints)
	m.out.Steers = m.moved.Steers
	m.out.Says = m.Teller.Moved(m.moved)
	m.frames(ax.Hardpoints)
	m.curves()
	m.effects()
	m.motions()
	m.out.Notes = append(m.out.Notes,
		"Points are the left side's, in the height of the car in which they were measured; travel 0 is there, and bump is positive.",
		"The ends of travel marked are those of the build chosen; a linkage may lock before or after them, which is said above.")
}

// wrong says why a linkage does not move.
func (m *page) wrong(err error) {
	var fault *linkage.FaultError
	one := view.Missing{Text: "The linkage cannot be moved.", List: []string{}, Path: "car." + car.AxleNames[m.axle] + ".hardpoints"}
	if errors.As(err, &fault) {
		one.List = m.Teller.LinkageFaults(fault)
		if len(fault.Faults) == 1 && fault.Faults[0].Code == linkage.NothingSteered {
			one.Text = "Nothing of this axle is steered: put the rack back."
		}
	} else {
		one.Text = m.Teller.StrutFault(err)
	}
	m.out.Missing = append(m.out.Missing, one)
}

// tableOnly says what to measure of an axle without points, and shows what its
// motion tables give.
func (m *page) tableOnly(ax *car.Axle) {
	name := car.AxleNames[m.axle]
	list := wording.MeasurePoints(ax.Kind, name)
	m.out.Missing = append(m.out.Missing, view.Missing{Text: list[0], List: list[1:], Path: "car." + name + ".hardpoints"})
	length := quantity.Units(quantity.Length, m.System)
	g := view.ChartGroup{ID: "motion", Title: "What is known of its motion", Note: "How far spring and damper move with the wheel, and the ratio between them. Nothing else of the linkage is known.", Charts: []view.Chart{}}
	x := view.Axis{Label: "wheel travel, bump positive", Unit: length}
	travel := view.Chart{ID: "motion-travel", Title: "Travel of spring and damper", Kind: "line", X: x, Y: view.Axis{Label: "travel of the part", Unit: length}, Series: []view.Series{}, Marks: m.rules()}
	ratio := view.Chart{ID: "motion-ratio", Title: "Motion ratio", Kind: "line", X: x, Y: view.Axis{Label: "travel of the part over that of the wheel", Tight: true}, Series: []view.Series{}, Marks: m.rules()}
	slope := view.Chart{ID: "motion-slope", Title: "Change of the motion ratio", Kind: "line", X: x, Y: view.Axis{Label: "change of ratio", Unit: m.Teller.Label("1/m")}, Series: []view.Series{}, Marks: m.rules()}
	for _, p := range []struct {
		name   string
		motion *car.Motion
	}{{"spring", &ax.Spring}, {"damper", &ax.Damper}} {
		if !p.motion.Known() {
			continue
		}
		fit := p.motion.At(nil)
		low, high := m.study.Low, m.study.High
		if n := len(p.motion.Wheel); n > 0 {
			low, high = p.motion.Wheel[0], p.motion.Wheel[0]
			for _, w := range p.motion.Wheel {
				low, high = math.Min(low, w), math.Max(high, w)
			}
		}
		lines := [3]view.Series{}
		for i := range lines {
			lines[i] = view.Series{Name: p.name, X: []float64{}, Y: []float64{}}
		}
		for _, w := range linkage.Travels(low, high, 61) {
			v, d, dd := fit.At(w)
			for i, y := range []float64{m.Length(v), view.Tidy(d), view.Tidy(m.Teller.Plain("1/m", dd))} {
				lines[i].X, lines[i].Y = append(lines[i].X, m.Length(w)), append(lines[i].Y, y)
			}
		}
		travel.Series, ratio.Series, slope.Series = append(travel.Series, lines[0]), append(ratio.Series, lines[1]), append(slope.Series, lines[2])
		text := "Measured table of the " + p.name + ", laid through its readings."
		switch p.motion.Origin {
		case figure.Computed:
			text = "No motion table was measured for the " + p.name + ": its ratio is that of lengths taped along the arm."
		case figure.Estimated:
			text = "Of the motion of the " + p.name + " nothing was measured: its ratio is an estimate."
		default:
		}
		_, r0, s0 := fit.At(0)
		m.out.Motions = append(m.out.Motions, Motion{
			Part: p.name, Text: text + " At travel 0 its ratio is " + m.Teller.Figure("1", r0) + ", changing by " + m.Teller.Figure("1", 0.05*s0) + " over " + m.Teller.With("m", 0.05) + " of bump.",
			Heads: []string{}, Rows: [][]string{},
		})
	}
	if len(travel.Series) > 0 {
		g.Charts = append(g.Charts, travel, ratio, slope)
		m.out.Charts = append(m.out.Charts, g)
	}
}

// rules are the ends of travel as marks of a chart.
func (m *page) rules() []view.ChartMark {
	var out []view.ChartMark
	for _, k := range m.out.Marks {
		label, _, _ := strings.Cut(k.Label, " ")
		switch k.Kind {
		case "touch", "solid":
			label = k.Kind
		case "arch":
			label = "arch"
		case "open":
			label = "open"
		}
		out = append(out, view.ChartMark{At: k.At, Series: -1, Kind: "place", Label: label, Says: k.Label})
	}
	// Where two stand close, the first is a line without its word.
	for k := range out[:max(0, len(out)-1)] {
		if out[k+1].At-out[k].At < 0.13*m.Length(m.study.High-m.study.Low) {
			out[k].Label = ""
		}
	}
	return out
}
