package answer

import (
	"io"

	"trunnion/chassis/axles"

	"trunnion/chassis/linkage"
	"trunnion/shop/wording"
)

// LinkageFormat names the contract of an axle's linkage, moved.
const LinkageFormat = "trunnion.linkage/1"

// Linkage is trunnion.linkage/1.
type Linkage struct {
	Format    string          `json:"format"`
	Program   string          `json:"program"`
	JobSHA256 string          `json:"job_sha256"`
	Axle      string          `json:"axle"`
	Kind      string          `json:"kind"`
	Steers    bool            `json:"steers"`
	Home      Table           `json:"home"` // at travel 0 with the rack straight
	Points    Table           `json:"points"`
	Changes   []LinkageChange `json:"changes"` // what was asked for first, then what is tried beside it
	Motions   []LinkageMotion `json:"motions"`
	Says      []string        `json:"says"` // carries no contract
}

// LinkageChange is what a change does to the wheel where it stands.
type LinkageChange struct {
	Code   string   `json:"code"`   // empty: what was asked for
	By     float64  `json:"by"`     // [m]
	Was    Table    `json:"was"`    // one row
	Is     Table    `json:"is"`     // one row
	Rod    *float64 `json:"rod"`    // how much longer the steered rod must be [m]
	Failed *string  `json:"failed"` // why there is no answer
}

// LinkageMotion is a spring's or damper's motion by its table and by the points.
type LinkageMotion struct {
	Part        string   `json:"part"`
	Table       bool     `json:"table_is_used"`
	TableRatio  *float64 `json:"table_ratio"`  // at travel 0 [-]
	PointsRatio *float64 `json:"points_ratio"` // at travel 0 [-]
	TableSlope  *float64 `json:"table_slope"`  // [1/m]
	PointsSlope *float64 `json:"points_slope"` // [1/m]
	Rows        Table    `json:"rows"`
}

// WriteJSON writes the document.
func (d *Linkage) WriteJSON(w io.Writer) error { return WriteJSON(w, d) }

// NewLinkage makes the document.
func NewLinkage(program, sha256 string, m *axles.Moved, t *wording.Teller) *Linkage {
	one := func(f linkage.Figures) Table { return TableOf(wording.LinkageColumns(), []linkage.Figures{f}) }
	d := &Linkage{
		Format: LinkageFormat, Program: program, JobSHA256: sha256, Axle: *AxleName(m.Ask.Axle), Kind: m.Kind, Steers: m.Steers,
		Home: one(m.Home), Points: TableOf(wording.LinkageColumns(), m.Curves.Points), Changes: []LinkageChange{}, Motions: []LinkageMotion{}, Says: append([]string{}, t.Moved(m)...),
	}
	add := func(c *axles.LinkageChange) {
		d.Changes = append(d.Changes, LinkageChange{c.Code, c.By, one(c.Was), one(c.Is), Finite(c.Rod), failed(c.Err)})
	}
	if m.Asked != nil {
		add(m.Asked)
	}
	for i := range m.Tried {
		add(&m.Tried[i])
	}
	for i := range m.Motions {
		t := &m.Motions[i]
		d.Motions = append(d.Motions, LinkageMotion{
			t.Part, t.Table, Finite(t.TableRatio), Finite(t.PointsRatio), Finite(t.TableSlope), Finite(t.PointsSlope), TableOf(wording.MotionColumns(), t.Rows),
		})
	}
	return d
}
