package answer

import (
	"io"

	"trunnion/chassis/finding"
	"trunnion/chassis/roadtest"
	"trunnion/shop/jobfile"
)

// Formats of what logs of drives give.
const (
	LogFormat       = "trunnion.log/1"
	RoadTestFormat  = "trunnion.roadtest/1"
	CorrectedFormat = "trunnion.corrected/1"
)

// Log is trunnion.log/1: the channels of a log with their grades, what they say by
// themselves, and what the file does not say.
type Log struct {
	Format      string            `json:"format"`
	Program     string            `json:"program"`
	Questions   []LogQuestion     `json:"questions"`
	Faults      []SweepFault      `json:"faults"`
	Assumptions []SweepAssumption `json:"assumptions"`
	Channels    []LogChannel      `json:"channels"`
	Travel      []LogTravel       `json:"travel"`
	Events      []LogEvent        `json:"events"`
}

// LogQuestion is something a log does not say and nobody may guess.
type LogQuestion struct {
	Code    string   `json:"code"`
	About   string   `json:"about,omitempty"`
	Choices []string `json:"choices,omitempty"`
	Seen    string   `json:"seen,omitempty"`
	Points  string   `json:"points,omitempty"`
}

// LogChannel is one channel with its grade.
type LogChannel struct {
	Name     string     `json:"name"`
	Role     string     `json:"role"`
	Corner   *int       `json:"corner"` // null: of the car
	Rate     float64    `json:"rate"`   // [Hz]
	Duration float64    `json:"duration"`
	Grade    string     `json:"grade"`
	Step     float64    `json:"step"`  // quantisation; 0: none shows [SI]
	Floor    float64    `json:"floor"` // of velocity; 0: not of this channel [m/s]
	Found    []LogFound `json:"found"`
}

// LogFound is a defect of a channel.
type LogFound struct {
	Defect string  `json:"defect"`
	Value  float64 `json:"value"` // see docs/roadtest.md [SI]
	Grade  string  `json:"grade"`
}

// LogTravel is what a travel channel says without any model.
type LogTravel struct {
	Corner       int     `json:"corner"`
	Bump         float64 `json:"bump"`          // most, from the log's zero [m]
	Rebound      float64 `json:"rebound"`       // [m]
	Mean         float64 `json:"mean"`          // [m]
	Low          float64 `json:"low"`           // mark [m/s]
	High         float64 `json:"high"`          // mark [m/s]
	Below        float64 `json:"below"`         // share of time [-]
	AboveBump    float64 `json:"above_bump"`    // [-]
	AboveRebound float64 `json:"above_rebound"` // [-]
	Speed        float64 `json:"speed_rms"`     // [m/s]
	BodyRate     float64 `json:"body_rate"`     // [Hz]
	Floor        float64 `json:"floor"`         // of velocity [m/s]
}

// LogEvent is a text in a log.
type LogEvent struct {
	Time float64 `json:"time"` // [s]
	Text string  `json:"text"`
}

// NewLog is the document without channels.
func NewLog(program string) *Log {
	return &Log{Format: LogFormat, Program: program, Questions: []LogQuestion{}, Faults: []SweepFault{}, Assumptions: []SweepAssumption{}, Channels: []LogChannel{}, Travel: []LogTravel{}, Events: []LogEvent{}}
}

// WriteJSON writes the document.
func (d *Log) WriteJSON(w io.Writer) error { return WriteJSON(w, d) }

// Channel adds a channel.
func (d *Log) Channel(c *roadtest.Channel, g *roadtest.Grade) {
	one := LogChannel{Name: c.Name, Role: string(c.Role), Rate: c.Rate, Duration: c.Duration(), Grade: string(g.Mark), Step: g.Step, Floor: g.Floor, Found: []LogFound{}}
	if c.Corner >= 0 {
		one.Corner = &c.Corner
	}
	for _, f := range g.Found {
		one.Found = append(one.Found, LogFound{string(f.Defect), f.Value, string(f.Mark)})
	}
	d.Channels = append(d.Channels, one)
}

// Alone adds what a travel channel says.
func (d *Log) Alone(a *roadtest.Alone, m roadtest.Marks) {
	d.Travel = append(d.Travel, LogTravel{a.Corner, a.Bump, a.Rebound, a.Mean, m.Low, m.High, a.Below, a.AboveB, a.AboveR, a.Speed, a.BodyRate, a.Floor})
}

// RoadTest is trunnion.roadtest/1: the figures of a log beside their predictions, the
// road, and what would explain the difference.
type RoadTest struct {
	Format      string        `json:"format"`
	Program     string        `json:"program"`
	JobSHA256   string        `json:"job_sha256"`
	Build       string        `json:"build"`
	Load        string        `json:"load"`
	Distance    float64       `json:"distance"` // [m]
	Outside     int           `json:"outside"`
	Left        float64       `json:"unexplained"`        // of the road, with the build as entered [-]
	Fitted      float64       `json:"unexplained_fitted"` // with all that the log says [-]
	Wrong       []LogWrong    `json:"wrong"`
	Figures     []TestFigure  `json:"figures"`
	Stretches   []TestStretch `json:"stretches"`
	Strikes     []TestStrike  `json:"strikes"`
	Expected    []TestStrike  `json:"expected_strikes"`
	Corrections []Correction  `json:"corrections"`
}

// LogWrong is a channel that is not what it is said to be.
type LogWrong struct {
	Mistake string  `json:"mistake"`
	Corner  int     `json:"corner"` // -1: all
	Other   int     `json:"other"`  // of two that are swapped
	Value   float64 `json:"value"`
	Half    float64 `json:"half"`
}

