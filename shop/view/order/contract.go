package order

// Bought is something a build gives.
type Bought struct {
	Text    string `json:"text"`
	ValueID string `json:"valueId,omitempty"`
}

// Line is a build as it is put to the owner.
type Line struct {
	Build    string   `json:"build"`
	Name     string   `json:"name"`
	Price    string   `json:"price"`
	Hours    string   `json:"hours"`
	Verdict  string   `json:"verdict" enum:"clear,close,over,no-limit,unknown"`
	Sentence string   `json:"sentence"`
	Answers  string   `json:"answers" doc:"what it says to the owner's words; empty where nothing was understood"`
	Stands   string   `json:"stands" doc:"how high it stands against the car as it is: what was wished for, or not"`
	Buys     []Bought `json:"buys"`
	Costs    []string `json:"costs"`
}

// View is the page for the owner before anything is ordered.
type View struct {
	Title string `json:"title"`
	Date  string `json:"date"`
	Lines []Line `json:"lines"`
	Note  string `json:"note"`
}
