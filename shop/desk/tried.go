package desk

import (
	"sync"

	"trunnion/chassis/figure"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

// Look is what of a trial is looked at. The zero value is the usual load state,
// and no road.
type Look struct {
	Load      string // by id
	Road      string // of the brief, by name
	RoadSpeed string // as typed, 60 km/h
	Event     *int   // of the brief
	Speed     string // of the obstacle, as typed
}

// Trial is a job as tried, with all that a page shows of it. Text, answer and
// findings are shared and only read.
type Trial struct {
	Result
	Key    string // names it as long as it is kept
	Look   Look
	Text   []byte
	System quantity.System
	Teller *wording.Teller
	Load   string // that is shown
	Full   bool   // as the command answers; else a quick one, whose bands are rough

	kind    string
	mending sync.Mutex               // of findings' remedies, and of values
	mended  map[int]bool             // by index of Findings
	values  map[string]*figure.Value // by id
}
