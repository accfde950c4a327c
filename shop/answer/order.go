package answer

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"

	"trunnion/chassis/car"
	"trunnion/chassis/dyno"
	"trunnion/chassis/figure"
	"trunnion/chassis/valving"
	"trunnion/shop/quantity"
)

// OrderFormat names the contract of an order to a damper's builder.
const OrderFormat = "trunnion.order/1"

// Order is trunnion.order/1: forces per click and damper speed that a builder is asked
// for. Forces only.
type Order struct {
	Format    string        `json:"format"`
	Program   string        `json:"program"`
	JobSHA256 string        `json:"job_sha256"`
	Build     string        `json:"build"`
	Load      string        `json:"load"`
	Knee      float64       `json:"knee"`            // [m/s]
	HighAt    float64       `json:"high_at"`         // [m/s]
	Split     float64       `json:"rebound_to_bump"` // [-]
	Share     float64       `json:"tolerance_share"` // [-]
	Least     float64       `json:"tolerance_least"` // [N]
	Dampers   []OrderDamper `json:"dampers"`
}

// OrderDamper is one damper, of both sides where they are alike.
type OrderDamper struct {
	Name     string       `json:"name"` // front, rear or a corner
	Damper   string       `json:"damper"`
	Critical float64      `json:"critical"`        // at the damper [N s/m]
	Bound    *float64     `json:"gas_holds"`       // bump force [N]
	Needed   *float64     `json:"pressure_needed"` // absolute, for the hardest bump force [Pa]
	Hardest  float64      `json:"hardest_bump"`    // [N]
	Reached  *float64     `json:"bound_reached"`   // damper speed [m/s]
	Clicks   []OrderClick `json:"clicks"`
}

// OrderClick is one click.
type OrderClick struct {
	Click int          `json:"click"`
	Low   float64      `json:"ratio"`      // [-]
	High  float64      `json:"ratio_high"` // [-]
	Lines []OrderForce `json:"lines"`
}

// OrderForce is one line.
type OrderForce struct {
	Speed   float64  `json:"speed"` // [m/s]
	Stroke  string   `json:"stroke"`
	Force   float64  `json:"force"`   // [N]
	Allowed float64  `json:"allowed"` // either way [N]
	Present *float64 `json:"present"` // [N]
}

// OrderName is what an order calls a damper.
func OrderName(d *valving.Damper) string {
	if d.Sided {
		return figure.CornerNames[d.Corner]
	}
	return car.AxleNames[car.AxleOf(d.Corner)]
}

// WriteJSON writes the document.
func (d *Order) WriteJSON(w io.Writer) error { return WriteJSON(w, d) }

// NewOrder makes the document.
func NewOrder(program, sha256 string, o *valving.Order) *Order {
	a := &o.Ask
	d := &Order{Format: OrderFormat, Program: program, JobSHA256: sha256, Build: a.Build, Load: a.Load, Knee: a.Knee, HighAt: a.HighAt, Split: a.Split, Share: a.Tolerance.Share, Least: a.Tolerance.Least, Dampers: []OrderDamper{}}
	for i := range o.Dampers {
		one := &o.Dampers[i]
		out := OrderDamper{Name: OrderName(one), Damper: one.Part.ID, Critical: one.Critical, Bound: Finite(one.Bound), Needed: Finite(one.Least), Hardest: one.Hardest, Reached: Finite(one.Reached), Clicks: []OrderClick{}}
		for k := range one.Positions {
			p := &one.Positions[k]
			c := OrderClick{Click: p.Click, Low: p.Low, High: p.High, Lines: []OrderForce{}}
			for n := range p.Points {
				for s, stroke := range dyno.Strokes {
					q := &p.Points[n]
					c.Lines = append(c.Lines, OrderForce{q.Speed, string(stroke), q.Force[s], q.Allowed[s], Finite(q.Present[s])})
				}
			}
			out.Clicks = append(out.Clicks, c)
		}
		d.Dampers = append(d.Dampers, out)
	}
	return d
}

// OrderColumns head an order's CSV, which is read back when the damper returns.
var OrderColumns = []string{"damper", "click", "stroke", "speed mm/s", "force N", "least N", "most N", "present N"}

// WriteCSV writes the order's lines, forces to the newton.
func (d *Order) WriteCSV(w io.Writer) error {
	speed, err := quantity.Find("mm/s", quantity.SpeedDamper)
	if err != nil {
		return err
	}
	c := csv.NewWriter(w)
	_ = c.Write(OrderColumns) // what fails is kept, and told by Error
	newton := func(v float64) string { return strconv.FormatFloat(math.Round(v), 'f', 0, 64) }
	for i := range d.Dampers {
		one := &d.Dampers[i]
		for k := range one.Clicks {
			for _, l := range one.Clicks[k].Lines {
				present := ""
				if l.Present != nil {
					present = newton(*l.Present)
				}
				_ = c.Write([]string{one.Name, strconv.Itoa(one.Clicks[k].Click), l.Stroke, strconv.FormatFloat(math.Round(speed.FromSI(l.Speed)), 'f', 0, 64), newton(l.Force), newton(l.Force - l.Allowed), newton(l.Force + l.Allowed), present})
			}
		}
	}
	c.Flush()
	return c.Error()
}
