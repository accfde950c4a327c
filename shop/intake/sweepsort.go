package intake

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"trunnion/chassis/dyno"
	"trunnion/shop/quantity"
)

// Bounds of what a damper's dynamometer can have read: what lies outside is a slip of
// unit. Common practice, no source.
const (
	mostSpeed   = 5.0  // [m/s]
	mostForce   = 20e3 // [N]
	slowSpeed   = 0.01 // below which a loop shows gas and friction only [m/s]
	leastOffset = 0.01 // of the range of force, from which an offset where a loop reverses says something [-]
	peakRows    = 20   // up to which a table is one of peaks
)

// plain is a number as short as it goes.
func plain(v float64) string { return strconv.FormatFloat(v, 'g', 5, 64) }

// add sorts a block into pieces of one setting each.
func (s *sorter) add(b *block) {
	values := map[string][]float64{}
	for i, c := range b.columns {
		if c.role == "" || c.role == roleIgnored || i >= len(b.data) {
			continue
		}
		kind, measured := kindOf[c.role]
		if !measured {
			values[c.role] = b.data[i]
			continue
		}
		unit, ok := s.unit(b, c, b.data[i])
		if !ok {
			continue
		}
		list := b.data[i]
		for k, v := range list {
			list[k] = unit.ToSI(v)
		}
		if kind == quantity.Temperature {
			kelvin, err := quantity.Find("K", quantity.Temperature)
			if err == nil {
				for k, v := range list {
					list[k] = kelvin.FromSI(v)
				}
			}
		}
		values[c.role] = list
		if !s.sane(b, c, list) {
			return
		}
	}
	for _, rows := range grouped(values, len(b.lines)) {
		p := &piece{block: b, values: map[string][]float64{}, click: map[string]int{}}
		for role, list := range values {
			if len(rows) == len(list) {
				p.values[role] = list
				continue
			}
			for _, k := range rows {
				p.values[role] = append(p.values[role], list[k])
			}
		}
		for role, n := range b.about.click {
			p.click[role] = n
		}
		for _, role := range []string{roleClick, roleBumpClick, roleReboundClick} {
			if list := p.values[role]; len(list) > 0 && !math.IsNaN(list[0]) {
				p.click[role] = int(list[0])
				if list[0] != math.Trunc(list[0]) || list[0] < 0 || list[0] > 100 {
					s.fault(b, b.lines[rows[0]], "click is "+plain(list[0]), "a whole number of clicks from 0 to 100")
					return
				}
			}
		}
		if s.shape(p) {
			s.pieces = append(s.pieces, p)
		}
	}
}

// unit is that of a column: what the file says, what was answered, or a question.
func (s *sorter) unit(b *block, c sweepColumn, list []float64) (quantity.Unit, bool) {
	role := unitRole(c.role)
	if u, ok := unitIn(c.unit, role); ok {
		s.assume(SweepAssumption{"unit", role, u.Label(), b.file, b.line})
		return u, true
	}
	if given := s.mapping.Units[role]; given != "" {
		if u, ok := unitIn(given, role); ok {
			s.assume(SweepAssumption{"unit-given", role, u.Label(), b.file, b.line})
			return u, true
		}
	}
	most := 0.0
	for _, v := range list {
		if !math.IsNaN(v) {
			most = math.Max(most, math.Abs(v))
		}
	}
	s.ask(SweepQuestion{Code: "unit", About: role, File: b.file, Line: b.line, Choices: unitChoices[role], Seen: plain(most)})
	return quantity.Unit{}, false
}

// sane refuses readings that no machine gives.
func (s *sorter) sane(b *block, c sweepColumn, list []float64) bool {
	most, word := math.Inf(1), ""
	switch unitRole(c.role) {
	case roleForce:
		most, word = mostForce, "a damper's force on a machine is below 20 kN"
	case roleVelocity:
		most, word = mostSpeed, "a damper's speed on a machine is below 5 m/s"
	}
	for k, v := range list {
		if math.Abs(v) > most {
			s.fault(b, b.lines[k], fmt.Sprintf("%s is %s %s", c.name, plain(v), kindOf[c.role].SI()), word+": check its unit, or take the row out")
			return false
		}
	}
	return true
}

// grouped parts rows by run and click, in the order in which each is met first.
func grouped(values map[string][]float64, n int) [][]int {
	var by [][]float64
	for _, role := range []string{roleRun, roleClick, roleBumpClick, roleReboundClick} {
		if list := values[role]; len(list) == n {
			by = append(by, list)
		}
	}
	if len(by) == 0 {
		all := make([]int, n)
		for i := range all {
			all[i] = i
		}
		return [][]int{all}
	}
	type key [4]float64
	at := map[key]int{}
	var out [][]int
	for i := range n {
		var k key
		for j, list := range by {
			if k[j] = list[i]; math.IsNaN(k[j]) {
				k[j] = -1
			}
		}
		g, known := at[k]
		if !known {
			g = len(out)
			at[k] = g
			out = append(out, nil)
		}
		out[g] = append(out[g], i)
	}
	return out
}

