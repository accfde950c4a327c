// Package demo is the invented demo car with four builds and five load states
// in plain Go, so that the physics can be tested without a job file. All its
// numbers were made up.
package demo

import (
	"trunnion/chassis/brief"
	"trunnion/chassis/car"
	"trunnion/chassis/figure"
)

// Job is what the demo asks: the car, its builds, its load states, its brief.
type Job struct {
	Car    *car.Car
	Builds []*car.Build
	Loads  []car.Load
	Brief  *brief.Brief
	Stock  car.Stock // none
}

// Marl returns a new demo job.
func Marl() Job {
	in := func(v, half float64) car.Input {
		return car.Input{Value: v, Half: half, Shape: figure.Normal95, Origin: figure.Measured}
	}
	limit := func(v, half float64) car.Input {
		return car.Input{Value: v, Half: half, Shape: figure.Limit, Origin: figure.Makers}
	}
	mm := func(v, half float64) car.Input { return in(v*1e-3, half*1e-3) }
	c := &car.Car{
		Name: "Marl 2.0 estate", Wheelbase: mm(2700, 0), Track: [2]car.Input{mm(1556, 0), mm(1544, 0)},
		ZeroHeight: [2]car.Input{mm(377, 0), mm(380, 0)}, Unsprung: [2]car.Input{in(44, 5), in(41, 5)},
		CGHeight: mm(575, 40), RollCentre: [2]car.Input{mm(70, 40), mm(115, 40)},
		InertiaRoll: in(470, 94), InertiaPitch: in(2140, 340),
	}
	c.Weighed.Build, c.Weighed.Settled = "arrived", true
	c.Weighed.ScaleGain = in(1, 0.002)
	for i := range 4 {
		c.Weighed.Load[i] = in([4]float64{426, 428, 314, 295}[i], 1)
		c.Weighed.Height[i] = mm([4]float64{376, 377, 378, 382}[i], 2)
		c.Weighed.SpringLength[i] = mm([4]float64{210.2, 209.3, 202.4, 208.2}[i], 2)
		c.Weighed.DamperLength[i] = mm([4]float64{489, 490, 499.2, 502.8}[i], 1)
		c.Weighed.RodShowing[i] = mm([4]float64{103, 104, 100.2, 103.8}[i], 1)
	}
	motion := func(part ...float64) car.Motion {
		m := car.Motion{Origin: figure.Measured, Reading: mm(0, 0.5)}
		for k, w := range []float64{-90, -60, -30, 0, 30, 60, 90} {
			m.Wheel, m.Part = append(m.Wheel, w*1e-3), append(m.Part, part[k]*1e-3)
		}
		if err := m.FitTable(); err != nil {
			panic(err) // the tables written here are no tables
		}
		return m
	}
	front := motion(-84.5, -56.5, -28.5, 0, 29, 58, 87.5)
	c.Axle = [2]car.Axle{
		{Kind: "strut", Spring: front, Damper: front, BushRate: in(1.5e3, 0.9e3), BarRate: in(9.5e3, 1.4e3), BarLink: in(0.94, 0.04)},
		{
			Kind: "multilink", Spring: motion(-56.5, -38, -19, 0, 19.5, 39, 59), Damper: motion(-80.5, -54, -27, 0, 27, 54.5, 82.5),
			BushRate: in(3e3, 1.8e3), BarRate: in(9e3, 1.35e3), BarLink: in(0.70, 0.03),
		},
	}
	for a := range 2 {
		c.Axle[a].TyreRate = in(225e3, 27e3)
		c.Axle[a].Limits = []car.Limit{{Name: "arch", Travel: mm([2]float64{100, 101}[a], 3)}}
	}
	spring := func(rate, free, block float64) *car.SpringSpec {
		return &car.SpringSpec{Rate: limit(rate*1e3, rate*50), Free: limit(free*1e-3, 3e-3), Block: limit(block*1e-3, 3e-3), Scale: in(1, 0)}
	}
	speeds := []float64{25, 50, 130, 260, 390, 520, 1040}
	points := func(f []float64) []car.Point {
		out := make([]car.Point, len(f))
		for k := range f {
			out[k] = car.Point{X: speeds[k] * 1e-3, F: f[k]}
		}
		return out
	}
	damper := func(open, closed, rod, gas, gasRate float64, curves ...[]float64) *car.DamperSpec {
		d := &car.DamperSpec{
			Open: limit(open*1e-3, 2e-3), Closed: limit(closed*1e-3, 2e-3), RodOpen: limit(rod*1e-3, 1e-3),
			GasForce: in(gas, 0.2*gas), GasRate: in(gasRate*1e3, 0), Scale: in(1, 0.03),
		}
		clicks := []int{15, 11, 7, 3, 0}
		for k := 0; k < len(curves); k += 2 {
			d.Curves = append(d.Curves, car.ClickCurve{Click: clicks[k/2], Bump: points(curves[k]), Rebound: points(curves[k+1])})
		}
		if len(curves) > 2 {
			d.ClickMost = 15
		}
		return d
	}
	stop := func(length float64, crush, force []float64) *car.StopSpec {
		s := &car.StopSpec{Length: mm(length, 1), Scale: in(1, 0.15), Loss: in(0.25, 0.1), Dynamic: in(1.3, 0.3)}
		for k := range crush {
			s.Table = append(s.Table, car.Point{X: crush[k] * 1e-3, F: force[k]})
		}
		return s
	}
	f25, r48 := spring(25, 361, 120), spring(48, 288, 110)
	f31, r60 := spring(31, 304, 105), spring(60, 250, 95)
	f46, r80 := spring(46, 230, 77), spring(80, 170, 66)
	oldF := damper(568, 403, 182, 150, 0.6, []float64{35, 60, 120, 190, 250, 305, 520}, []float64{70, 125, 265, 400, 500, 590, 930})
	oldR := damper(588, 410, 189, 48, 0.1, []float64{24, 44, 96, 165, 222, 275, 480}, []float64{55, 102, 220, 345, 435, 520, 840})
	upF := damper(553, 393, 172, 230, 0.9, []float64{65, 115, 215, 320, 405, 480, 790}, []float64{130, 230, 430, 640, 800, 930, 1420})
	upR := damper(570, 400, 181, 75, 0.1, []float64{52, 92, 178, 270, 345, 415, 700}, []float64{115, 205, 390, 575, 715, 835, 1280})
	kitF := damper(531, 395, 148, 365, 1.6,
		[]float64{55, 100, 220, 345, 450, 545, 930}, []float64{90, 170, 400, 640, 820, 975, 1540},
		[]float64{70, 125, 255, 390, 500, 600, 995}, []float64{130, 240, 520, 790, 985, 1150, 1740},
		[]float64{95, 165, 305, 450, 570, 675, 1090}, []float64{190, 345, 690, 985, 1195, 1370, 1980},
		[]float64{130, 220, 375, 535, 665, 785, 1215}, []float64{280, 490, 910, 1240, 1475, 1665, 2310},
		[]float64{175, 285, 455, 630, 770, 895, 1345}, []float64{385, 645, 1120, 1480, 1725, 1930, 2610})
	kitR := damper(540, 413, 137, 235, 1.1,
		[]float64{36, 68, 160, 270, 362, 445, 775}, []float64{68, 132, 330, 550, 715, 860, 1380},
		[]float64{48, 90, 190, 310, 408, 496, 830}, []float64{100, 192, 435, 675, 855, 1005, 1540},
		[]float64{68, 122, 238, 365, 472, 568, 925}, []float64{150, 278, 580, 855, 1050, 1215, 1770},
		[]float64{98, 170, 298, 442, 560, 664, 1030}, []float64{228, 400, 770, 1095, 1310, 1490, 2090},
		[]float64{132, 220, 365, 522, 650, 760, 1140}, []float64{322, 540, 960, 1300, 1535, 1730, 2360})
	sF60 := stop(60, []float64{0, 5, 10, 15, 20, 25, 30, 34, 37, 39}, []float64{0, 110, 230, 370, 560, 850, 1400, 2300, 3900, 6500})
	sR58 := stop(58, []float64{0, 5, 10, 15, 20, 25, 30, 33, 36, 38}, []float64{0, 80, 170, 290, 470, 780, 1400, 2250, 4000, 6800})
	sF48 := stop(48, []float64{0, 5, 10, 15, 20, 25, 28, 31}, []float64{0, 115, 250, 430, 730, 1350, 2400, 5000})
	sR42 := stop(42, []float64{0, 5, 10, 15, 20, 23, 26, 28}, []float64{0, 90, 205, 390, 780, 1300, 2700, 5200})
	sF42 := stop(42, []float64{0, 5, 10, 15, 20, 23, 26, 27.5}, []float64{0, 130, 300, 560, 1020, 1650, 3200, 5300})
	sR36 := stop(36, []float64{0, 5, 10, 15, 18, 21, 23, 24}, []float64{0, 110, 270, 580, 980, 1850, 3400, 5200})
	build := func(id string, sf, sr *car.SpringSpec, df, dr *car.DamperSpec, bf, br *car.StopSpec, ff, fr float64) *car.Build {
		front := car.BuildCorner{Spring: sf, Damper: df, Stop: bf, Friction: in(ff, 0.6*ff)}
		rear := car.BuildCorner{Spring: sr, Damper: dr, Stop: br, Friction: in(fr, 0.6*fr)}
		return &car.Build{ID: id, Name: id, Corner: [4]car.BuildCorner{front, front, rear, rear}}
	}
	kit := build("kit", f46, r80, kitF, kitR, sF42, sR36, 120, 60)
	kit.Both(car.Front, func(p *car.BuildCorner) { p.SeatsCloser = mm(32, 0) })
	kit.Both(car.Rear, func(p *car.BuildCorner) { p.SeatsCloser = mm(69, 0) })
	kit.Setup.Click, kit.Setup.HasClick = [4]int{7, 7, 7, 7}, [4]bool{true, true, true, true}
	at := func(mass, behind, left float64) car.Payload {
		return car.Payload{Mass: in(mass, 0), Behind: mm(behind, 0), Left: mm(left, 0)}
	}
	driver := []car.Payload{at(82, 1300, -370)}
	four := append(append([]car.Payload{}, driver...), at(68, 1300, 370), at(72, 2150, 370), at(75, 2150, -370))
	holiday := append(append([]car.Payload{}, four...), at(95, 3050, 0), at(20, 2250, 150))
	return Job{
		Car: c,
		Builds: []*car.Build{
			build("arrived", f25, r48, oldF, oldR, sF60, sR58, 80, 45),
			build("lower-old", f31, r60, oldF, oldR, sF60, sR58, 80, 45),
			build("lower-uprated", f31, r60, upF, upR, sF48, sR42, 90, 50),
			kit,
		},
		Loads: []car.Load{
			{ID: "empty"},
			{ID: "driver", Items: driver},
			{ID: "four-aboard", Items: four},
			{ID: "holiday", Items: holiday},
			{ID: "hill-climb", Items: []car.Payload{at(88, 1300, -370), at(-10, 2250, 150), at(-24, 3050, 0)}},
		},
		Brief: wants(),
	}
}

