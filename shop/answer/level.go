package answer

import (
	"encoding/json"
	"io"
	"math"

	"trunnion/chassis/figure"
	"trunnion/chassis/scales"
)

// LevelFormat names the contract of an answer from the scales.
const LevelFormat = "trunnion.level/1"

// Level is trunnion.level/1: what to turn, and what it leads to. Corners stand
// in the order of the arrays: front left, front right, rear left, rear right.
type Level struct {
	Format   string         `json:"format"`
	Program  string         `json:"program"`
	Build    string         `json:"build"`
	Load     string         `json:"load"`
	Diagonal string         `json:"diagonal"` // that cross weight counts
	Rounds   int            `json:"rounds"`
	Verdict  string         `json:"verdict"` // of the gate: pass, caution, stop
	Checks   []LevelCheck   `json:"checks"`
	Stopped  bool           `json:"stopped"` // nothing is to be turned
	Met      bool           `json:"met"`     // as it stands
	Meets    bool           `json:"meets"`   // after the move
	Collars  []LevelCollar  `json:"collars"`
	Now      *LevelForecast `json:"now"`
	After    *LevelForecast `json:"after"`
	Scatter  *LevelForecast `json:"scatter"` // of one settled reading; its halves are what counts
	Single   *LevelSingle   `json:"single"`
	Missed   []LevelMissed  `json:"missed"`
	Refused  []LevelRefused `json:"refused"`
	Prices   []LevelPrice   `json:"prices"`
	Chosen   int            `json:"chosen"`
	Twist    float64        `json:"twist"` // cross per metre of twist [1/m]
	Suspects []LevelSuspect `json:"suspects"`
	Learned  []LevelLearned `json:"learned"`
	Got      []LevelGot     `json:"predicted_and_got"`
	Order    []LevelStep    `json:"order"`
	Reopened []string       `json:"reopened"`
}

// LevelCheck is one check of the gate.
type LevelCheck struct {
	Code    string        `json:"code"`
	Round   int           `json:"round"`
	Verdict string        `json:"verdict"`
	Corner  *string       `json:"corner"`
	Other   *string       `json:"other"`
	Figures []LevelFigure `json:"figures"`
	Causes  []LevelCause  `json:"causes"` // what would explain it, the likeliest first
	Text    string        `json:"text"`
}

// LevelCause is a slip that would explain an odd reading.
type LevelCause struct {
	Code   string  `json:"code"`
	Corner *string `json:"corner"`
	Other  *string `json:"other"`
	Height bool    `json:"height"` // a height; else a load
	Value  float64 `json:"value"`  // what the reading would be; 0 of a swap [kg] or [m]
	Text   string  `json:"text"`
}

// LevelFigure is a figure of a check.
type LevelFigure struct {
	Code   string   `json:"code"`
	Value  *float64 `json:"value"` // [SI]
	Unit   string   `json:"unit"`
	Corner *string  `json:"corner"`
}

// LevelCollar is what to do at a corner.
type LevelCollar struct {
	Corner    string  `json:"corner"`
	Turns     float64 `json:"turns"` // up positive [-]
	Move      float64 `json:"move"`  // up positive [m]
	Way       string  `json:"way"`   // up, down or none
	Clockwise bool    `json:"clockwise_from_above"`
	At        float64 `json:"at"`        // from the start mark, after it [m]
	RoomUp    float64 `json:"room_up"`   // [m]
	RoomDown  float64 `json:"room_down"` // [m]
	Held      string  `json:"held"`
	Text      string  `json:"text"`
}

// LevelBand is a figure and its 95 % half-width.
type LevelBand struct {
	Value float64 `json:"value"` // [SI]
	Half  float64 `json:"half"`  // [SI]
}

// LevelForecast is what scales and tape show.
type LevelForecast struct {
	Load   [4]LevelBand `json:"load"`   // [kg]
	Height [4]LevelBand `json:"height"` // [m]
	Level  [2]LevelBand `json:"level"`  // left over right of each axle [m]
	Mean   [2]LevelBand `json:"mean"`   // of each axle [m]
	Rake   LevelBand    `json:"rake"`   // [m]
	Cross  LevelBand    `json:"cross"`  // [-]
}

