package intake

import (
	"strings"

	"trunnion/chassis/figure"
	"trunnion/chassis/roadtest"
	"trunnion/shop/quantity"
)

// LogMapping is what is known of a logger beside its files: answered once, to be
// remembered by whoever keeps loggers. The zero mapping knows nothing.
type LogMapping struct {
	Source  string            `json:"source,omitempty" maxLength:"200" doc:"what the logger is called"`
	Decimal string            `json:"decimal,omitempty" maxLength:"20" doc:"point or comma"`
	Rate    string            `json:"rate,omitempty" maxLength:"60" doc:"sample rate where the file has no time, such as 200 Hz"`
	Roles   map[string]string `json:"roles,omitempty" doc:"role by a channel's heading, or by its number where there is none"`
	Units   map[string]string `json:"units,omitempty" doc:"unit by heading where the file names none"`
	Gains   map[string]string `json:"gains,omitempty" doc:"by heading: what one unit of the file is, such as 15 mm for a volt; or a bare factor such as 1.02"`
	Signs   map[string]string `json:"signs,omitempty" doc:"by travel or acceleration, or by heading: what is positive: bump or rebound, up or down, left or right"`
	Zero    string            `json:"zero,omitempty" maxLength:"20" doc:"where travel reads nothing: rest, hanging, or start: the car stands at rest when the log starts"`
	Rest    string            `json:"rest,omitempty" maxLength:"60" doc:"with zero start: how long it stands, such as 5 s"`
	Along   string            `json:"along,omitempty" maxLength:"20" doc:"what travel is measured along: damper or wheel"`
}

// LogQuestion is something a log does not say and nobody may guess.
type LogQuestion struct {
	Code    string   `json:"code" doc:"decimal, rate, role, unit, gain, sign, zero, rest, along"`
	About   string   `json:"about,omitempty" doc:"heading of the channel, or travel or acceleration"`
	Choices []string `json:"choices,omitempty"`
	Seen    string   `json:"seen,omitempty" doc:"what the file shows of it"`
	Points  string   `json:"points,omitempty" doc:"the choice it speaks for; never taken without being said"`
}

// Logged is what a log's file says. Where questions stand, the log holds no channels.
type Logged struct {
	Log         roadtest.Log
	Rows        int // of readings
	Assumptions []SweepAssumption
	Questions   []LogQuestion
	Faults      []SweepFault
}

// roles that are no channel of the log itself.
const (
	roleLogTime = "time"
	roleText    = "event"
)

// LogRoles are all roles that a channel may be given.
var LogRoles = func() []string {
	out := []string{roleLogTime}
	for _, r := range []roadtest.Role{roadtest.Travel, roadtest.Hub, roadtest.Body} {
		for _, c := range figure.CornerNames {
			out = append(out, string(r)+"-"+c)
		}
	}
	return append(out, string(roadtest.Floor), string(roadtest.Lateral), string(roadtest.Longitudinal), string(roadtest.Speed), roleText, roleIgnored)
}()

// splitRole parts a role into that of the channel and its corner.
func splitRole(role string) (roadtest.Role, int) {
	for i, c := range figure.CornerNames {
		if r, ok := strings.CutSuffix(role, "-"+c); ok {
			return roadtest.Role(r), i
		}
	}
	return roadtest.Role(role), -1
}

// logKind is what a role measures.
func logKind(role string) quantity.Kind {
	switch r, _ := splitRole(role); r {
	case roadtest.Travel:
		return quantity.Length
	case roadtest.Speed:
		return quantity.SpeedRoad
	case roleLogTime:
		return quantity.Time
	default:
		return quantity.Acceleration
	}
}

// What a log may be at most.
const (
	mostLogRows     = 5_000_000 // 2 h 46 min at 500 Hz
	mostLogChannels = 200
)
