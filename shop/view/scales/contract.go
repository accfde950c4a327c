package scales

import (
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
)

// Wishes are what is wanted, as typed; empty: as the preset has it, "none":
// not at all.
type Wishes struct {
	Front      string `json:"front" maxLength:"60" doc:"mean height, hub to arch; empty: as it stands"`
	Rear       string `json:"rear" maxLength:"60"`
	Rake       string `json:"rake" maxLength:"60" doc:"rear over front"`
	LevelFront string `json:"levelFront" maxLength:"60" doc:"left over right"`
	LevelRear  string `json:"levelRear" maxLength:"60"`
	Cross      string `json:"cross" maxLength:"60"`
	FrontShare string `json:"frontShare,omitempty" maxLength:"60" doc:"collars never move it, and the answer says so"`
	LeftShare  string `json:"leftShare,omitempty" maxLength:"60"`
}

// Settings are what is asked of the scales.
type Settings struct {
	Build    string   `json:"build" maxLength:"100" doc:"empty: the only one with collars, else the first with rounds"`
	Load     string   `json:"load" maxLength:"100" doc:"empty: that of the last round, else the usual one"`
	Preset   string   `json:"preset" maxLength:"20" doc:"road, track or race; empty: road"`
	Diagonal string   `json:"diagonal" maxLength:"40" doc:"that cross weight counts: front-right-rear-left or front-left-rear-right"`
	Price    string   `json:"price" maxLength:"60" doc:"cross weight that a millimetre is worth; empty: the preset's; level: cross counts nothing"`
	Step     string   `json:"step" maxLength:"20" doc:"smallest turn; empty: 1/8"`
	Flats    string   `json:"flats" maxLength:"10" doc:"of the collar, instead of a step"`
	Only     []string `json:"only" maxItems:"4" doc:"corners that may be turned; none: all"`
	Wishes   Wishes   `json:"wishes"`
	Units    string   `json:"units" maxLength:"10" doc:"metric, imperial or mixed"`
}

// View is a build on the scales: what to do now, and all that stands behind
// it. Corners stand in the order front left, front right, rear left, rear right.
type View struct {
	Ms        int                 `json:"ms"`
	Builds    []Build             `json:"builds"`
	Build     string              `json:"build"`
	Load      string              `json:"load"`
	Loads     []Load              `json:"loads"`
	Settings  Settings            `json:"settings"`
	Presets   []Preset            `json:"presets"`
	Says      string              `json:"says" doc:"what to do now, in a sentence"`
	Verdict   string              `json:"verdict" enum:"pass,caution,stop" doc:"of the last readings"`
	Stopped   bool                `json:"stopped" doc:"nothing is to be turned"`
	Unread    bool                `json:"unread" doc:"no reading has passed yet: the car is to be weighed"`
	Now       string              `json:"now" doc:"what is to be done in place of a turn; empty where there are turns"`
	Met       bool                `json:"met" doc:"as it stands, every wish lies within its tolerance"`
	Meets     bool                `json:"meets" doc:"after the move"`
	Checks    []Check             `json:"checks" doc:"of the last readings"`
	Corners   []Corner            `json:"corners"`
	Totals    []Total             `json:"totals"`
	Cross     Cross               `json:"cross"`
	Axles     []Axle              `json:"axles" doc:"front and rear"`
	Price     Price               `json:"price"`
	Missed    []string            `json:"missed"`
	Refused   []string            `json:"refused"`
	Single    *Single             `json:"single,omitempty" doc:"the best that one collar alone can do"`
	Suspects  []Suspect           `json:"suspects" doc:"the likeliest first"`
	Learned   []Learned           `json:"learned"`
	Predicted []Predicted         `json:"predicted" doc:"predicted against got, round by round"`
	Order     []Step              `json:"order"`
	Reopened  []string            `json:"reopened" doc:"what the move opens again"`
	Opened    []string            `json:"opened" doc:"what the moves of the rounds so far have opened again"`
	Cautions  []string            `json:"cautions"`
	Rounds    []Round             `json:"rounds" doc:"all that were kept, those withdrawn too"`
	Keep      Keep                `json:"keep"`
	Plan      Plan                `json:"plan"`
	Faults    []intake.FieldFault `json:"faults" doc:"what was typed and cannot be read"`
}

