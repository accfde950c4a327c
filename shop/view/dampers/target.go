package dampers

import (
	"bytes"
	"context"
	"errors"
	"math"
	"strconv"

	"trunnion/chassis/valving"
	"trunnion/shop/desk"
	"trunnion/shop/quantity"
	"trunnion/shop/sheet"
	"trunnion/shop/view"
	"trunnion/shop/wording"
)

// TargetOf makes an order of forces for the builder.
func TargetOf(ctx context.Context, d *view.Desk, req *TargetRequest) (*Target, error) {
	out := &Target{Heads: []string{}, Dampers: []TargetDamper{}, Notes: []string{}}
	job, system, err := d.Read(ctx, &req.TryRequest)
	if err != nil || job == nil {
		out.Missing = wording.NoJob
		return out, err
	}
	u := valving.Usual
	out.Usual = TargetUsual{u.Low[0], u.Low[1], u.High[0], u.High[1], u.Split, u.Positions, quantity.Format(u.Knee, quantity.SpeedDamper, system, quantity.Auto)}
	if req.Ask.Load == "" {
		req.Ask.Load = desk.LoadOf(job, req.Load)
	}
	got, err := d.Target(ctx, job, req.Ask)
	var bad *desk.AskError
	if errors.As(err, &bad) {
		out.Missing = view.Sentence(bad.Error())
		return out, nil
	}
	if err != nil {
		return nil, err
	}
	tell, o := wording.New(got.Answer, system), got.Order
	out.Build, out.Title, out.Heads, out.Notes = o.Build.ID, tell.OrderTitle(job.Car.Name, o), tell.OrderColumns(), tell.OrderNotes(o)
	for i := range o.Dampers {
		one := &o.Dampers[i]
		out.Dampers = append(out.Dampers, TargetDamper{wording.OrderDamper(one), tell.OrderRows(one), tell.Cavitation(one), orderChart(one, system, strconv.Itoa(i))})
	}
	return out, nil
}

// orderChart draws what is ordered and what is fitted, at the hardest and the softest
// click; rebound to the left.
func orderChart(d *valving.Damper, system quantity.System, id string) view.Chart {
	force, speed := quantity.Shown(quantity.Force, system), quantity.Shown(quantity.SpeedDamper, system)
	c := view.Chart{
		ID: "order-" + id, Kind: "line", Title: wording.OrderChart(d), Note: wording.OrderChartNote,
		X: view.Axis{Label: wording.DamperSpeed, Unit: speed.Label()}, Y: view.Axis{Label: wording.ForceEitherWay, Unit: force.Label()}, Series: []view.Series{},
	}
	line := func(name, build string, p *valving.Position, of func(q *valving.Point, stroke int) float64) {
		s := view.Series{Name: name, Build: build}
		add := func(x, y float64) {
			if !math.IsNaN(y) {
				s.X, s.Y = append(s.X, view.Tidy(speed.FromSI(x))), append(s.Y, view.Tidy(force.FromSI(y)))
			}
		}
		for n := len(p.Points) - 1; n >= 0; n-- {
			add(-p.Points[n].Speed, of(&p.Points[n], 1))
		}
		add(0, 0)
		for n := range p.Points {
			add(p.Points[n].Speed, of(&p.Points[n], 0))
		}
		if len(s.X) > 1 {
			c.Series = append(c.Series, s)
		}
	}
	ends := []int{0}
	if n := len(d.Positions) - 1; n > 0 {
		ends = append(ends, n)
	}
	for _, k := range ends {
		p := &d.Positions[k]
		line(wording.Ordered(p.Click), "", p, func(q *valving.Point, s int) float64 { return q.Force[s] })
		line(wording.Fitted(p.Click), "", p, func(q *valving.Point, s int) float64 { return q.Present[s] })
	}
	return c
}

// orderMedia are the kinds of an order's file.
var orderMedia = map[string]string{
	"pdf":  "application/pdf",
	"xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
	"csv":  "text/csv; charset=utf-8",
}

// OrderFile is an order as a file: a sheet to print, a workbook, or the lines that are
// read back when the damper returns.
func OrderFile(ctx context.Context, d *view.Desk, req *OrderRequest, program string) (*File, error) {
	job, system, err := d.Read(ctx, &req.TryRequest)
	if err != nil {
		return nil, err
	}
	if req.Ask.Load == "" && job != nil {
		req.Ask.Load = desk.LoadOf(job, req.Load)
	}
	got, err := d.Target(ctx, job, req.Ask)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	made := sheet.OfOrder(got.Job, got.Order, wording.New(got.Answer, system), program)
	switch req.Format {
	case "xlsx":
		err = sheet.WriteXLSX(&out, made)
	case "csv":
		err = got.Document(program).WriteCSV(&out)
	default:
		paper := sheet.A4
		if req.Paper == string(sheet.Letter) {
			paper = sheet.Letter
		}
		err = sheet.WritePDF(&out, made, paper)
	}
	return &File{Name: "damper-order-" + got.Order.Build.ID + "." + req.Format, Media: orderMedia[req.Format], Data: out.Bytes()}, err
}