// shape finds out what a piece is and completes its columns.
func (s *sorter) shape(p *piece) bool {
	v, bump, rebound, force, x := p.values[roleVelocity], p.values[roleBump], p.values[roleRebound], p.values[roleForce], p.values[rolePosition]
	p.temp = s.temperature(p)
	refuse := func(got, want string) bool {
		if len(s.out.Questions) == 0 { // a missing unit is asked for already
			s.fault(p.block, p.line, got, want)
		}
		return false
	}
	switch {
	case bump != nil || rebound != nil:
		if v == nil {
			return refuse("the table has no velocity", "a column of velocity beside bump and rebound")
		}
		if bump == nil || rebound == nil {
			return refuse("the table has one stroke only", "both bump and rebound at each velocity: export the other stroke too")
		}
		p.shape = "table"
		s.assume(SweepAssumption{"shape", "", map[bool]string{true: "peaks", false: "averaged"}[len(v) <= peakRows], p.file, p.line})
		return true
	case force == nil:
		return refuse("there is no force", "a column of force, or of bump and rebound")
	case p.about.kind == "gas" && x != nil, v == nil && x != nil && p.values[roleTime] == nil && p.values[roleAngle] == nil && len(force) < 40 && p.about.kind != "slow":
		p.shape = "gas"
		s.assume(SweepAssumption{"shape", "", "gas", p.file, p.line})
		return true
	case v == nil && x == nil:
		return refuse("there is neither velocity nor position", "a column of velocity beside the force")
	}
	s.clock(p)
	t := p.values[roleTime]
	if v == nil {
		if t == nil {
			s.ask(SweepQuestion{Code: "frequency", File: p.file, Line: p.line})
			return false
		}
		if v = derived(t, x); v == nil {
			return refuse("its times do not rise", "time of each reading from the start of the run")
		}
		p.values[roleVelocity] = v
		s.assume(SweepAssumption{"velocity-derived", "", "", p.file, p.line})
	}
	if x == nil && reversals(v) < 2 || !around(v) {
		p.shape = "signed"
		s.assume(SweepAssumption{"shape", "", map[bool]string{true: "peaks", false: "averaged"}[len(v) <= 2*peakRows], p.file, p.line})
		return true
	}
	if x == nil {
		if t == nil {
			return refuse("a loop needs its position, or the time of each reading", "a column of position")
		}
		x = integrated(t, v)
		p.values[rolePosition] = x
		s.assume(SweepAssumption{"position-integrated", "", "", p.file, p.line})
	}
	p.shape = "loop"
	s.assume(SweepAssumption{"shape", "", map[bool]string{true: "slow", false: "loops"}[s.slow(p)], p.file, p.line})
	return true
}

// slow reports a run that shows gas and friction only.
func (s *sorter) slow(p *piece) bool {
	most := 0.0
	for _, v := range p.values[roleVelocity] {
		most = math.Max(most, math.Abs(v))
	}
	return p.about.kind == "slow" || most < slowSpeed
}

// clock gives a piece times out of the crank's angle where it has none.
func (s *sorter) clock(p *piece) {
	angle := p.values[roleAngle]
	f := s.frequency(p)
	if p.values[roleTime] != nil || angle == nil || f == 0 {
		return
	}
	t, turned := make([]float64, len(angle)), 0.0
	for i := range angle {
		if i > 0 && angle[i] < angle[i-1]-math.Pi {
			turned += 2 * math.Pi
		}
		t[i] = (angle[i] + turned) / (2 * math.Pi * f)
	}
	p.values[roleTime] = t
	s.assume(SweepAssumption{"time-from-angle", "", "", p.file, p.line})
}

func (s *sorter) frequency(p *piece) float64 {
	if list := p.values[roleFrequency]; len(list) > 0 {
		return list[0]
	}
	for _, text := range []string{p.about.freq, s.mapping.Frequency} {
		if f, ok := quantityOf(text, quantity.Frequency); ok && f > 0 {
			return f
		}
	}
	return 0
}

