package web

import (
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
)

// ScalesWishes are what is wanted, as typed; empty: as the preset has it, "none":
// not at all.
type ScalesWishes struct {
	Front      string `json:"front" maxLength:"60" doc:"mean height, hub to arch; empty: as it stands"`
	Rear       string `json:"rear" maxLength:"60"`
	Rake       string `json:"rake" maxLength:"60" doc:"rear over front"`
	LevelFront string `json:"levelFront" maxLength:"60" doc:"left over right"`
	LevelRear  string `json:"levelRear" maxLength:"60"`
	Cross      string `json:"cross" maxLength:"60"`
	FrontShare string `json:"frontShare,omitempty" maxLength:"60" doc:"collars never move it, and the answer says so"`
	LeftShare  string `json:"leftShare,omitempty" maxLength:"60"`
}

// ScalesSettings are what is asked of the scales.
type ScalesSettings struct {
	Build    string       `json:"build" maxLength:"100" doc:"empty: the only one with collars, else the first with rounds"`
	Load     string       `json:"load" maxLength:"100" doc:"empty: that of the last round, else the usual one"`
	Preset   string       `json:"preset" maxLength:"20" doc:"road, track or race; empty: road"`
	Diagonal string       `json:"diagonal" maxLength:"40" doc:"that cross weight counts: front-right-rear-left or front-left-rear-right"`
	Price    string       `json:"price" maxLength:"60" doc:"cross weight that a millimetre is worth; empty: the preset's; level: cross counts nothing"`
	Step     string       `json:"step" maxLength:"20" doc:"smallest turn; empty: 1/8"`
	Flats    string       `json:"flats" maxLength:"10" doc:"of the collar, instead of a step"`
	Only     []string     `json:"only" maxItems:"4" doc:"corners that may be turned; none: all"`
	Wishes   ScalesWishes `json:"wishes"`
	Units    string       `json:"units" maxLength:"10" doc:"metric, imperial or mixed"`
}

// Scales is a build on the scales: what to do now, and all that stands behind
// it. Corners stand in the order front left, front right, rear left, rear right.
type Scales struct {
	Ms        int                 `json:"ms"`
	Builds    []ScalesBuild       `json:"builds"`
	Build     string              `json:"build"`
	Load      string              `json:"load"`
	Loads     []ScalesLoad        `json:"loads"`
	Settings  ScalesSettings      `json:"settings"`
	Presets   []ScalesPreset      `json:"presets"`
	Says      string              `json:"says" doc:"what to do now, in a sentence"`
	Verdict   string              `json:"verdict" enum:"pass,caution,stop" doc:"of the last readings"`
	Stopped   bool                `json:"stopped" doc:"nothing is to be turned"`
	Met       bool                `json:"met" doc:"as it stands, every wish lies within its tolerance"`
	Meets     bool                `json:"meets" doc:"after the move"`
	Checks    []ScalesCheck       `json:"checks" doc:"of the last readings"`
	Corners   []ScalesCorner      `json:"corners"`
	Totals    []ScalesTotal       `json:"totals"`
	Cross     ScalesCross         `json:"cross"`
	Axles     []ScalesAxle        `json:"axles" doc:"front and rear"`
	Price     ScalesPrice         `json:"price"`
	Missed    []string            `json:"missed"`
	Refused   []string            `json:"refused"`
	Single    *ScalesSingle       `json:"single,omitempty" doc:"the best that one collar alone can do"`
	Suspects  []ScalesSuspect     `json:"suspects" doc:"the likeliest first"`
	Learned   []ScalesLearned     `json:"learned"`
	Predicted []ScalesPredicted   `json:"predicted" doc:"predicted against got, round by round"`
	Order     []ScalesStep        `json:"order"`
	Reopened  []string            `json:"reopened" doc:"what the move opens again"`
	Opened    []string            `json:"opened" doc:"what the moves of the rounds so far have opened again"`
	Cautions  []string            `json:"cautions"`
	Rounds    []ScalesRound       `json:"rounds" doc:"all that were kept, those withdrawn too"`
	Keep      ScalesKeep          `json:"keep"`
	Plan      ScalesPlan          `json:"plan"`
	Faults    []intake.FieldFault `json:"faults" doc:"what was typed and cannot be read"`
}

