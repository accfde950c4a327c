package intake

import "trunnion/chassis/dyno"

// SweepMapping is what is known of a source of sweeps beside its files: what was
// answered once, to be remembered by whoever keeps sources. The zero mapping knows
// nothing. It is plain text throughout.
type SweepMapping struct {
	Source      string            `json:"source,omitempty" doc:"what the source is called"`
	Decimal     string            `json:"decimal,omitempty" doc:"point or comma"`
	Columns     map[string]string `json:"columns,omitempty" doc:"role by a column's heading, or by its number where there is none: velocity, force, bump, rebound, position, time, angle, temperature, click, bump-click, rebound-click, run, gas, ignore"`
	Units       map[string]string `json:"units,omitempty" doc:"unit by role where the file names none"`
	Compression string            `json:"compression,omitempty" doc:"sign of the force in compression: positive or negative"`
	Counted     string            `json:"counted,omitempty" doc:"end that clicks are counted from: closed or open"`
	Clicks      []int             `json:"clicks,omitempty" doc:"from closed to open, of each adjuster"`
	Gas         string            `json:"gas,omitempty" doc:"gas in a table's forces: removed, or its push-out such as 365 N"`
	Friction    string            `json:"friction,omitempty" doc:"friction in a table's forces: removed, left-in, or the force such as 60 N"`
	Frequency   string            `json:"frequency,omitempty" doc:"of the crank, where neither velocity nor time stands there"`
}

// Roles of a column.
const (
	roleVelocity     = "velocity"
	roleForce        = "force"
	roleBump         = "bump"
	roleRebound      = "rebound"
	rolePosition     = "position"
	roleTime         = "time"
	roleAngle        = "angle"
	roleTemperature  = "temperature"
	roleClick        = "click"
	roleBumpClick    = "bump-click"
	roleReboundClick = "rebound-click"
	roleRun          = "run"
	roleGas          = "gas"
	roleFrequency    = "frequency"
	roleIgnored      = "ignore"
)

// SweepRoles are all roles that a column may be given.
var SweepRoles = []string{
	roleVelocity, roleForce, roleBump, roleRebound, rolePosition, roleTime, roleAngle, roleTemperature,
	roleClick, roleBumpClick, roleReboundClick, roleRun, roleGas, roleFrequency, roleIgnored,
}

// SweepQuestion is something a file does not say and nobody may guess.
type SweepQuestion struct {
	Code    string   `json:"code" doc:"decimal, columns, unit, compression, click-zero, click-total, gas, friction, frequency"`
	About   string   `json:"about,omitempty" doc:"role of the column"`
	File    string   `json:"file"`
	Line    int      `json:"line"`
	Choices []string `json:"choices,omitempty"`
	Seen    string   `json:"seen,omitempty" doc:"what in the file speaks for one of them"`
	Points  string   `json:"points,omitempty" doc:"the choice it speaks for; never taken without being said"`
}

// SweepAssumption is something that was understood of a file, or taken because it says
// nothing.
type SweepAssumption struct {
	Code  string `json:"code"`
	About string `json:"about,omitempty"`
	Value string `json:"value,omitempty"`
	File  string `json:"file,omitempty"`
	Line  int    `json:"line,omitempty"`
}

// SweepFault is what cannot be read, where, and what to do.
type SweepFault struct {
	File string `json:"file"`
	Line int    `json:"line,omitempty"`
	Got  string `json:"got"`
	Want string `json:"want"`
}

// SweepFile is one file of a damper dynamometer.
type SweepFile struct {
	Name string `json:"name" maxLength:"300"`
	Data []byte `json:"data"`
}

// Sweeps is what files of sweeps say. Where Questions stand, Dampers holds only what
// does not depend on the answers.
type Sweeps struct {
	Dampers     []SweptDamper
	Assumptions []SweepAssumption
	Questions   []SweepQuestion
	Faults      []SweepFault
}

// SweptDamper is the runs of one damper, ready to be made curves of.
type SweptDamper struct {
	Name    string // as the files call it; empty: they do not
	Runs    []dyno.Run
	Options dyno.Options
}
