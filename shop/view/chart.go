package view

// Axis is an axis of a chart.
type Axis struct {
	Label string `json:"label"`
	Unit  string `json:"unit"`
	Log   bool   `json:"log,omitempty"`
	Tight bool   `json:"tight,omitempty" doc:"drawn about its figures alone: nothing is no place of note"`
}

// ChartBand marks a part of a chart's y axis.
type ChartBand struct {
	From  float64 `json:"from"`
	To    float64 `json:"to"`
	Label string  `json:"label"`
}

// Series is one line of a chart.
type Series struct {
	Name  string    `json:"name"`
	Build string    `json:"build"`
	X     []float64 `json:"x"`
	Y     []float64 `json:"y"`
}

// ChartMark marks something along a chart's x axis, on one of its lines.
type ChartMark struct {
	At     float64 `json:"at"`
	Series int     `json:"series" doc:"line it stands on; -1 for the whole chart"`
	Kind   string  `json:"kind" enum:"front-stop,rear-stop,lift,droop,end,place"`
	Label  string  `json:"label" doc:"short, for the drawing"`
	Says   string  `json:"says" doc:"in full, for the list and the table"`
}

// Chart is one picture's data.
type Chart struct {
	ID     string      `json:"id"`
	Title  string      `json:"title"`
	Note   string      `json:"note,omitempty"`
	Kind   string      `json:"kind" enum:"line,bars,steps,points"`
	X      Axis        `json:"x"`
	Y      Axis        `json:"y"`
	Bands  []ChartBand `json:"bands,omitempty"`
	Marks  []ChartMark `json:"marks,omitempty"`
	Series []Series    `json:"series"`
}

// ChartGroup is charts that belong together.
type ChartGroup struct {
	ID     string  `json:"id"`
	Title  string  `json:"title"`
	Note   string  `json:"note"`
	Charts []Chart `json:"charts"`
}

// Add puts a chart into the group, where it has a line.
func (g *ChartGroup) Add(c Chart) {
	if len(c.Series) > 0 {
		g.Charts = append(g.Charts, c)
	}
}