// ScalesBuild is a build that can stand on the scales.
type ScalesBuild struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	Collars bool   `json:"collars" doc:"without, readings are taken and nothing is turned"`
	Rounds  int    `json:"rounds" doc:"that stand"`
}

// ScalesLoad is a load state.
type ScalesLoad struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// ScalesPreset is a set of tolerances.
type ScalesPreset struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Says string `json:"says"`
}

// ScalesCheck is one thing that the gate looked at.
type ScalesCheck struct {
	Code    string  `json:"code"`
	Verdict string  `json:"verdict" enum:"pass,caution,stop"`
	Text    string  `json:"text"`
	Corner  *string `json:"corner" nullable:"true"`
}

// ScalesShown is a figure and its half-width as text.
type ScalesShown struct {
	Shown string `json:"shown"`
	Band  string `json:"band"`
}

// ScalesAfter is what scales and tape will show after the move.
type ScalesAfter struct {
	Load       string `json:"load"`
	LoadBand   string `json:"loadBand"`
	Height     string `json:"height"`
	HeightBand string `json:"heightBand"`
}

// ScalesCorner is one corner: as read in the last round, or as the parts lead to
// where nothing was read.
type ScalesCorner struct {
	Corner string        `json:"corner"`
	Name   string        `json:"name"`
	Read   bool          `json:"read" doc:"load and height were read"`
	Load   ScalesShown   `json:"load"`
	Height ScalesShown   `json:"height"`
	After  ScalesAfter   `json:"after"`
	Asked  string        `json:"asked" doc:"turns that an empty field of turns stands for"`
	Collar *ScalesCollar `json:"collar,omitempty" doc:"absent: there is none"`
}

// ScalesCollar is what to turn at a corner.
type ScalesCollar struct {
	Turns       string  `json:"turns" doc:"without sign: 1 1/8"`
	Way         string  `json:"way" enum:"up,down,none"`
	Clockwise   bool    `json:"clockwise" doc:"seen from above"`
	TurnsNumber float64 `json:"turnsNumber" doc:"up positive"`
	Move        string  `json:"move"`
	At          string  `json:"at" doc:"from the start mark, after it"`
	RoomUp      string  `json:"roomUp"`
	RoomDown    string  `json:"roomDown"`
	Held        string  `json:"held" doc:"what keeps it from going further, or nothing"`
	Text        string  `json:"text"`
}

// ScalesTotal is a figure of the whole car.
type ScalesTotal struct {
	Label string `json:"label"`
	Shown string `json:"shown"`
	Band  string `json:"band"`
	After string `json:"after"`
}

// ScalesCross is the cross weight, by both conventions.
type ScalesCross struct {
	Diagonal []string   `json:"diagonal" doc:"the two corners that are counted"`
	Name     string     `json:"name"`
	Now      string     `json:"now"`
	After    string     `json:"after"`
	Band     string     `json:"band" doc:"of the reading after the move"`
	Wanted   string     `json:"wanted"`
	Other    ScalesPair `json:"other" doc:"by the other diagonal"`
}

// ScalesPair is now and after.
type ScalesPair struct {
	Now   string `json:"now"`
	After string `json:"after"`
}

// ScalesAxle is an axle's level.
type ScalesAxle struct {
	Level ScalesLevel `json:"level" doc:"left over right"`
	Says  string      `json:"says"`
}

// ScalesLevel is left over right.
type ScalesLevel struct {
	Now   string `json:"now"`
	After string `json:"after"`
	Band  string `json:"band"`
}

// ScalesPrice is the curve of level against cross weight.
type ScalesPrice struct {
	Unit      string             `json:"unit" doc:"of x"`
	CrossUnit string             `json:"crossUnit"`
	Points    []ScalesPricePoint `json:"points" doc:"from heights alone to cross alone"`
	Chosen    int                `json:"chosen" doc:"−1: none"`
	Note      string             `json:"note"`
}

// ScalesPricePoint is one point of the curve.
type ScalesPricePoint struct {
	X     float64 `json:"x" doc:"left against right at the worse axle"`
	Cross float64 `json:"cross"`
	Label string  `json:"label"`
	Price string  `json:"price" doc:"what to ask for this point with"`
}

// ScalesSingle is what one collar alone can do.
type ScalesSingle struct {
	Text  string `json:"text"`
	Meets bool   `json:"meets" doc:"all wishes within their tolerances"`
}