// temperature of a piece [K]; NaN: not said.
func (s *sorter) temperature(p *piece) float64 {
	if list := p.values[roleTemperature]; len(list) > 0 {
		sum, n := 0.0, 0
		for _, t := range list {
			if !math.IsNaN(t) {
				sum, n = sum+t, n+1
			}
		}
		if n > 0 {
			return sum / float64(n)
		}
	}
	text := p.about.temp
	celsius, ok := quantityOf(text, quantity.Temperature)
	if _, bare := number(text, '.'); !ok && bare && s.mapping.Units[roleTemperature] != "" {
		celsius, ok = quantityOf(text+" "+s.mapping.Units[roleTemperature], quantity.Temperature)
	}
	kelvin, err := quantity.Find("K", quantity.Temperature)
	if !ok || err != nil {
		if p.shape != "gas" && p.about.kind != "gas" {
			s.assume(SweepAssumption{Code: "temperature-unknown", File: p.file, Line: p.line})
		}
		return math.NaN()
	}
	return kelvin.FromSI(celsius)
}

// derived is velocity by a straight line through the readings round each.
func derived(t, x []float64) []float64 {
	n := len(x)
	w := max(2, n/128)
	out := make([]float64, n)
	for i := range x {
		lo, hi := max(0, i-w), min(n-1, i+w)
		var st, sx, stt, stx float64
		m := float64(hi - lo + 1)
		for k := lo; k <= hi; k++ {
			st, sx = st+t[k]-t[i], sx+x[k]
			stt, stx = stt+(t[k]-t[i])*(t[k]-t[i]), stx+(t[k]-t[i])*x[k]
		}
		d := m*stt - st*st
		if !(d > 0) || hi > lo && !(t[hi] > t[lo]) {
			return nil
		}
		out[i] = (m*stx - st*sx) / d
	}
	return out
}

// integrated is position from velocity, by trapezia.
func integrated(t, v []float64) []float64 {
	out := make([]float64, len(v))
	for i := 1; i < len(v); i++ {
		out[i] = out[i-1] + 0.5*(v[i]+v[i-1])*(t[i]-t[i-1])
	}
	return out
}

// reversals counts how often a velocity turns between rising and falling by more than
// a tenth of its range.
func reversals(v []float64) (n int) {
	high, low := slices.Max(v), slices.Min(v)
	step, mark, rising := 0.1*(high-low), v[0], 0
	for _, one := range v {
		switch {
		case one > mark+step && rising <= 0, one < mark-step && rising >= 0:
			if rising != 0 {
				n++
			}
			if rising = 1; one < mark {
				rising = -1
			}
			mark = one
		case rising > 0 && one > mark, rising < 0 && one < mark:
			mark = one
		}
	}
	return n
}

// around reports velocities of both signs.
func around(v []float64) bool {
	high, low := slices.Max(v), slices.Min(v)
	return high > 0 && low < 0 && high > -0.1*low && -low > 0.1*high
}

// compression settles which sign the force has in compression: 1 or -1. Tables of bump
// and rebound say it themselves.
func (s *sorter) compression() float64 {
	switch s.mapping.Compression {
	case "positive":
		return 1
	case "negative":
		return -1
	}
	for _, p := range s.pieces {
		if p.shape == "table" {
			continue
		}
		q := SweepQuestion{Code: "compression", File: p.file, Line: p.line, Choices: []string{"positive", "negative"}}
		f := p.values[roleForce]
		q.Seen = plain(slices.Min(f)) + " to " + plain(slices.Max(f)) + " N"
		rest, n := 0.0, 0
		if v := p.values[roleVelocity]; p.shape == "loop" {
			top := math.Max(slices.Max(v), -slices.Min(v))
			for i := range v {
				if math.Abs(v[i]) < 0.03*top {
					rest, n = rest+f[i], n+1
				}
			}
		}
		if n > 0 && math.Abs(rest/float64(n)) > leastOffset*(slices.Max(f)-slices.Min(f)) {
			// What pushes where the damper reverses is gas, and gas resists compression.
			q.Points = map[bool]string{true: "positive", false: "negative"}[rest > 0]
			q.Seen += "; " + plain(rest/float64(n)) + " N where it reverses"
		}
		s.ask(q)
		return 1
	}
	return 1
}

