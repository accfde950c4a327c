package pastjobs

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"trunnion/shop/store"
)

// Damper is the life of one damper by its serial number.
type Damper struct {
	Serial       string       `json:"serial"`
	Jobs         []string     `json:"jobs"`
	Use          string       `json:"use"`           // the last one said
	Hours        float64      `json:"hours"`         // since its last service or rebuild [h]
	Km           float64      `json:"km"`            // since then [km]
	SinceRebuild float64      `json:"since_rebuild"` // [h]
	AllHours     float64      `json:"all_hours"`     // ever [h]
	Gas          string       `json:"gas"`           // last reading
	GasAt        time.Time    `json:"gas_at,omitzero"`
	Serviced     time.Time    `json:"serviced,omitzero"` // or rebuilt; zero for never
	Rebuilt      time.Time    `json:"rebuilt,omitzero"`
	Verdict      string       `json:"verdict"` // due, soon, not yet, not known
	Text         string       `json:"text"`
	Notes        []store.Note `json:"-"`
}

// interval is when a damper is due by its use: common practice, no source.
type interval struct {
	serviceHours, rebuildHours float64 // [h]; 0: not by hours
	serviceKm                  float64 // [km]; 0: not by distance
	years                      float64
}

// intervals by use. Common practice, no source: aftermarket road dampers three
// years or 40,000 km, circuit about 50 h to a service and 100 h to a rebuild,
// whatever competes every year.
var intervals = map[string]interval{
	"road":    {serviceKm: 40_000, years: 3},
	"circuit": {serviceHours: 50, rebuildHours: 100, years: 1},
	"rally":   {serviceHours: 20, rebuildHours: 60, serviceKm: 500, years: 1},
}

// soonShare is the share of an interval from which a damper is due soon: chosen.
const soonShare = 0.8

const yearHours = 365.25 * 24

// Dampers adds up the hours and kilometres of each damper, those that are due
// first. Today is handed in.
func Dampers(notes []store.Note, today time.Time) []Damper {
	by := map[string]*Damper{}
	var order []string
	for i := range notes {
		n := notes[i]
		if n.Kind != store.ServiceNote || n.Service == nil {
			continue
		}
		key := strings.ToLower(strings.Join(strings.Fields(n.Service.Serial), ""))
		d := by[key]
		if d == nil {
			d = &Damper{Serial: n.Service.Serial}
			by[key] = d
			order = append(order, key)
		}
		d.take(n)
	}
	out := make([]Damper, 0, len(order))
	for _, key := range order {
		d := by[key]
		d.judge(today)
		out = append(out, *d)
	}
	rank := []string{"due", "soon", "not known", "not yet"}
	slices.SortStableFunc(out, func(a, b Damper) int {
		return cmp.Or(slices.Index(rank, a.Verdict)-slices.Index(rank, b.Verdict), strings.Compare(a.Serial, b.Serial))
	})
	return out
}

func (d *Damper) take(n store.Note) {
	s := n.Service
	d.Notes = append(d.Notes, n)
	if !slices.Contains(d.Jobs, n.Job) {
		d.Jobs = append(d.Jobs, n.Job)
	}
	d.Use = cmp.Or(s.Use, d.Use)
	d.Hours += s.Hours
	d.SinceRebuild += s.Hours
	d.AllHours += s.Hours
	d.Km += s.Km
	if s.Gas != "" {
		d.Gas, d.GasAt = s.Gas, n.Taken
	}
	switch s.Work {
	case store.Serviced:
		d.Hours, d.Km, d.Serviced = 0, 0, n.Taken
	case store.Rebuilt:
		d.Hours, d.Km, d.SinceRebuild, d.Serviced, d.Rebuilt = 0, 0, 0, n.Taken, n.Taken
	}
}

func (d *Damper) judge(today time.Time) {
	iv, known := intervals[strings.ToLower(d.Use)]
	var parts []string
	parts = append(parts, fmt.Sprintf("%.1f h and %.0f km since the last service", d.Hours, d.Km))
	if d.Serviced.IsZero() {
		parts[0] = fmt.Sprintf("%.1f h and %.0f km on record, no service among them", d.Hours, d.Km)
	}
	if d.Gas != "" {
		parts = append(parts, "gas "+d.Gas+" on "+d.GasAt.Format(time.DateOnly))
	}
	worst, why := 0.0, ""
	use := func(share float64, text string) {
		if share > worst {
			worst, why = share, text
		}
	}
	if iv.serviceHours > 0 {
		use(d.Hours/iv.serviceHours, fmt.Sprintf("%.0f h between services", iv.serviceHours))
	}
	if iv.rebuildHours > 0 {
		use(d.SinceRebuild/iv.rebuildHours, fmt.Sprintf("%.0f h between rebuilds", iv.rebuildHours))
	}
	if iv.serviceKm > 0 {
		use(d.Km/iv.serviceKm, fmt.Sprintf("%.0f km between services", iv.serviceKm))
	}
	if iv.years > 0 && !d.Serviced.IsZero() {
		use(today.Sub(d.Serviced).Hours()/(iv.years*yearHours), fmt.Sprintf("%.0f years between services", iv.years))
	}
	switch {
	case !known:
		d.Verdict = "not known"
		parts = append(parts, "no interval without its use: road, circuit or rally")
	case worst >= 1:
		d.Verdict = "due"
	case worst >= soonShare:
		d.Verdict = "soon"
	default:
		d.Verdict = "not yet"
	}
	if why != "" {
		parts = append(parts, why+": common practice, no source; the maker's word goes before it")
	}
	d.Text = strings.Join(parts, "; ") + "."
}
