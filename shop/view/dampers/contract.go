package dampers

import (
	"trunnion/shop/desk"
	"trunnion/shop/intake"
	"trunnion/shop/jobfile"
	"trunnion/shop/view"
)

// Request is a job with changes, and the build whose dampers are looked at.
type Request struct {
	view.TryRequest
	Build string `json:"build,omitempty" maxLength:"100" doc:"the first whose dampers have clicks without it"`
	Roads bool   `json:"roads,omitempty" doc:"drive the brief's roads too: how fast the dampers move there"`
}

// View is what the clicks of a build's dampers are worth on the car.
type View struct {
	Key     string          `json:"key" doc:"for the workings"`
	Ms      int             `json:"ms"`
	Build   string          `json:"build"`
	Builds  []view.Choice   `json:"builds"`
	Faults  []jobfile.Fault `json:"faults"`
	Missing []view.Missing  `json:"missing" doc:"what has to be typed before clicks can be mapped"`
	Title   string          `json:"title"`
	Note    string          `json:"note"`
	Unit    Units           `json:"unit"`
	Speeds  []string        `json:"speeds" doc:"low, middle and high speed of the damper"`
	Mid     float64         `json:"mid" doc:"the middle one, in the unit drawn"`
	Heads   []string        `json:"heads" doc:"of the map's rows"`
	Moves   []string        `json:"moves" doc:"names of the movements of a click"`
	Wheels  []Wheel         `json:"wheels"`
	Unlike  [][]string      `json:"unlike" doc:"axle by axle whose sides are damped unlike: what that does to the car"`
}

// Units are the units of the plain numbers.
type Units struct {
	Force string `json:"force"`
	Speed string `json:"speed"`
}

// Wheel is the map of one damper, of both of an axle where they are alike.
type Wheel struct {
	ID        string     `json:"id" doc:"front, rear or a corner"`
	Name      string     `json:"name"`
	Title     string     `json:"title"`
	Swept     string     `json:"swept" doc:"where its curves are from"`
	Now       int        `json:"now" doc:"click of the build"`
	Hard      int        `json:"hard"`
	Soft      int        `json:"soft"`
	Paths     []string   `json:"paths" doc:"of the click in the job; of both sides where they are typed apart"`
	Ratio     view.Cell  `json:"ratio" doc:"damping ratio at the build's click, with its working"`
	Rays      []Ray      `json:"rays"`
	Clicks    []Click    `json:"clicks"`
	Authority []string   `json:"authority"`
	Faults    []BadStep  `json:"faults"`
	Ladder    []int      `json:"ladder" doc:"clicks that feel evenly apart, softest first"`
	LadderSay string     `json:"ladderSay"`
	Roads     []SeenRoad `json:"roads"`
	Seen      view.Chart `json:"seen" doc:"how much of the time at which damper speed, road by road"`
}

// Ray is a line of constant damping ratio of one stroke alone: force over speed, in
// the units drawn.
type Ray struct {
	Ratio string  `json:"ratio"`
	Slope float64 `json:"slope"`
}

// Click is one setting.
type Click struct {
	Click    int       `json:"click"`
	Measured bool      `json:"measured"`
	Row      []string  `json:"row"`
	Says     string    `json:"says" doc:"force and ratio at the middle speed"`
	Speed    []float64 `json:"speed" doc:"of the curves, from 0"`
	Bump     []float64 `json:"bump"`
	Rebound  []float64 `json:"rebound"`
	Ratio    float64   `json:"ratio" doc:"of the corner at the middle speed, to draw with"`
	Steps    []string  `json:"steps" doc:"bump and rebound over the next softer click, by speed; empty at the softest"`
	Step     float64   `json:"step" doc:"in rebound at the middle speed, to draw with"`
	Moves    []string  `json:"moves" doc:"damping ratios of the movements"`
}

// BadStep is a step of the adjuster that is not as it should be.
type BadStep struct {
	Soft int    `json:"soft"`
	Hard int    `json:"hard"`
	Says string `json:"says"`
}

// SeenRoad is how fast the damper moves on one road of the brief.
type SeenRoad struct {
	Says string  `json:"says"`
	Name string  `json:"name"`
	Slow float64 `json:"slow" doc:"share of the time"`
	Mid  float64 `json:"mid"`
	Fast float64 `json:"fast"`
}

// Presets are clicks found by driving.
type Presets struct {
	Ms      int          `json:"ms"`
	Build   string       `json:"build"`
	Title   string       `json:"title"`
	Basis   string       `json:"basis"`
	Missing string       `json:"missing,omitempty" doc:"why there are none"`
	Presets []Preset     `json:"presets"`
	Wanted  []string     `json:"wanted" doc:"what the adjuster does and fails to do, load by load"`
	Heads   []string     `json:"heads" doc:"of the figures of a setting"`
	Tried   []TriedClick `json:"tried"`
}

// Preset is what was found for one purpose.
type Preset struct {
	ID    string         `json:"id"`
	Name  string         `json:"name"`
	Front *int           `json:"front" nullable:"true"`
	Rear  *int           `json:"rear" nullable:"true"`
	Set   bool           `json:"set" doc:"the build is set so"`
	Text  string         `json:"text"`
	Step  string         `json:"step" doc:"to turn from the one before, and back"`
	Edits []jobfile.Edit `json:"edits" doc:"that set the build so"`
}

