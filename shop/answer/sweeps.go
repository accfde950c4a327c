package answer

import (
	"io"

	"trunnion/chassis/dyno"
	"trunnion/chassis/valving"
)

// Formats of what sweeps of dampers give.
const (
	SweepsFormat   = "trunnion.sweeps/1"
	PairFormat     = "trunnion.pair/1"
	AcceptedFormat = "trunnion.accepted/1"
)

// Sweeps is trunnion.sweeps/1: curves of the dampers in files of a dyno, and what the
// files do not say.
type Sweeps struct {
	Format      string            `json:"format"`
	Program     string            `json:"program"`
	Questions   []SweepQuestion   `json:"questions"`
	Faults      []SweepFault      `json:"faults"`
	Assumptions []SweepAssumption `json:"assumptions"`
	Dampers     []SweptDamper     `json:"dampers"`
}

// SweepQuestion is something a file does not say and nobody may guess.
type SweepQuestion struct {
	Code    string   `json:"code"`
	About   string   `json:"about,omitempty"`
	File    string   `json:"file"`
	Line    int      `json:"line"`
	Choices []string `json:"choices,omitempty"`
	Seen    string   `json:"seen,omitempty"`
	Points  string   `json:"points,omitempty"`
}

// SweepAssumption is something that was understood of a file.
type SweepAssumption struct {
	Code  string `json:"code"`
	About string `json:"about,omitempty"`
	Value string `json:"value,omitempty"`
	File  string `json:"file,omitempty"`
	Line  int    `json:"line,omitempty"`
}

// SweepFault is what cannot be read, where, and what to do.
type SweepFault struct {
	File string `json:"file"`
	Line int    `json:"line,omitempty"`
	Got  string `json:"got"`
	Want string `json:"want"`
}

// SweptDamper is one damper.
type SweptDamper struct {
	Name     string         `json:"name"`
	Kelvin   *float64       `json:"temperature"` // of the skin; null: not known [K]
	Clicks   []int          `json:"clicks"`      // from closed to open, of each adjuster
	Gas      *float64       `json:"gas"`         // taken off [N]
	Friction *float64       `json:"friction"`    // taken off [N]
	Curves   []SweptCurve   `json:"curves"`
	Faults   []ClickFault   `json:"faults"`
	LeftOut  []SweptLeftOut `json:"left_out"`
}

// SweptCurve is one setting.
type SweptCurve struct {
	Clicks  []int        `json:"clicks"` // from closed, of each adjuster
	Bump    []SweptForce `json:"bump"`
	Rebound []SweptForce `json:"rebound"`
}

// SweptForce is force at a speed, positive in both strokes, gas and friction taken off.
type SweptForce struct {
	Speed float64 `json:"speed"` // [m/s]
	Force float64 `json:"force"` // [N]
	Half  float64 `json:"half"`  // of the 95 % range [N]
}

// SweptLeftOut is a run that went into no curve.
type SweptLeftOut struct {
	From   string   `json:"from"`
	Kelvin *float64 `json:"temperature"` // [K]
}

// NewSweeps is the document without dampers.
func NewSweeps(program string) *Sweeps {
	return &Sweeps{Format: SweepsFormat, Program: program, Questions: []SweepQuestion{}, Faults: []SweepFault{}, Assumptions: []SweepAssumption{}, Dampers: []SweptDamper{}}
}

// WriteJSON writes the document.
func (d *Sweeps) WriteJSON(w io.Writer) error { return WriteJSON(w, d) }

// Add adds a damper.
func (d *Sweeps) Add(name string, s *dyno.Set) {
	one := SweptDamper{
		Name: name, Kelvin: Finite(s.Reference), Clicks: []int{}, Gas: Finite(s.Static.Gas.Value), Friction: Finite(s.Static.Friction.Value),
		Curves: []SweptCurve{}, Faults: []ClickFault{}, LeftOut: []SweptLeftOut{},
	}
	for _, a := range s.Adjusters {
		one.Clicks = append(one.Clicks, a.Clicks)
	}
	for i := range s.Curves {
		c := &s.Curves[i]
		one.Curves = append(one.Curves, SweptCurve{setting(c.Setting, s.Adjusters), sweptForces(&c.Bump), sweptForces(&c.Rebound)})
	}
	if len(s.Curves) > 0 {
		for _, f := range s.Faults() {
			one.Faults = append(one.Faults, ClickFault{string(f.Fault), f.Soft, f.Hard, string(f.Stroke), f.Speed, f.Change.Value})
		}
	}
	for i := range s.LeftOut {
		one.LeftOut = append(one.LeftOut, SweptLeftOut{s.LeftOut[i].From, Finite(s.LeftOut[i].Temperature)})
	}
	d.Dampers = append(d.Dampers, one)
}

