package scales

import (
	"math"

	"trunnion/chassis/figure"
	"trunnion/chassis/scales"
	"trunnion/shop/quantity"
	"trunnion/shop/wording"
)

func (st *Session) corners(v *View) {
	l, t := st.Result, st.teller
	got, band, read := st.last()
	asked, err := l.Asked()
	for i := range 4 {
		c := Corner{
			Corner: figure.CornerNames[i], Name: wording.Corner(i), Read: read && !math.IsNaN(got.Load[i]) && !math.IsNaN(got.Height[i]),
			Load:   Shown{Shown: st.shown("", "kg", got.Load[i]), Band: t.ScalesHalf("", "kg", band.Load[i].Half)},
			Height: Shown{Shown: st.shown("", "m", got.Height[i]), Band: t.ScalesHalf("", "m", band.Height[i].Half)},
			After:  After{Load: quantity.Nothing, Height: quantity.Nothing},
		}
		a := &st.Rig.Adjuster[i]
		turning := a.Kind != scales.Fixed && a.Pitch > 0
		if err == nil && turning && l.LastGood() >= 0 {
			c.Asked = wording.SignedTurns(asked[i], a.Step)
		}
		p := l.Plan
		if p != nil && !l.Stopped {
			c.After = After{
				Load: t.Amount("", "kg", p.After.Load[i].Value), LoadBand: t.ScalesHalf("", "kg", p.After.Load[i].Half),
				Height: t.Amount("", "m", p.After.Height[i].Value), HeightBand: t.ScalesHalf("", "m", p.After.Height[i].Half),
			}
		}
		switch {
		case !turning:
		case l.Unread:
			c.Collar = &Collar{Turns: "0", Way: "none", Text: "stays, until the car is weighed", At: t.Amount("", "m", l.At()[i])}
		case l.Stopped || p == nil:
			c.Collar = &Collar{Turns: "0", Way: "none", Text: "stays, until what stops it is put right", At: t.Amount("", "m", l.At()[i])}
		default:
			c.Collar = st.collar(&p.Collar[i])
		}
		v.Corners = append(v.Corners, c)
	}
}

func (st *Session) collar(c *scales.Collar) *Collar {
	t := st.teller
	way := "none"
	switch {
	case c.Move > 0:
		way = "up"
	case c.Move < 0:
		way = "down"
	}
	return &Collar{
		Turns: wording.TurnsBy(c.Turns, c.Step), Way: way, Clockwise: c.Clockwise, TurnsNumber: c.Turns, Move: t.Amount("", "m", math.Abs(c.Move)), At: t.ScalesOff("", "m", c.At),
		RoomUp: t.Amount("", "m", c.RoomUp), RoomDown: t.Amount("", "m", c.RoomDown), Held: t.ScalesHeld(c.Held), Text: t.ScalesTurn(c),
	}
}