// ScalesSuspect is a slip or a wrong figure that would explain the readings.
type ScalesSuspect struct {
	Text     string `json:"text"`
	Likelier string `json:"likelier"`
	Same     bool   `json:"same" doc:"the readings cannot tell it from the first"`
}

// ScalesLearned is what the readings made of a figure of the parts.
type ScalesLearned struct {
	Text string `json:"text"`
}

// ScalesPredicted is a round predicted against got.
type ScalesPredicted struct {
	Round int                  `json:"round"`
	Rows  []ScalesPredictedRow `json:"rows"`
}

// ScalesPredictedRow is one figure of it.
type ScalesPredictedRow struct {
	Label     string `json:"label"`
	Predicted string `json:"predicted"`
	Got       string `json:"got"`
	Off       string `json:"off"`
	Inside    bool   `json:"inside" doc:"of the predicted band"`
}

// ScalesStep is a step of the order of work.
type ScalesStep struct {
	Text    string `json:"text"`
	Caution bool   `json:"caution" doc:"it has something to mind for the hands"`
	Mind    string `json:"mind"`
	Now     bool   `json:"now"`
	Again   bool   `json:"again" doc:"the move opens it again"`
}

// ScalesRound is a round that was kept, as it was typed.
type ScalesRound struct {
	ID        string            `json:"id"`
	Number    int               `json:"number"`
	Taken     string            `json:"taken"`
	Saved     string            `json:"saved"`
	Who       string            `json:"who"`
	Load      string            `json:"load" doc:"load state, by id"`
	Loads     []string          `json:"loads"`
	Heights   []string          `json:"heights"`
	Turned    []string          `json:"turned"`
	Cross     string            `json:"cross"`
	Verdict   string            `json:"verdict" enum:"pass,caution,stop"`
	Withdrawn *ScalesWithdrawn  `json:"withdrawn,omitempty"`
	Note      string            `json:"note"`
	Round     intake.RoundTyped `json:"round"`
}

// ScalesWithdrawn says who took a round back.
type ScalesWithdrawn struct {
	Who  string `json:"who"`
	When string `json:"when"`
	Why  string `json:"why"`
}

// ScalesKeep is what writes the last good readings into the job.
type ScalesKeep struct {
	Edits []jobfile.Edit `json:"edits"`
	Says  string         `json:"says"`
}

// ScalesPlan is the car from above, for drawing.
type ScalesPlan struct {
	Unit      string      `json:"unit"`
	Wheelbase float64     `json:"wheelbase"`
	Wheels    [][]float64 `json:"wheels" doc:"behind the front axle, left of the middle"`
	Seat      *ScalesSeat `json:"seat,omitempty" doc:"the driver's"`
}

// ScalesSeat is a place.
type ScalesSeat struct {
	Behind float64 `json:"behind"`
	Left   float64 `json:"left"`
}

// ScalesRequest asks for the next move, with a round that is being typed.
type ScalesRequest struct {
	Draft    *intake.RoundTyped `json:"draft,omitempty" doc:"typed and not kept"`
	Settings ScalesSettings     `json:"settings"`
}

// ScalesRoundRequest keeps a round.
type ScalesRoundRequest struct {
	ID    string `json:"id" minLength:"1" maxLength:"100" doc:"made by the page; a round that comes twice is kept once"`
	Taken string `json:"taken" maxLength:"40" doc:"RFC 3339"`
	Build string `json:"build" minLength:"1" maxLength:"100"`
	Who   string `json:"who,omitempty" maxLength:"100"`
	// Seen is what turns "as was asked" are counted from: with two tablets the
	// last round may be another's.
	Seen     string            `json:"seen,omitempty" maxLength:"100" doc:"id of the last round on the screen; the turns that were asked for are those after it"`
	Round    intake.RoundTyped `json:"round"`
	Settings ScalesSettings    `json:"settings"`
}

// ScalesWithdrawRequest takes a round back.
type ScalesWithdrawRequest struct {
	Why      string         `json:"why" maxLength:"500"`
	Who      string         `json:"who,omitempty" maxLength:"100"`
	Settings ScalesSettings `json:"settings"`
}

// ScalesText is pasted text, or what a file holds.
type ScalesText struct {
	Text string `json:"text" maxLength:"200000"`
}

// ScalesRead are the rounds of a text.
type ScalesRead struct {
	Rounds []intake.RoundTyped `json:"rounds"`
	Faults []string            `json:"faults"`
}
