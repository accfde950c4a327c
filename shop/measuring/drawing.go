package measuring

import "math"

// Drawing is a small picture of a reading, in units of its own: x to the right, y down,
// within Width and Height. The grammar is one: ink is the car, a tape has arrowheads and
// end bars, a dot is a centre, hatching is the ground.
type Drawing struct {
	ID     string  `json:"id"`
	About  string  `json:"about" doc:"the picture in words"`
	Width  float64 `json:"width"`
	Height float64 `json:"height"`
	Shapes []Shape `json:"shapes"`
}

// Shape is a piece of a drawing.
type Shape struct {
	Form   string    `json:"form" enum:"line,area,circle,dot,text,tape,ground"`
	Points []float64 `json:"points" doc:"x and y of each point; of a circle its centre, of a text where it begins"`
	Radius float64   `json:"radius,omitempty"`
	Text   string    `json:"text,omitempty"`
	Fill   string    `json:"fill,omitempty" enum:"none,body,rubber,metal"`
	Dashed bool      `json:"dashed,omitempty"`
	Bold   bool      `json:"bold,omitempty"`
	End    bool      `json:"end,omitempty" doc:"a text that ends at its point"`
}

// pen gathers the shapes of a drawing.
type pen struct{ d Drawing }

func (p *pen) add(s Shape) { p.d.Shapes = append(p.d.Shapes, s) }

func (p *pen) line(points ...float64)  { p.add(Shape{Form: "line", Points: points}) }
func (p *pen) faint(points ...float64) { p.add(Shape{Form: "line", Points: points, Dashed: true}) }

func (p *pen) area(fill string, pts ...float64) { p.add(Shape{Form: "area", Points: pts, Fill: fill}) }

func (p *pen) dot(x, y float64) { p.add(Shape{Form: "dot", Points: []float64{x, y}, Radius: 2.6}) }

func (p *pen) tape(x0, y0, x1, y1 float64) {
	p.add(Shape{Form: "tape", Points: []float64{x0, y0, x1, y1}})
}

func (p *pen) ground(x0, x1, y float64) {
	p.add(Shape{Form: "ground", Points: []float64{x0, y, x1, y}})
}

func (p *pen) text(x, y float64, text string) {
	p.add(Shape{Form: "text", Points: []float64{x, y}, Text: text})
}

func (p *pen) textEnd(x, y float64, text string) {
	p.add(Shape{Form: "text", Points: []float64{x, y}, Text: text, End: true})
}

func (p *pen) bold(x, y float64, text string) {
	p.add(Shape{Form: "text", Points: []float64{x, y}, Text: text, Bold: true})
}

func (p *pen) circle(fill string, x, y, r float64) {
	p.add(Shape{Form: "circle", Points: []float64{x, y}, Radius: r, Fill: fill})
}

// box is an upright rectangle.
func (p *pen) box(fill string, x0, y0, x1, y1 float64) { p.area(fill, x0, y0, x1, y0, x1, y1, x0, y1) }

// coil draws a spring between two heights.
func (p *pen) coil(x, half, top, low float64, turns int) {
	step := (low - top) / float64(2*turns)
	points := []float64{x - half, top}
	for k := 1; k <= 2*turns; k++ {
		side := half
		if k%2 == 0 {
			side = -half
		}
		points = append(points, x+side, top+float64(k)*step)
	}
	p.line(points...)
}

// arc is a part of a circle as a line, from and to in half turns from the right, counted
// downward.
func (p *pen) arc(x, y, r, from, to float64) {
	var points []float64
	const steps = 20
	for k := range steps + 1 {
		a := (from + (to-from)*float64(k)/steps) * math.Pi
		points = append(points, x+r*math.Cos(a), y+r*math.Sin(a))
	}
	p.line(points...)
}

// wheel is a tyre with its rim and centre, seen from the side.
func (p *pen) wheel(x, y, r float64) {
	p.circle("rubber", x, y, r)
	p.circle("body", x, y, 0.62*r)
	p.dot(x, y)
}

// fender is the edge of the body over a wheel, from the side, with its arch.
func (p *pen) fender(x, y, r float64) {
	p.line(x-62, y, x-r, y)
	p.arc(x, y, r, 1, 2)
	p.line(x+r, y, x+62, y)
	p.line(x-62, y, x-62, y-r-18, x+62, y-r-18, x+62, y)
}

// tube is a damper along a line: its body low, its rod high.
func (p *pen) tube(x, top, seal, low float64) {
	p.line(x-2.5, top, x-2.5, seal)
	p.line(x+2.5, top, x+2.5, seal)
	p.box("metal", x-11, seal, x+11, low)
}

// size of every drawing. Chosen.
const wide, high = 200, 150

