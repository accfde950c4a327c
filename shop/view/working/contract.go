package working

import "trunnion/shop/jobfile"

// Term is one input of a working.
type Term struct {
	Symbol    string `json:"symbol"`
	Name      string `json:"name"`
	Shown     string `json:"shown"`
	Origin    string `json:"origin"`
	Typed     string `json:"typed,omitempty"`
	Path      string `json:"path,omitempty"`
	Line      int    `json:"line,omitempty"`
	WorkingID string `json:"workingId,omitempty"`
}

// Remedy is a change that would help, ready to be tried.
type Remedy struct {
	Text    string         `json:"text"`
	Edits   []jobfile.Edit `json:"edits"`
	After   string         `json:"after"`
	Worsens []string       `json:"worsens"`
}

// Limit is what a value is judged by.
type Limit struct {
	Text string `json:"text"`
	From string `json:"from"`
}

// Narrow is which input would narrow a band most.
type Narrow struct {
	Text string `json:"text"`
	Path string `json:"path"`
}

// View is how a value was reached.
type View struct {
	ID       string   `json:"id"`
	Title    string   `json:"title"`
	Where    string   `json:"where"`
	Equation string   `json:"equation"`
	Source   string   `json:"source"`
	Result   string   `json:"result"`
	Band     string   `json:"band"`
	State    string   `json:"state" enum:"ok,estimated,outside,unknown"`
	Terms    []Term   `json:"terms"`
	Note     string   `json:"note,omitempty"`
	Limit    *Limit   `json:"limit,omitempty"`
	Remedies []Remedy `json:"remedies"`
	Narrow   *Narrow  `json:"narrow,omitempty"`
}