// TestFigure is a figure beside its prediction.
type TestFigure struct {
	Code      string  `json:"code"`
	Corner    int     `json:"corner"`
	Measured  float64 `json:"measured"`  // [SI]
	Predicted float64 `json:"predicted"` // [SI]
	Low       float64 `json:"low"`       // [SI]
	High      float64 `json:"high"`      // [SI]
	Fitted    float64 `json:"fitted"`    // [SI]
	Outside   bool    `json:"outside"`
}

// TestStretch is a stretch with its road.
type TestStretch struct {
	Start     float64 `json:"start"`     // [s]
	Length    float64 `json:"length"`    // [m]
	Speed     float64 `json:"speed"`     // [m/s]
	Class     string  `json:"class"`     // ISO 8608
	Roughness float64 `json:"roughness"` // Gd(n0) [m³]
	Low       float64 `json:"low"`       // [m³]
	High      float64 `json:"high"`      // [m³]
	Index     float64 `json:"iri"`       // of the left track [m/m]
}

// TestStrike is one contact with a stop.
type TestStrike struct {
	Corner int     `json:"corner"`
	Time   float64 `json:"time"`   // [s]
	Force  float64 `json:"force"`  // at the damper [N]
	Travel float64 `json:"travel"` // of the damper from rest where the stop was met [m]
}

// Correction is an input that the log speaks for.
type Correction struct {
	Name      string         `json:"name"`
	Input     string         `json:"input"`
	Corner    int            `json:"corner"`
	Entered   float64        `json:"entered"`   // [SI]
	Corrected float64        `json:"corrected"` // [SI]
	By        float64        `json:"by"`        // on top of what was entered, as the model takes it [SI]
	Half      float64        `json:"half"`      // of its 95 % range [SI]
	Explains  int            `json:"explains"`
	Left      int            `json:"left"` // figures outside their bands with it
	NotApart  []string       `json:"not_apart_from"`
	Edits     []jobfile.Edit `json:"edits"`
	Unable    string         `json:"unable,omitempty"`
}

// WriteJSON writes the document.
func (d *RoadTest) WriteJSON(w io.Writer) error { return WriteJSON(w, d) }

// NewRoadTest makes the document, corrections left out.
func NewRoadTest(program, sha, build, load string, o *roadtest.Outcome) *RoadTest {
	d := &RoadTest{
		Format: RoadTestFormat, Program: program, JobSHA256: sha, Build: build, Load: load, Distance: o.Distance, Left: o.Fit.Left, Fitted: o.Fit.Fitted,
		Wrong: []LogWrong{}, Figures: []TestFigure{}, Stretches: []TestStretch{}, Strikes: strikes(o.Strikes), Expected: strikes(o.Expected), Corrections: []Correction{},
	}
	for _, w := range o.Wrong {
		d.Wrong = append(d.Wrong, LogWrong{string(w.Mistake), w.Corner, w.Other, w.Value, w.Half})
	}
	for _, f := range o.Figures {
		d.Figures = append(d.Figures, TestFigure{string(f.Code), f.Corner, f.Measured, f.Predicted, f.Low, f.High, f.Refit, f.Outside})
		if f.Outside {
			d.Outside++
		}
	}
	for _, s := range o.Stretches {
		d.Stretches = append(d.Stretches, TestStretch{s.Start, s.Length, s.Speed, s.Class.String(), s.Roughness, s.Low, s.High, s.Index})
	}
	return d
}

func strikes(list []roadtest.Strike) []TestStrike {
	out := []TestStrike{}
	for _, s := range list {
		out = append(out, TestStrike{s.Corner, s.Time, s.Force, s.Travel})
	}
	return out
}

// NewCorrection is a correction of the document.
func NewCorrection(name string, o *roadtest.Offer, edits []jobfile.Edit, unable string) Correction {
	c := Correction{Name: name, Input: string(o.Name), Corner: o.Corner, Entered: o.Entered, Corrected: o.Corrected, By: o.Value, Half: o.Half, Explains: len(o.Explains), Left: o.Left, NotApart: []string{}, Edits: append([]jobfile.Edit{}, edits...), Unable: unable}
	for _, w := range o.With {
		c.NotApart = append(c.NotApart, string(w.Name))
	}
	return c
}

// Corrected is trunnion.corrected/1: a job with corrections taken, and what they change.
type Corrected struct {
	Format  string          `json:"format"`
	Program string          `json:"program"`
	Taken   []Correction    `json:"taken"`
	Changes []FindingChange `json:"changes"`
	Job     string          `json:"job"` // its text
}

// FindingChange is a finding before and after.
type FindingChange struct {
	Finding string   `json:"finding"`
	Load    string   `json:"load"`
	Corner  int      `json:"corner"`
	Was     string   `json:"was"` // verdict; empty: there was no such finding
	Is      string   `json:"is"`
	Before  *float64 `json:"before"` // [SI]
	After   *float64 `json:"after"`  // [SI]
}

// WriteJSON writes the document.
func (d *Corrected) WriteJSON(w io.Writer) error { return WriteJSON(w, d) }

// NewFindingChange is a change of the document.
func NewFindingChange(before, after *finding.Finding) FindingChange {
	var out FindingChange
	if before != nil {
		out.Finding, out.Was = before.Code, string(before.Verdict)
		if before.Value != nil {
			out.Load, out.Corner, out.Before = before.Value.Place.Load, before.Value.Place.Corner, Finite(before.Value.Value)
		}
	}
	if after != nil {
		out.Finding, out.Is = after.Code, string(after.Verdict)
		if after.Value != nil {
			out.Load, out.Corner, out.After = after.Value.Place.Load, after.Value.Place.Corner, Finite(after.Value.Value)
		}
	}
	return out
}
