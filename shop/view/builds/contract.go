package builds

import (
	"trunnion/shop/jobfile"
	"trunnion/shop/view"
	"trunnion/shop/view/order"
	"trunnion/shop/view/ride"
)

// What the page and the server say to each other. Texts and figures come ready
// to show, in the units asked for; plain numbers are for drawing only, in the
// unit named beside them.

// Part of a job, for a list.
type Outlined struct {
	ID     string `json:"id"`
	Label  string `json:"label"`
	Clicks int    `json:"clicks,omitempty"`
}

// View is everything the pages show of a job.
type View struct {
	Key         string            `json:"key"`
	Ms          int               `json:"ms"`
	Full        bool              `json:"full" doc:"as the command answers; else quick, and its bands are rough"`
	Title       Title             `json:"title"`
	Load        string            `json:"load"`
	Loads       []LoadLine        `json:"loads"`
	Units       string            `json:"units" enum:"metric,imperial,mixed"`
	Faults      []jobfile.Fault   `json:"faults"`
	Fields      map[string]Field  `json:"fields"`
	Outline     Outline           `json:"outline"`
	Brief       BriefView         `json:"brief"`
	Plan        Plan              `json:"plan"`
	Builds      []Build           `json:"builds"`
	Rows        []Row             `json:"rows"`
	Tables      []Table           `json:"tables"`
	Warnings    []Note            `json:"warnings"`
	MeasureNext []Measure         `json:"measureNext"`
	Cautions    []string          `json:"cautions"`
	InShort     string            `json:"inShort" doc:"which build answers the owner's words; empty where nothing was understood"`
	Applied     []jobfile.Applied `json:"applied"`
	Unchecked   int               `json:"unchecked" doc:"final checks that are left; 0 before a handover is begun"`
	Order       order.View        `json:"order"`
	Ride        *ride.View        `json:"ride,omitempty"`
}

// Title is what a job is called.
type Title struct {
	Car      string `json:"car"`
	Owner    string `json:"owner"`
	Number   string `json:"number"`
	Workshop string `json:"workshop"`
	Plate    string `json:"plate"`
}

// LoadLine is a load state in a list.
type LoadLine struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Note string `json:"note"`
}

// Field is one value of a job.
type Field struct {
	Label   string        `json:"label"`
	Typed   string        `json:"typed"`
	Shown   string        `json:"shown"`
	Band    string        `json:"band"`
	Origin  string        `json:"origin" enum:"measured,maker,estimated,default,text"`
	Line    int           `json:"line"`
	Path    string        `json:"path"`
	Kind    string        `json:"kind"`
	Choices []view.Choice `json:"choices,omitempty"`
	Filled  bool          `json:"filled,omitempty"`
	Doubt   string        `json:"doubt,omitempty"`
}

// Outline is the parts that stand in a job.
type Outline struct {
	Springs   []Outlined `json:"springs"`
	Dampers   []Outlined `json:"dampers"`
	Stops     []Outlined `json:"stops"`
	Platforms []Outlined `json:"platforms"`
}

// BriefView is what the car is for.
type BriefView struct {
	Sentence string       `json:"sentence"`
	Uses     []UseLine    `json:"uses"`
	Roads    []BriefRoad  `json:"roads"`
	Events   []BriefEvent `json:"events"`
	Limits   []LimitLine  `json:"limits"`
	Known    BriefKnown   `json:"known"`
}

// BriefKnown is what may be added to a brief.
type BriefKnown struct {
	Roads  []view.Choice `json:"roads"`
	Events []EventKind   `json:"events"`
}

// EventKind is a kind of obstacle, with the sizes that it is due.
type EventKind struct {
	Kind   string `json:"kind"`
	Label  string `json:"label"`
	Size   string `json:"size" enum:"depth,height" doc:"which of its sizes it has besides its length"`
	Usual  string `json:"usual" doc:"size as it may be typed"`
	Length string `json:"length" doc:"as it may be typed"`
	Speed  string `json:"speed"`
}

// UseLine is a share of the car's life.
type UseLine struct {
	Name  string `json:"name"`
	Share string `json:"share"`
	Path  string `json:"path"`
}

// LimitLine is a limit that the workshop may choose.
type LimitLine struct {
	Path  string `json:"path"`
	Label string `json:"label"`
}

// BriefRoad is a road of the brief.
type BriefRoad struct {
	ID     string       `json:"id"`
	Name   string       `json:"name"`
	Klass  string       `json:"klass"`
	Line   string       `json:"line"`
	Speeds []view.Speed `json:"speeds"`
	Load   string       `json:"load"`
	Path   string       `json:"path"`
}

// BriefEvent is an obstacle of the brief.
type BriefEvent struct {
	Index int    `json:"index"`
	Name  string `json:"name"`
	Line  string `json:"line"`
	Path  string `json:"path"`
}

// Plan is the car from above, in the unit named: x behind the front axle, y left
// of the middle.
type Plan struct {
	Unit      string      `json:"unit"`
	Wheelbase float64     `json:"wheelbase"`
	Wheels    [][]float64 `json:"wheels" doc:"x and y of each tyre's middle"`
	Weights   [][]float64 `json:"weights" doc:"x and y of the items of the load state"`
}

// Figure is a figure of a strip.
type Figure struct {
	Shown   string `json:"shown"`
	Full    string `json:"full"`
	ValueID string `json:"valueId"`
	Verdict string `json:"verdict" enum:"clear,close,over,no-limit,unknown"`
}