// Build is a build that can stand on the scales.
type Build struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	Collars bool   `json:"collars" doc:"without, readings are taken and nothing is turned"`
	Rounds  int    `json:"rounds" doc:"that stand"`
}

// Load is a load state.
type Load struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// Preset is a set of tolerances.
type Preset struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Says string `json:"says"`
}

// Check is one thing that the gate looked at.
type Check struct {
	Code    string  `json:"code"`
	Verdict string  `json:"verdict" enum:"pass,caution,stop"`
	Text    string  `json:"text"`
	Corner  *string `json:"corner" nullable:"true"`
	Doubt   bool    `json:"doubt" doc:"it stops for a figure that may still be right: read it again, or say that it is right"`
	Causes  []Cause `json:"causes" doc:"what would explain it, the likeliest first"`
}

// Cause is a slip that would explain an odd reading.
type Cause struct {
	Text   string              `json:"text"`
	Fields []intake.FieldFault `json:"fields" doc:"what would stand in the fields of the draft then; none where it was kept"`
}

// Shown is a figure and its half-width as text.
type Shown struct {
	Shown string `json:"shown"`
	Band  string `json:"band"`
}

// After is what scales and tape will show after the move.
type After struct {
	Load       string `json:"load"`
	LoadBand   string `json:"loadBand"`
	Height     string `json:"height"`
	HeightBand string `json:"heightBand"`
}

// Corner is one corner: as read in the last round, or as the parts lead to
// where nothing was read.
type Corner struct {
	Corner string  `json:"corner"`
	Name   string  `json:"name"`
	Read   bool    `json:"read" doc:"load and height were read"`
	Load   Shown   `json:"load"`
	Height Shown   `json:"height"`
	After  After   `json:"after"`
	Asked  string  `json:"asked" doc:"turns that an empty field of turns stands for"`
	Collar *Collar `json:"collar,omitempty" doc:"absent: there is none"`
}