// wants is the demo's brief.
func wants() *brief.Brief {
	in := func(v float64, path string) brief.Input {
		return brief.Input{Value: v, Origin: figure.Chosen, Path: path}
	}
	const hour = 3600.0
	speed := func(v ...float64) []brief.Input {
		var out []brief.Input
		for _, x := range v {
			out = append(out, in(x*1e3/hour, "brief.roads"))
		}
		return out
	}
	b := &brief.Brief{Reference: "arrived", UsualLoad: "driver"}
	b.Limits.BumpLeft = in(0.010, "brief.limits.bump_left")
	b.Limits.BumpLeftLaden = in(0, "brief.limits.bump_left_laden")
	b.Limits.DroopLeft = in(0.045, "brief.limits.droop_left")
	b.Roads = []brief.Road{
		{Name: "town-street", Speeds: speed(40, 60), Load: "driver"},
		{Name: "village-lane", Speeds: speed(60, 80), Load: "four-aboard"},
		{Name: "motorway", Speeds: speed(120), Load: "driver"},
	}
	b.Events = []brief.Event{
		{Kind: "round-hump", Height: in(0.075, ""), Length: in(3.7, ""), Speed: in(30e3/hour, ""), Load: "four-aboard"},
		{Kind: "pothole", Depth: in(0.05, ""), Length: in(0.6, ""), Speed: in(50e3/hour, ""), Load: "driver"},
	}
	return b
}