func picture(id, about string, draw func(p *pen)) Drawing {
	p := &pen{Drawing{ID: id, About: about, Width: wide, Height: high}}
	draw(p)
	return p.d
}

// Drawings are the pictures that cards name.
func Drawings() []Drawing {
	return []Drawing{
		picture("corner-load", "A wheel stands on a scale; the scale reads in kilograms.", func(p *pen) {
			p.wheel(80, 78, 42)
			p.box("metal", 28, 121, 132, 128)
			p.ground(10, 190, 132)
			p.box("none", 146, 84, 190, 112)
			p.bold(158, 103, "kg")
			p.line(132, 125, 168, 125, 168, 112)
		}),
		picture("state", "A car on its wheels with its tank, its pressures and an empty seat.", func(p *pen) {
			p.line(14, 108, 14, 88, 52, 82, 76, 58, 134, 58, 158, 82, 186, 88, 186, 108, 14, 108)
			p.wheel(50, 110, 18)
			p.wheel(150, 110, 18)
			p.ground(6, 194, 130)
			p.line(100, 58, 100, 84, 66, 84)
			p.text(16, 42, "bar")
			p.faint(28, 46, 44, 102)
			p.textEnd(192, 42, "litres")
			p.faint(176, 46, 166, 92)
			p.text(84, 42, "who?")
			p.circle("none", 90, 72, 6)
		}),
		picture("arch-height", "On its wheels: from the wheel's centre straight up to the lower edge of the arch.", func(p *pen) {
			p.fender(96, 84, 50)
			p.wheel(96, 92, 36)
			p.ground(14, 178, 128)
			p.tape(96, 92, 96, 34)
			p.text(140, 62, "arch edge")
			p.faint(138, 58, 100, 36)
			p.text(140, 112, "hub centre")
			p.faint(138, 108, 99, 94)
		}),
		picture("rod-showing", "From the seal of the damper's body up along the rod to the seat of the stop.", func(p *pen) {
			p.line(50, 20, 130, 20)
			p.box("rubber", 76, 20, 104, 52)
			p.tube(90, 52, 104, 146)
			p.tape(146, 20, 146, 104)
			p.faint(130, 20, 150, 20)
			p.faint(101, 104, 150, 104)
			p.bold(154, 58, "rod")
			p.bold(154, 72, "showing")
			p.textEnd(46, 40, "stop")
			p.faint(48, 37, 76, 37)
			p.textEnd(46, 108, "seal")
			p.faint(48, 104, 79, 104)
		}),
		picture("damper-length", "Along the damper from bolt centre to bolt centre.", func(p *pen) {
			p.circle("none", 118, 18, 9)
			p.dot(118, 18)
			p.circle("none", 74, 134, 9)
			p.dot(74, 134)
			p.line(115, 27, 100, 66)
			p.line(119, 28, 104, 68)
			p.area("metal", 88, 62, 114, 72, 92, 130, 66, 120)
			p.tape(148, 30, 104, 146)
			p.faint(118, 18, 152, 31)
			p.faint(74, 134, 108, 147)
			p.textEnd(60, 70, "bolt centre")
			p.textEnd(60, 84, "to bolt centre")
		}),
		picture("spring-length", "From the inside face of the upper seat to the inside face of the lower seat.", func(p *pen) {
			p.area("body", 54, 12, 126, 12, 116, 30, 64, 30)
			p.coil(90, 24, 30, 116, 5)
			p.area("body", 44, 116, 150, 116, 142, 134, 52, 132)
			p.tape(150, 30, 150, 116)
			p.faint(116, 30, 154, 30)
			p.bold(158, 70, "seat to")
			p.bold(158, 84, "seat")
			p.textEnd(50, 24, "body")
			p.textEnd(40, 128, "arm")
		}),
		picture("track", "From above: wheelbase from hub to hub, track from middle to middle of the tyres.", func(p *pen) {
			p.box("none", 62, 30, 148, 124)
			for _, x := range []float64{54, 144} {
				for _, y := range []float64{38, 96} {
					p.box("rubber", x, y, x+12, y+24)
				}
			}
			p.tape(36, 50, 36, 108)
			p.faint(54, 50, 32, 50)
			p.faint(54, 108, 32, 108)
			p.tape(60, 20, 150, 20)
			p.faint(60, 38, 60, 16)
			p.faint(150, 38, 150, 16)
			p.bold(92, 13, "track")
			p.text(4, 136, "wheelbase")
			p.textEnd(196, 52, "front")
		}),
		picture("bar", "The bar from above: diameter, length of the straight part, arm to the drop link.", func(p *pen) {
			p.line(30, 118, 46, 40, 154, 40, 170, 118)
			p.line(37, 118, 52, 46, 148, 46, 163, 118)
			p.circle("none", 33, 122, 5)
			p.circle("none", 167, 122, 5)
			p.tape(46, 22, 154, 22)
			p.bold(82, 15, "length")
			p.tape(184, 43, 184, 122)
			p.faint(154, 43, 188, 43)
			p.faint(172, 122, 188, 122)
			p.textEnd(180, 84, "arm")
			p.circle("metal", 100, 92, 13)
			p.tape(87, 92, 113, 92)
			p.text(76, 126, "diameter")
		}),
		picture("sidewall", "The side of a tyre: width, height over width, rim; the pressure gauge at its valve.", func(p *pen) {
			p.circle("rubber", 84, 76, 62)
			p.circle("body", 84, 76, 38)
			p.dot(84, 76)
			p.bold(58, 30, "205 / 55 R 16")
			p.line(112, 96, 150, 116)
			p.circle("none", 164, 122, 15)
			p.text(156, 126, "bar")
		}),
		picture("arm", "From the front: along the arm from its inner pivot to spring, damper and outer joint.", func(p *pen) {
			p.line(24, 84, 150, 96)
			p.line(24, 90, 150, 102)
			p.circle("body", 24, 87, 6)
			p.circle("body", 150, 99, 6)
			p.coil(78, 12, 24, 88, 4)
			p.tube(110, 24, 62, 92)
			p.box("rubber", 160, 56, 186, 140)
			p.tape(24, 116, 78, 121)
			p.tape(24, 128, 110, 136)
			p.text(6, 76, "pivot")
			p.textEnd(150, 84, "joint")
		}),
		picture("motion", "Spring out: the hub is jacked up step by step; wheel travel at the hub, damper travel along the damper.", func(p *pen) {
			p.line(30, 92, 126, 100)
			p.circle("body", 30, 92, 5)
			p.box("rubber", 134, 52, 164, 136)
			p.tube(92, 14, 56, 94)
			p.line(70, 14, 114, 14)
			p.area("metal", 118, 148, 138, 148, 128, 108)
			p.tape(178, 52, 178, 100)
			p.faint(164, 52, 182, 52)
			p.bold(168, 44, "wheel")
			p.tape(66, 14, 66, 94)
			p.textEnd(60, 50, "damper")
			p.text(8, 126, "spring out")
		}),
		picture("limits", "Spring out: the tyre is jacked up until it meets the arch.", func(p *pen) {
			p.line(20, 26, 118, 26, 150, 34, 158, 62)
			p.box("rubber", 84, 34, 118, 120)
			p.circle("none", 116, 34, 8)
			p.text(126, 92, "tyre meets")
			p.text(126, 106, "arch")
			p.faint(140, 80, 120, 42)
			p.tape(40, 120, 40, 70)
			p.text(10, 140, "jack up")
			p.area("metal", 88, 148, 114, 148, 101, 122)
			p.faint(84, 76, 118, 76)
		}),
		picture("unsprung", "Wheel, brake and carrier on a scale, with half of the arm.", func(p *pen) {
			p.wheel(70, 72, 44)
			p.circle("metal", 70, 72, 17)
			p.dot(70, 72)
			p.line(114, 72, 146, 78)
			p.faint(146, 78, 176, 84)
			p.text(128, 64, "half the arm")
			p.box("metal", 22, 118, 120, 125)
			p.ground(10, 190, 130)
			p.bold(132, 120, "kg")
		}),
		picture("points", "A point of the linkage by three figures: forward of the front axle, left of the middle, over the ground.", func(p *pen) {
			p.ground(12, 188, 130)
			p.wheel(60, 100, 28)
			p.line(66, 100, 128, 88)
			p.dot(128, 88)
			p.tape(128, 88, 128, 128)
			p.bold(134, 112, "up")
			p.tape(128, 60, 60, 60)
			p.faint(128, 88, 128, 54)
			p.faint(60, 100, 60, 54)
			p.bold(84, 52, "forward")
			p.text(134, 84, "left: to the reader")
		}),
		picture("spring", "Off the car: free length, wire, mean diameter of the coil.", func(p *pen) {
			p.coil(64, 34, 18, 122, 5)
			p.ground(14, 186, 130)
			p.tape(116, 18, 116, 126)
			p.faint(98, 18, 120, 18)
			p.bold(122, 62, "free")
			p.circle("metal", 164, 44, 10)
			p.tape(154, 44, 174, 44)
			p.text(152, 72, "wire")
			p.tape(30, 142, 98, 142)
			p.text(106, 146, "mean diameter")
		}),
		picture("damper", "Off the car, mount to mount: pulled fully open, then pushed in until metal meets metal.", func(p *pen) {
			p.circle("none", 20, 34, 7)
			p.box("metal", 28, 24, 106, 44)
			p.line(106, 31, 168, 31)
			p.line(106, 37, 168, 37)
			p.circle("none", 175, 34, 7)
			p.tape(20, 58, 175, 58)
			p.bold(84, 74, "open")
			p.circle("none", 20, 104, 7)
			p.box("metal", 28, 94, 106, 114)
			p.line(106, 101, 120, 101)
			p.line(106, 107, 120, 107)
			p.circle("none", 127, 104, 7)
			p.tape(20, 128, 127, 128)
			p.bold(36, 144, "closed, on metal")
		}),
		picture("dyno", "Force over rod speed, one line a click: bump up, rebound down.", func(p *pen) {
			p.line(30, 14, 30, 140)
			p.line(20, 78, 190, 78)
			p.line(30, 78, 60, 58, 110, 44, 180, 34)
			p.line(30, 78, 60, 66, 110, 58, 180, 52)
			p.line(30, 78, 60, 108, 110, 124, 180, 136)
			p.text(36, 22, "force")
			p.textEnd(190, 92, "rod speed")
			p.text(128, 30, "bump")
			p.text(100, 146, "rebound")
		}),
		picture("gas", "The rod is pushed halfway in against a balance and held still.", func(p *pen) {
			p.tube(90, 44, 84, 142)
			p.box("metal", 74, 32, 106, 44)
			p.tape(90, 6, 90, 30)
			p.bold(100, 22, "push, hold: N")
			p.text(112, 116, "gas")
			p.faint(78, 112, 102, 112)
		}),
		picture("stop", "A bump stop standing free, then pressed: length, pressed by, force.", func(p *pen) {
			p.area("rubber", 30, 40, 66, 40, 62, 70, 68, 92, 62, 124, 34, 124, 28, 92, 34, 70)
			p.ground(10, 190, 126)
			p.tape(84, 40, 84, 124)
			p.faint(66, 40, 88, 40)
			p.bold(76, 30, "length")
			p.area("rubber", 120, 76, 160, 76, 164, 100, 160, 124, 120, 124, 116, 100)
			p.box("metal", 112, 68, 168, 76)
			p.tape(182, 40, 182, 76)
			p.text(128, 60, "pressed by")
		}),
		picture("platform", "A collar on a thread: travel per turn, range up and down from the start mark.", func(p *pen) {
			p.box("metal", 74, 12, 110, 146)
			for y := 20.0; y < 146; y += 8 {
				p.line(74, y, 110, y-4)
			}
			p.box("body", 62, 76, 122, 90)
			p.faint(40, 83, 150, 83)
			p.textEnd(56, 70, "start mark")
			p.tape(146, 83, 146, 26)
			p.text(152, 54, "up")
			p.tape(146, 83, 146, 132)
			p.text(152, 116, "down")
		}),
		picture("clearance", "From the front: side of the tyre inside the lip of the arch, least gap to the strut, tread to liner.", func(p *pen) {
			p.box("rubber", 70, 52, 110, 138)
			p.line(20, 26, 116, 26, 142, 34, 142, 62)
			p.ground(10, 190, 140)
			p.tape(110, 74, 142, 74)
			p.faint(142, 62, 142, 80)
			p.bold(120, 92, "lip")
			p.tube(44, 30, 60, 132)
			p.tape(55, 104, 70, 104)
			p.text(6, 148, "strut")
			p.tape(90, 27, 90, 51)
			p.text(148, 24, "liner")
			p.faint(146, 21, 94, 36)
		}),
		picture("tyre", "A tyre: rolled one turn for the circumference; on the car, centre to ground for the loaded radius.", func(p *pen) {
			p.wheel(76, 72, 56)
			p.ground(10, 190, 128)
			p.tape(150, 72, 150, 128)
			p.faint(76, 72, 154, 72)
			p.bold(158, 96, "loaded")
			p.bold(158, 110, "radius")
			p.text(128, 30, "one turn:")
			p.text(128, 44, "circumference")
		}),
		picture("wheel", "A wheel cut through: width between the bead seats, mounting face against its middle.", func(p *pen) {
			p.line(40, 18, 46, 30, 150, 30, 156, 18)
			p.line(40, 132, 46, 120, 150, 120, 156, 132)
			p.line(120, 30, 120, 120)
			p.tape(46, 46, 150, 46)
			p.bold(60, 62, "width")
			p.faint(98, 24, 98, 128)
			p.tape(98, 92, 120, 92)
			p.bold(54, 96, "offset")
			p.textEnd(196, 84, "mounting")
			p.textEnd(190, 98, "face")
		}),
	}
}