func setting(s dyno.Setting, adjusters []dyno.Adjuster) []int {
	return append([]int{}, s[:min(len(adjusters), len(s))]...)
}

func sweptForces(b *dyno.Branch) []SweptForce {
	out := []SweptForce{}
	for i := range b.Speed {
		out = append(out, SweptForce{b.Speed[i], b.Force[i], b.Half[i]})
	}
	return out
}

// Pair is trunnion.pair/1: two dampers side by side.
type Pair struct {
	Format  string      `json:"format"`
	Program string      `json:"program"`
	A       string      `json:"a"`
	B       string      `json:"b"`
	Matched bool        `json:"matched"`
	Share   float64     `json:"tolerance_share"` // [-]
	Least   float64     `json:"tolerance_least"` // [N]
	Warmer  *float64    `json:"a_warmer_by"`     // [K]
	Worst   PairPlace   `json:"worst"`
	All     []PairPlace `json:"all"`
	OnlyA   [][]int     `json:"only_a"`
	OnlyB   [][]int     `json:"only_b"`
}

// PairPlace is how far apart the two are at one place.
type PairPlace struct {
	Clicks   []int   `json:"clicks"`
	Stroke   string  `json:"stroke"`
	Speed    float64 `json:"speed"`      // [m/s]
	A        float64 `json:"a"`          // [N]
	B        float64 `json:"b"`          // [N]
	By       float64 `json:"difference"` // A less B [N]
	Half     float64 `json:"half"`       // of its 95 % range [N]
	Share    float64 `json:"share"`      // of the mean [-]
	Use      float64 `json:"use"`        // of the tolerance [-]
	Distinct bool    `json:"distinct"`   // further apart than the band
}

// WriteJSON writes the document.
func (d *Pair) WriteJSON(w io.Writer) error { return WriteJSON(w, d) }

// NewPair makes the document.
func NewPair(program, a, b string, p *dyno.Pair, adjusters []dyno.Adjuster) *Pair {
	place := func(d *dyno.Difference) PairPlace {
		return PairPlace{setting(d.Setting, adjusters), string(d.Stroke), d.Speed, d.A.Value, d.B.Value, d.Newton.Value, d.Newton.Half, d.Share, d.Use, d.Distinct}
	}
	out := &Pair{Format: PairFormat, Program: program, A: a, B: b, Matched: p.Matched, Share: p.Tolerance.Share, Least: p.Tolerance.Least, Warmer: Finite(p.Warmer), Worst: place(p.Worst), All: []PairPlace{}, OnlyA: [][]int{}, OnlyB: [][]int{}}
	for i := range p.All {
		out.All = append(out.All, place(&p.All[i]))
	}
	for _, s := range p.OnlyA {
		out.OnlyA = append(out.OnlyA, setting(s, adjusters))
	}
	for _, s := range p.OnlyB {
		out.OnlyB = append(out.OnlyB, setting(s, adjusters))
	}
	return out
}

// Accepted is trunnion.accepted/1: a returned damper against its order.
type Accepted struct {
	Format  string         `json:"format"`
	Program string         `json:"program"`
	Name    string         `json:"name"`
	Accept  bool           `json:"accept"`
	Lines   []AcceptedLine `json:"lines"`
}

// AcceptedLine is one line of the order.
type AcceptedLine struct {
	Damper  string   `json:"damper"`
	Click   int      `json:"click"`
	Stroke  string   `json:"stroke"`
	Speed   float64  `json:"speed"`   // [m/s]
	Force   float64  `json:"ordered"` // [N]
	Least   float64  `json:"least"`   // [N]
	Most    float64  `json:"most"`    // [N]
	Is      *float64 `json:"is"`      // [N]
	Half    *float64 `json:"half"`    // of its 95 % range [N]
	Verdict string   `json:"verdict"`
}

// WriteJSON writes the document.
func (d *Accepted) WriteJSON(w io.Writer) error { return WriteJSON(w, d) }

// NewAccepted makes the document.
func NewAccepted(program, name string, a *valving.Accepted) *Accepted {
	out := &Accepted{Format: AcceptedFormat, Program: program, Name: name, Accept: a.Accept, Lines: []AcceptedLine{}}
	for i := range a.Lines {
		h := &a.Lines[i]
		one := AcceptedLine{Damper: h.Damper, Click: h.Click, Stroke: string(h.Stroke), Speed: h.Speed, Force: h.Force, Least: h.Least, Most: h.Most, Verdict: string(h.Verdict)}
		if h.Verdict != valving.Unknown {
			one.Is, one.Half = Finite(h.Is.Value), Finite(h.Is.Half)
		}
		out.Lines = append(out.Lines, one)
	}
	return out
}