// LevelSingle is the best that one collar can do.
type LevelSingle struct {
	Collar LevelCollar   `json:"collar"`
	After  LevelForecast `json:"after"`
	Meets  bool          `json:"meets"`
}

// LevelMissed is a wish that is not met.
type LevelMissed struct {
	Code   string  `json:"code"`
	Axle   *string `json:"axle"`
	Wanted float64 `json:"wanted"` // [SI]
	Got    float64 `json:"got"`    // [SI]
	Why    string  `json:"why"`
	Corner *string `json:"corner"`
	Text   string  `json:"text"`
}

// LevelRefused is why a move is not made.
type LevelRefused struct {
	Code   string  `json:"code"`
	Corner *string `json:"corner"`
	Load   string  `json:"load"`
	Value  float64 `json:"value"` // [m]
	Limit  float64 `json:"limit"` // [m]
	Text   string  `json:"text"`
}

// LevelPrice is a point of the curve of height against cross.
type LevelPrice struct {
	CrossPerMetre *float64   `json:"cross_per_metre"` // null: heights alone [1/m]
	Move          [4]float64 `json:"move"`            // [m]
	Level         [2]float64 `json:"level"`           // [m]
	Cross         float64    `json:"cross"`           // [-]
}

// LevelSuspect is a slip that would explain the readings.
type LevelSuspect struct {
	Code   string  `json:"code"`
	Axle   int     `json:"axle"`
	Corner *string `json:"corner"`
	Other  *string `json:"other"`
	Value  float64 `json:"value"`  // [SI]
	Stated float64 `json:"stated"` // [SI]
	Odds   float64 `json:"odds"`
	Same   bool    `json:"cannot_be_told_apart"`
	Text   string  `json:"text"`
}

// LevelLearned is what the readings made of an unknown.
type LevelLearned struct {
	Code   string  `json:"code"`
	Axle   *string `json:"axle"`
	Corner *string `json:"corner"`
	Value  float64 `json:"value"`  // factor, [m] or [kg]
	SD     float64 `json:"sd"`     // in the unit of value [SI]
	Before float64 `json:"before"` // the standard deviation before any reading [SI]
}

// LevelGot is a prediction and what was read.
type LevelGot struct {
	Round     int           `json:"round"`
	Predicted LevelForecast `json:"predicted"`
	Load      [4]*float64   `json:"load"`   // [kg]
	Height    [4]*float64   `json:"height"` // [m]
}

// LevelStep is a step of the work.
type LevelStep struct {
	Code     string   `json:"code"`
	Cautions []string `json:"cautions"`
	Again    bool     `json:"again"`
	Now      bool     `json:"now"`
}

// CornerName is a corner's name, nil where there is none.
func CornerName(i int) *string {
	if i < 0 || i >= len(figure.CornerNames) {
		return nil
	}
	name := figure.CornerNames[i]
	return &name
}

// AxleName is an axle's name, nil where there is none.
func AxleName(a int) *string {
	if a < 0 || a > 1 {
		return nil
	}
	name := [2]string{"front", "rear"}[a]
	return &name
}

// Finite is a number that JSON can hold, or nil.
func Finite(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

// Forecast puts a forecast into the contract.
func Forecast(f *scales.Forecast) LevelForecast {
	band := func(b scales.Band) LevelBand { return LevelBand(b) }
	out := LevelForecast{Rake: band(f.Rake), Cross: band(f.Cross)}
	for i := range 4 {
		out.Load[i], out.Height[i] = band(f.Load[i]), band(f.Height[i])
	}
	for a := range 2 {
		out.Level[a], out.Mean[a] = band(f.Level[a]), band(f.Mean[a])
	}
	return out
}

// WriteJSON writes the answer.
func (l *Level) WriteJSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	return e.Encode(l)
}