// adjusters settles what knobs there are, in which order, and where their zero is.
func (s *sorter) adjusters() ([]dyno.Adjuster, []string) {
	var out []dyno.Adjuster
	var roles []string
	for _, one := range []struct {
		role string
		acts dyno.Acts
	}{{roleClick, dyno.OnBoth}, {roleBumpClick, dyno.OnBump}, {roleReboundClick, dyno.OnRebound}} {
		most, total, some := 0, 0, (*piece)(nil)
		for _, p := range s.pieces {
			if n, ok := p.click[one.role]; ok {
				most, some = max(most, n), p
			}
			total = max(total, p.about.clicks[one.role])
		}
		if some == nil {
			continue
		}
		if k := len(out); k < len(s.mapping.Clicks) {
			total = s.mapping.Clicks[k]
		}
		counted := s.mapping.Counted
		if some.about.counted != "" {
			counted = some.about.counted
		}
		s.counted = counted
		switch {
		case counted == "":
			s.ask(SweepQuestion{Code: "click-zero", File: some.file, Line: some.line, Choices: []string{"closed", "open"}, Seen: s.harder(one.role), Points: s.harderEnd(one.role)})
		case counted == "open" && total == 0:
			s.ask(SweepQuestion{Code: "click-total", About: one.role, File: some.file, Line: some.line})
		case total > 0 && most > total:
			s.fault(some.block, some.line, fmt.Sprintf("click %d of %d", most, total), "the number of clicks from closed to open, or the right click")
		case total == 0:
			total = most
			s.assume(SweepAssumption{"clicks-as-measured", one.role, strconv.Itoa(most), some.file, 0})
		}
		s.assume(SweepAssumption{"counted", one.role, counted, some.file, 0})
		out, roles = append(out, dyno.Adjuster{Acts: one.acts, Clicks: total}), append(roles, one.role)
	}
	if len(out) == 0 {
		s.assume(SweepAssumption{Code: "no-clicks", File: s.pieces[0].file})
	}
	return out, roles
}

// ends are the strongest forces at the lowest and the highest click of a role.
func (s *sorter) ends(role string) (low, high int, atLow, atHigh float64) {
	low, high = math.MaxInt, -1
	strongest := map[int]float64{}
	for _, p := range s.pieces {
		n, ok := p.click[role]
		if !ok {
			continue
		}
		low, high = min(low, n), max(high, n)
		for _, r := range []string{roleForce, roleBump, roleRebound} {
			for _, f := range p.values[r] {
				if !math.IsNaN(f) {
					strongest[n] = math.Max(strongest[n], math.Abs(f))
				}
			}
		}
	}
	return low, high, strongest[low], strongest[high]
}

func (s *sorter) harder(role string) string {
	low, high, atLow, atHigh := s.ends(role)
	return fmt.Sprintf("click %d up to %s N, click %d up to %s N", low, plain(atLow), high, plain(atHigh))
}

func (s *sorter) harderEnd(role string) string {
	low, high, atLow, atHigh := s.ends(role)
	switch {
	case low == high || math.Abs(atLow-atHigh) < 0.02*atLow:
		return ""
	case atLow > atHigh:
		return "closed"
	}
	return "open"
}

// gasAndFriction settles what tables hold beside the damping.
func (s *sorter) gasAndFriction() (off [2]dyno.Off) {
	table, gasShown, frictionShown := (*piece)(nil), false, false
	for _, p := range s.pieces {
		switch p.shape {
		case "table", "signed":
			table = p
			gasShown = gasShown || p.values[roleGas] != nil || p.about.gas != ""
		case "gas":
			gasShown = true
		case "loop":
			gasShown, frictionShown = true, true
		}
	}
	settle := func(code, said string, shown bool) dyno.Off {
		switch {
		case said == "removed":
			s.assume(SweepAssumption{code, "", "removed", "", 0})
			return dyno.Off{How: dyno.FoundTaken}
		case said == "left-in" && code == "friction":
			s.assume(SweepAssumption{code, "", "left-in", "", 0})
			return dyno.Off{How: dyno.FoundLeft}
		case said == "included" && shown, said == "" && table == nil:
			return dyno.Off{}
		case said != "" && said != "included":
			v, err := quantity.Parse(said, quantity.Force)
			if err == nil {
				s.assume(SweepAssumption{code, "", said, "", 0})
				return dyno.Off{How: dyno.FoundGiven, Force: dyno.Band{Value: v.Value, Half: v.Half}}
			}
			s.out.Faults = append(s.out.Faults, SweepFault{File: table0(table), Got: code + ": " + err.Error(), Want: "removed, or a force such as 365 N"})
		}
		if table != nil {
			choices := []string{"removed", "365 N"}
			if code == "friction" {
				choices = []string{"removed", "left-in", "60 N"}
			}
			if shown {
				choices = slices.Insert(choices, 1, "included")
			}
			s.ask(SweepQuestion{Code: code, File: table.file, Line: table.line, Choices: choices, Seen: slowest(table)})
		}
		return dyno.Off{}
	}
	off[0] = settle("gas", s.mapping.Gas, gasShown)
	off[1] = settle("friction", s.mapping.Friction, frictionShown)
	return off
}

func table0(p *piece) string {
	if p == nil {
		return ""
	}
	return p.file
}

// slowest is what a table shows at its lowest speed.
func slowest(p *piece) string {
	v := p.values[roleVelocity]
	if p.shape != "table" || len(v) == 0 {
		return ""
	}
	i := 0
	for k := range v {
		if v[k] < v[i] {
			i = k
		}
	}
	return fmt.Sprintf("bump %s N, rebound %s N at %s m/s", plain(p.values[roleBump][i]), plain(p.values[roleRebound][i]), plain(v[i]))
}
