package sheet

// Format names the contract of a sheet.
const Format = "trunnion.sheet/1"

// Sheet is trunnion.sheet/1. All texts and figures are ready to be printed, in
// the units asked for; plain numbers are for drawing, in the unit named beside.
type Sheet struct {
	Format      string   `json:"format"`
	Program     string   `json:"program"`
	Number      string   `json:"number"`
	Fingerprint string   `json:"fingerprint"` // of the job file, SHA-256
	Printed     string   `json:"printed"`
	Build       string   `json:"build"` // id
	Load        string   `json:"load"`  // id
	Units       string   `json:"units"`
	Title       string   `json:"title"`
	Workshop    Workshop `json:"workshop"`
	Head        []Pair   `json:"head"`
	Draft       bool     `json:"draft"`
	Missing     []string `json:"missing"`   // why it is a draft
	Unchecked   []string `json:"unchecked"` // those of them that are lines of the final checks

	Sections []Section `json:"sections"`
	Card     Card      `json:"card"`
	Find     string    `json:"find"` // what the code holds: where the job is found again
}

// Workshop is who made it.
type Workshop struct {
	Name  string `json:"name"`
	Words string `json:"words"`
	Logo  []byte `json:"-"` // PNG or JPEG, checked
}

// Pair is a label with what it says.
type Pair struct {
	Label string `json:"label"`
	Text  string `json:"text"`
}

// Section is a part of the sheet under a title.
type Section struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Parts []Part `json:"parts"`
}

// Part is one of: words, a quotation, a list, a table, the plan, the strips, the
// checks, lines to be signed.
type Part struct {
	Words  string   `json:"words,omitempty"`
	Quote  *Quote   `json:"quote,omitempty"`
	List   []string `json:"list,omitempty"`
	Pairs  []Pair   `json:"pairs,omitempty"`
	Table  *Table   `json:"table,omitempty"`
	Plan   *Plan    `json:"plan,omitempty"`
	Strips *Strips  `json:"strips,omitempty"`
	Checks []Check  `json:"checks,omitempty"`
	Sign   []string `json:"sign,omitempty"` // what each line is for
}

// Quote is somebody's own words.
type Quote struct {
	Who   string `json:"who"`
	Words string `json:"words"`
}

// Table has a label in its first column and figures in the others.
type Table struct {
	Columns []string   `json:"columns"`
	Rows    [][]string `json:"rows"`
	Wide    []int      `json:"wide,omitempty"` // columns of words, which may take several lines
	Note    string     `json:"note,omitempty"`
}

// Plan is the car from above. Corners: front left, front right, rear left, rear
// right.
type Plan struct {
	Corners  [4]PlanCorner `json:"corners"`
	Diagonal [2]int        `json:"diagonal"` // corners that the cross weight is drawn through
	Cross    string        `json:"cross"`
	Totals   []Pair        `json:"totals"`
	Note     string        `json:"note"`
}

// PlanCorner is what stands at a corner.
type PlanCorner struct {
	Name  string `json:"name"`
	Lines []Pair `json:"lines"`
}

// Strips are the four travel strips, in Unit at the wheel, bump upward.
type Strips struct {
	Unit    string   `json:"unit"`
	Low     float64  `json:"low"`
	High    float64  `json:"high"`
	Corners [4]Strip `json:"corners"`
	Note    string   `json:"note"`
}

// Strip is the travel of one corner; what is not known or not met is null.
type Strip struct {
	Name     string   `json:"name"`
	Open     *float64 `json:"open"`
	Loose    *float64 `json:"loose"`
	Touch    *float64 `json:"touch"`
	Firm     *float64 `json:"firm"`
	Solid    *float64 `json:"solid"`
	Closed   *float64 `json:"closed"`
	Arch     *float64 `json:"arch"`
	Rest     *float64 `json:"rest"`
	RestLow  *float64 `json:"rest_low"`
	RestHigh *float64 `json:"rest_high"`
	Before   *float64 `json:"before"` // where the car as it arrived stood
	Bump     string   `json:"bump"`
	Droop    string   `json:"droop"`
}

// Check is one line of the list before a car leaves.
type Check struct {
	Key     string `json:"key"`
	What    string `json:"what"`
	Caution string `json:"caution"`
	State   string `json:"state"` // done, not-done, not-applicable, open
	Shown   string `json:"shown"`
	By      string `json:"by"`
	Date    string `json:"date"`
	Note    string `json:"note"`
}

// Card is the presets for the pocket.
type Card struct {
	Title string `json:"title"`
	Under string `json:"under"`
	Table Table  `json:"table"`
	Home  string `json:"home"` // the way back
	Foot  string `json:"foot"`
}