// TriedClick is a setting that was driven, and what it gave by purpose.
type TriedClick struct {
	Front int        `json:"front" doc:"-1: the axle has no clicks"`
	Rear  int        `json:"rear" doc:"-1: the axle has no clicks"`
	Rows  [][]string `json:"rows" doc:"preset by preset"`
}

// TargetRequest is a job with changes, and what is wanted of the builder.
type TargetRequest struct {
	view.TryRequest
	Ask desk.TargetAsk `json:"ask"`
}

// Target is an order of forces.
type Target struct {
	Ms      int            `json:"ms"`
	Build   string         `json:"build"`
	Missing string         `json:"missing,omitempty" doc:"why there is none"`
	Usual   TargetUsual    `json:"usual" doc:"what holds where nothing is typed"`
	Title   string         `json:"title"`
	Heads   []string       `json:"heads"`
	Dampers []TargetDamper `json:"dampers"`
	Notes   []string       `json:"notes"`
}

// TargetUsual is an order without a word.
type TargetUsual struct {
	Soft     float64 `json:"soft"`
	Hard     float64 `json:"hard"`
	SoftHigh float64 `json:"softHigh"`
	HardHigh float64 `json:"hardHigh"`
	Split    float64 `json:"split"`
	Clicks   int     `json:"clicks"`
	Knee     string  `json:"knee"`
}

// TargetDamper is the order of one damper.
type TargetDamper struct {
	Title      string     `json:"title"`
	Rows       [][]string `json:"rows"`
	Cavitation string     `json:"cavitation"`
	Chart      view.Chart `json:"chart"`
}

// OrderRequest is an order as a file.
type OrderRequest struct {
	TargetRequest
	Format string `json:"format" enum:"pdf,xlsx,csv"`
	Paper  string `json:"paper,omitempty" enum:"a4,letter"`
}

// File is a file to keep.
type File struct {
	Name  string `json:"name"`
	Media string `json:"media"`
	Data  []byte `json:"data"`
}

// SweepsRequest is files of a damper dyno, and what they do not say.
type SweepsRequest struct {
	Units   string              `json:"units" enum:"metric,imperial,mixed"`
	Files   []intake.SweepFile  `json:"files" maxItems:"400"`
	Mapping intake.SweepMapping `json:"mapping"`
	Use     string              `json:"use" enum:"club,race,road" doc:"tolerance of common practice that pairs are held against"`
}

// Swept is what files of sweeps give.
type Swept struct {
	Ms        int             `json:"ms"`
	Refused   string          `json:"refused,omitempty" doc:"why nothing was read"`
	Faults    []string        `json:"faults" doc:"what cannot be read, where, and what to do"`
	Questions []SweepQuestion `json:"questions" doc:"what the files do not say"`
	Basis     []string        `json:"basis" doc:"what was understood"`
	Dampers   []SweptDamper   `json:"dampers"`
	Pairs     []SweptPair     `json:"pairs" doc:"left against right, of those read together"`
	Roles     []string        `json:"roles" doc:"that a column may have"`
}

// SweepQuestion is something the files do not say.
type SweepQuestion struct {
	Code    string        `json:"code" enum:"decimal,columns,unit,compression,click-zero,click-total,gas,friction,frequency"`
	About   string        `json:"about"`
	Where   string        `json:"where"`
	Text    string        `json:"text"`
	Points  string        `json:"points" doc:"the choice that the file speaks for"`
	Choices []view.Choice `json:"choices"`
	Typed   string        `json:"typed" doc:"what may be typed instead; empty: nothing"`
	Columns []string      `json:"columns" doc:"first row of columns without headings"`
}

// SweptDamper is one damper read and made curves of.
type SweptDamper struct {
	Name     string         `json:"name"`
	Title    string         `json:"title"`
	Findings []string       `json:"findings"`
	Basis    []string       `json:"basis" doc:"what was taken off, left out and checked"`
	Chart    view.Chart     `json:"chart"`
	Edits    []jobfile.Edit `json:"edits" doc:"that put the curves into a damper of a job; paths are below the damper"`
	Missing  string         `json:"missing,omitempty" doc:"why they cannot be put into a job"`
}

// SweptPair is two dampers held side by side.
type SweptPair struct {
	A       string     `json:"a"`
	B       string     `json:"b"`
	Matched bool       `json:"matched"`
	Says    []string   `json:"says"`
	Forces  view.Chart `json:"forces" doc:"both, at the click of the worst place"`
	Apart   view.Chart `json:"apart" doc:"difference in % of the mean, click by click"`
}

// AcceptRequest is an order as CSV, and the sweep of the damper that came back.
type AcceptRequest struct {
	SweepsRequest
	Order  string `json:"order" maxLength:"2000000"`
	For    string `json:"for,omitempty" maxLength:"60"`
	Damper string `json:"damper,omitempty" maxLength:"200"`
}

// Accepted is the verdict on a returned damper, line by line.
type Accepted struct {
	Ms      int        `json:"ms"`
	Refused string     `json:"refused,omitempty"`
	Accept  bool       `json:"accept"`
	Says    string     `json:"says"`
	Heads   []string   `json:"heads"`
	Rows    [][]string `json:"rows"`
}