// Collar is what to turn at a corner.
type Collar struct {
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

// Total is a figure of the whole car.
type Total struct {
	Label string `json:"label"`
	Shown string `json:"shown"`
	Band  string `json:"band"`
	After string `json:"after"`
}

// Cross is the cross weight, by both conventions.
type Cross struct {
	Diagonal []string `json:"diagonal" doc:"the two corners that are counted"`
	Name     string   `json:"name"`
	Now      string   `json:"now"`
	After    string   `json:"after"`
	Band     string   `json:"band" doc:"of the reading after the move"`
	Wanted   string   `json:"wanted"`
	Other    Pair     `json:"other" doc:"by the other diagonal"`
}

// Pair is now and after.
type Pair struct {
	Now   string `json:"now"`
	After string `json:"after"`
}

// Axle is an axle's level.
type Axle struct {
	Level Level  `json:"level" doc:"left over right"`
	Says  string `json:"says"`
}

// Level is left over right.
type Level struct {
	Now   string `json:"now"`
	After string `json:"after"`
	Band  string `json:"band"`
}

// Price is the curve of level against cross weight.
type Price struct {
	Unit      string       `json:"unit" doc:"of x"`
	CrossUnit string       `json:"crossUnit"`
	Points    []PricePoint `json:"points" doc:"from heights alone to cross alone"`
	Chosen    int          `json:"chosen" doc:"−1: none"`
	Note      string       `json:"note"`
}

// PricePoint is one point of the curve.
type PricePoint struct {
	X     float64 `json:"x" doc:"left against right at the worse axle"`
	Cross float64 `json:"cross"`
	Label string  `json:"label"`
	Price string  `json:"price" doc:"what to ask for this point with"`
}

// Single is what one collar alone can do.
type Single struct {
	Text  string `json:"text"`
	Meets bool   `json:"meets" doc:"all wishes within their tolerances"`
}

// Suspect is a slip or a wrong figure that would explain the readings.
type Suspect struct {
	Text     string `json:"text"`
	Likelier string `json:"likelier"`
	Same     bool   `json:"same" doc:"the readings cannot tell it from the first"`
}

// Learned is what the readings made of a figure of the parts.
type Learned struct {
	Text string `json:"text"`
}

// Predicted is a round predicted against got.
type Predicted struct {
	Round int            `json:"round"`
	Rows  []PredictedRow `json:"rows"`
}

// PredictedRow is one figure of it.
type PredictedRow struct {
	Label     string `json:"label"`
	Predicted string `json:"predicted"`
	Got       string `json:"got"`
	Off       string `json:"off"`
	Inside    bool   `json:"inside" doc:"of the predicted band"`
}

// Step is a step of the order of work.
type Step struct {
	Text    string `json:"text"`
	Caution bool   `json:"caution" doc:"it has something to mind for the hands"`
	Mind    string `json:"mind"`
	Now     bool   `json:"now"`
	Again   bool   `json:"again" doc:"the move opens it again"`
}

// Round is a round that was kept, as it was typed.
type Round struct {
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
	Withdrawn *Withdrawn        `json:"withdrawn,omitempty"`
	Note      string            `json:"note"`
	Round     intake.RoundTyped `json:"round"`
}

// Withdrawn says who took a round back.
type Withdrawn struct {
	Who  string `json:"who"`
	When string `json:"when"`
	Why  string `json:"why"`
}

// Keep is what writes the last good readings into the job.
type Keep struct {
	Edits []jobfile.Edit `json:"edits"`
	Says  string         `json:"says"`
}

// Plan is the car from above, for drawing.
type Plan struct {
	Unit      string      `json:"unit"`
	Wheelbase float64     `json:"wheelbase"`
	Wheels    [][]float64 `json:"wheels" doc:"behind the front axle, left of the middle"`
	Seat      *Seat       `json:"seat,omitempty" doc:"the driver's"`
}

// Seat is a place.
type Seat struct {
	Behind float64 `json:"behind"`
	Left   float64 `json:"left"`
}

// Request asks for the next move, with a round that is being typed.
type Request struct {
	Draft    *intake.RoundTyped `json:"draft,omitempty" doc:"typed and not kept"`
	Settings Settings           `json:"settings"`
}

// RoundRequest keeps a round.
type RoundRequest struct {
	ID    string `json:"id" minLength:"1" maxLength:"100" doc:"made by the page; a round that comes twice is kept once"`
	Taken string `json:"taken" maxLength:"40" doc:"RFC 3339"`
	Build string `json:"build" minLength:"1" maxLength:"100"`
	Who   string `json:"who,omitempty" maxLength:"100"`
	// Seen is what turns "as was asked" are counted from: with two tablets the
	// last round may be another's.
	Seen     string            `json:"seen,omitempty" maxLength:"100" doc:"id of the last round on the screen; the turns that were asked for are those after it"`
	Round    intake.RoundTyped `json:"round"`
	Settings Settings          `json:"settings"`
}

// WithdrawRequest takes a round back.
type WithdrawRequest struct {
	Why      string   `json:"why" maxLength:"500"`
	Who      string   `json:"who,omitempty" maxLength:"100"`
	Settings Settings `json:"settings"`
}

// Text is pasted text, or what a file holds.
type Text struct {
	Text string `json:"text" maxLength:"200000"`
}

// Read are the rounds of a text.
type Read struct {
	Rounds []intake.RoundTyped `json:"rounds"`
	Faults []string            `json:"faults"`
}