// Ghost is the reference build behind a strip.
type Ghost struct {
	Open   *float64 `json:"open" nullable:"true"`
	Loose  *float64 `json:"loose" nullable:"true"`
	Rest   float64  `json:"rest"`
	Touch  *float64 `json:"touch" nullable:"true"`
	Solid  *float64 `json:"solid" nullable:"true"`
	Closed *float64 `json:"closed" nullable:"true"`
}

// Use is how travel is spread over the roads.
type Use struct {
	Tier   string      `json:"tier" enum:"static,modes,screening,time"`
	Points [][]float64 `json:"points" doc:"travel and density, 0 to 1"`
	Note   string      `json:"note"`
}

// Peak is the deepest travel over the obstacles.
type Peak struct {
	Travel  float64 `json:"travel"`
	Shown   string  `json:"shown"`
	Name    string  `json:"name"`
	Verdict string  `json:"verdict" enum:"clear,close,over,no-limit,unknown"`
}

// Drag is how far the static line can be pulled.
type Drag struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
	Path string  `json:"path"`
	Note string  `json:"note"`
}

// Strip is what one corner has in travel, from the reference height; bump is
// positive. What is null is not known or not met.
type Strip struct {
	Corner     string   `json:"corner" enum:"front-left,front-right,rear-left,rear-right"`
	Unit       string   `json:"unit"`
	Min        float64  `json:"min"`
	Max        float64  `json:"max"`
	Open       *float64 `json:"open" nullable:"true"`
	Loose      *float64 `json:"loose" nullable:"true"`
	RestLow    *float64 `json:"restLow" nullable:"true"`
	Rest       *float64 `json:"rest" nullable:"true"`
	RestHigh   *float64 `json:"restHigh" nullable:"true"`
	Touch      *float64 `json:"touch" nullable:"true"`
	Firm       *float64 `json:"firm" nullable:"true"`
	Solid      *float64 `json:"solid" nullable:"true"`
	Closed     *float64 `json:"closed" nullable:"true"`
	Arch       *float64 `json:"arch" nullable:"true"`
	Block      *float64 `json:"block" nullable:"true"`
	BumpLeft   Figure   `json:"bumpLeft"`
	DroopLeft  Figure   `json:"droopLeft"`
	Ghost      *Ghost   `json:"ghost,omitempty"`
	Use        *Use     `json:"use,omitempty"`
	Peak       *Peak    `json:"peak,omitempty"`
	Drag       *Drag    `json:"drag,omitempty"`
	State      string   `json:"state" enum:"ok,estimated,outside,unknown"`
	Says       string   `json:"says"`
	BumpNeeds  *Needs   `json:"bumpNeeds,omitempty" doc:"what to measure where bump travel is not known"`
	DroopNeeds *Needs   `json:"droopNeeds,omitempty"`
}

// Needs is a reading that a figure is not known for.
type Needs struct {
	Path  string `json:"path"`
	Label string `json:"label"`
}

// Control changes something of a build.
type Control struct {
	Path    string        `json:"path"`
	Label   string        `json:"label"`
	Axle    string        `json:"axle" enum:"front,rear"`
	Side    string        `json:"side,omitempty" enum:"left,right" doc:"where the two sides have not the same; else the control is of both"`
	Kind    string        `json:"kind" enum:"spring,damper,stop,click,platform,height,packer"`
	Value   string        `json:"value"`
	Shown   string        `json:"shown"`
	Choices []view.Choice `json:"choices,omitempty"`
	Min     *float64      `json:"min,omitempty"`
	Max     *float64      `json:"max,omitempty"`
	Step    *float64      `json:"step,omitempty"`
	Hint    string        `json:"hint"`
}

// Build is one column.
type Build struct {
	ID        string    `json:"id"`
	Name      string    `json:"name"`
	Sub       string    `json:"sub"`
	Price     string    `json:"price"`
	Hours     string    `json:"hours"`
	Reference bool      `json:"reference"`
	Verdict   string    `json:"verdict" enum:"clear,close,over,no-limit,unknown"`
	Sentence  string    `json:"sentence"`
	Strips    []Strip   `json:"strips"`
	Controls  []Control `json:"controls"`
}

// Row is one finding over all builds.
type Row struct {
	Code    string      `json:"code"`
	Label   string      `json:"label"`
	Sub     string      `json:"sub"`
	Verdict string      `json:"verdict" enum:"clear,close,over,no-limit,unknown"`
	Cells   []view.Cell `json:"cells"`
}

// Table is figures over all builds that nothing judges.
type Table struct {
	ID      string     `json:"id"`
	Title   string     `json:"title"`
	Columns []Column   `json:"columns"`
	Rows    []TableRow `json:"rows"`
}

// Column is a build over a table's cells.
type Column struct {
	Build string `json:"build"`
}

// TableRow is a line of a table.
type TableRow struct {
	Label string      `json:"label"`
	Sub   string      `json:"sub"`
	Cells []view.Cell `json:"cells"`
}

// Note is something the reader must know.
type Note struct {
	Text  string `json:"text"`
	Build string `json:"build,omitempty"`
	Path  string `json:"path,omitempty"`
}

// Measure is what to measure next.
type Measure struct {
	Text    string  `json:"text"`
	Path    string  `json:"path"`
	Minutes float64 `json:"minutes"`
	Narrows string  `json:"narrows"`
}
