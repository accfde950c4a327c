package figure

// Entry is one row of the register: what a code means.
type Entry struct {
	Code     string
	Unit     string // SI
	Per      string // corner, axle or car
	At       string // where it is measured
	Sign     string // what a positive or negative value means
	Meaning  string
	Equation string
	Source   string
}

// Register returns every result code, in the order people are shown them.
func Register() []Entry { return register }

// Look returns the entry of a code; false for a word that is none, which somebody
// may have typed. For a code that stands in the program there is [Must].
func Look(code string) (Entry, bool) {
	i, ok := byCode[code]
	if !ok {
		return Entry{}, false
	}
	return register[i], true
}

// Must returns the entry of a code of the program. One that is not in the register
// is a broken program, and Must panics.
func Must(code string) Entry {
	e, ok := Look(code)
	if !ok {
		panic("figure: no result is called " + code)
	}
	return e
}

var byCode = func() map[string]int {
	out := make(map[string]int, len(register))
	for i := range register {
		out[register[i].Code] = i
	}
	return out
}()

// Law returns the equation of a result code.
func (e Entry) Law() *Law {
	return &Law{Code: e.Code, Equation: e.Equation, Unit: e.Unit, Source: e.Source}
}

const own = Own

var register = []Entry{
	{"sprung-mass", "kg", "car", "body", "always positive", "mass carried by the springs, payload in", "m_s = (S_1 + S_2 + S_3 + S_4)/g", own},
	{"front-share", "1", "car", "tyre", "0 to 1", "share of the weight on the front tyres", "p = (FL + FR)/(FL + FR + RL + RR)", own},
	{"left-share", "1", "car", "tyre", "0 to 1", "share of the weight on the left tyres", "p = (FL + RL)/(FL + FR + RL + RR)", own},
	{"cross-share-front-right-rear-left", "1", "car", "tyre", "0 to 1", "share of the weight on the diagonal front right, rear left", "p = (FR + RL)/(FL + FR + RL + RR)", own},
	{"cross-off-half", "1", "car", "tyre", "0 to 0.5", "how far the share of the weight on a diagonal is off half", "d = abs((FR + RL)/(FL + FR + RL + RR) - 0.5)", own},
	{"corner-load", "N", "corner", "tyre", "down positive", "load of one tyre on the ground", "F_z = max(S + m_u*g, 0)", own},
	{"arch-height", "m", "corner", "wheel", "up positive", "hub centre to arch edge", "H = H_0 - w_rest", own},
	{"side-lower", "m", "corner", "wheel", "positive: this side is lower", "how much lower the arch stands over its hub than on the other side of the axle", "d = w_rest - w_other", own},
	{"body-height-change", "m", "corner", "body", "up positive", "how much higher the body stands over the ground at a wheel than the car as weighed with nobody aboard, tyres in", "b = z + y*phi + x*theta", own},
	{"rake-change", "rad", "car", "body", "nose down positive", "how far the body is pitched from how the car stood as weighed with nobody aboard", "q = theta", own},
	{"wheel-outward", "m", "corner", "tyre", "outward positive", "how much farther out the middle of the tyre stands than on the wheels as weighed", "o = e_0 - e", own},
	{"lip-gap", "m", "corner", "tyre", "negative: its side stands outside the lip", "how far inside the lip of the arch the tyre's side stands, wheels straight at the zero height", "g = g_0 - o - n*w", own},
	{"strut-gap", "m", "corner", "tyre", "negative: they touch", "least room between tyre or rim and strut, spring seat or arm", "g = g_0 + o - n*w", own},
	{"liner-gap", "m", "corner", "tyre", "negative: they touch", "least room between tread and liner, at full lock where the axle steers", "g = g_0 - r*cos(delta) - (o + n*w)*sin(delta)", own},
	{"tyre-load-share", "1", "corner", "tyre", "1: as much as it carries", "load of the tyre at rest over what its load index stands for at its pressure", "p = F_z/(m*g)", "UN Regulation 30, annex 4; ETRTO Standards Manual (from memory)"},
	{"gearing-change", "1", "car", "tyre", "positive: the engine turns faster", "how much faster the engine turns at one speed than on the tyres as weighed", "e = 1/q - 1", own},
	{"speed-over-shown", "1", "car", "tyre", "positive: faster than shown", "how much faster the car is driven than its speedometer shows", "e = q/(1 + s) - 1", own},
	{"scrub-radius", "m", "corner", "wheel", "positive: steering axis inward of the contact", "ground point of the steering axis inward of the contact patch, at rest; from hardpoints only", "s = y_c - y_s", own},
	{"strut-side-load", "N", "corner", "damper", "magnitude", "side load of the top mount on the strut's rod, standing: what it breaks away against; from hardpoints only", "Q = sqrt(q_x^2 + q_y^2 + q_z^2)", own},
	{"strut-side-load-in-bend", "N", "corner", "damper", "magnitude", "the same of the outer strut in a corner at nine tenths of standard gravity", "Q = sqrt(q_x^2 + q_y^2 + q_z^2)", own},
	{"strut-bending-stress", "Pa", "corner", "damper", "magnitude", "bending of rod, or body of an inverted strut, at its guide in that corner", "sigma = 32*M*d/(pi*(d^4 - b^4))", "elementary bending"},
	{"hang-up", "m", "corner", "wheel", "half-width", "how far friction can hold the corner from its frictionless rest, either way", "h = F_f/k_w", own},
	{"preload-error", "m", "corner", "spring", "positive: the old spring is longer than stated", "what the weighing and the parts that were fitted disagree by, at the spring seat", "e = x_needed - x_stated", own},
	{"travel-to-stop", "m", "corner", "wheel", "negative: in the stop", "bump travel left to the first touch of the stop", "s = w_touch - w_rest", own},
	{"travel-to-stop-firm", "m", "corner", "wheel", "negative: past it", "bump travel left until the stop carries half the static corner load", "s = w_firm - w_rest", own},
	{"travel-to-stop-hard", "m", "corner", "wheel", "negative: past it", "bump travel left until the stop carries twice the static corner load", "s = w_hard - w_rest", own},
	{"travel-to-solid", "m", "corner", "wheel", "negative: past it", "bump travel left to the end of the stop's table, taken as solid", "s = w_solid - w_rest", own},
	{"travel-to-closed", "m", "corner", "wheel", "negative: past it", "bump travel left to metal in the damper", "s = w_closed - w_rest", own},
	{"travel-to-arch", "m", "corner", "wheel", "negative: past it", "bump travel left until the tyre meets the arch", "s = w_arch - w_rest", own},
	{"travel-to-block", "m", "corner", "wheel", "negative: past it", "bump travel left until the spring's coils touch", "s = w_block - w_rest", own},
	{"travel-to-open", "m", "corner", "wheel", "positive while rebound travel is left", "rebound travel left to the damper's open end", "s = w_rest - w_open", own},
	{"travel-to-limit", "m", "corner", "wheel", "negative: past it", "travel left to a limit that was measured on the car: ground, hose, shaft, joint", "s = n*(w_limit - w_rest)", own},
	{"end-before-limit", "m", "corner", "wheel", "negative: the limit is met first", "how far before that limit the stop is solid, or the damper fully open", "s = n*(w_limit - w_end)", own},
	{"makers-bump-kept", "1", "corner", "wheel", "1: all of it", "share left of the bump travel to the stop's touch that the car's maker gave it", "p = s/s_maker", own},
	{"makers-solid-kept", "1", "corner", "wheel", "1: all of it", "share left of the bump travel to the stop solid that the car's maker gave it", "p = s/s_maker", own},
	{"solid-before-arch", "m", "corner", "wheel", "negative: the tyre meets the arch first", "how far before the arch the stop is solid", "s = w_arch - w_solid", own},
	{"solid-before-block", "m", "corner", "wheel", "negative: the coils touch first", "how far before coil touch the stop is solid", "s = w_block - w_solid", own},
	{"spring-gap-open", "m", "corner", "spring", "positive: loose", "how loose the spring is with the damper fully open", "g = s_rest - s_open - x_rest", own},
	{"stop-share", "1", "corner", "wheel", "0 to 1", "share of the tyre's load that the stop carries at rest", "p = F_stop/F_z", own},
	{"catch-speed", "m/s", "corner", "wheel", "always positive", "wheel velocity in bump that spring and stop absorb before the stop is firm, without the damper", "v = sqrt(2*E/m)", own},
	{"wheel-rate", "N/m", "corner", "wheel", "always positive", "tangent rate at the wheel, stop in, bar and tyre out", "k_w = k*r^2 + F*c + k_gas + k_stop + k_ends + k_bush", "virtual work; own derivation"},
	{"corner-frequency", "Hz", "corner", "body", "always positive", "undamped frequency of the sprung corner mass on the wheel rate, tyre left out", "f = sqrt(k_w/m)/(2*pi)", own},
	{"corner-frequency-on-tyre", "Hz", "corner", "body", "always positive", "the same with the tyre in series", "f = sqrt(k_w*k_t/(k_w + k_t)/m)/(2*pi)", own},
	{"damping-ratio", "1", "corner", "wheel", "always positive", "secant damper coefficient at a stated damper speed over critical, tangent wheel rate, tyre left out", "zeta = C*r_d^2/(2*sqrt(k_w*m))", own},
	{"mode-frequency", "Hz", "car", "body", "always positive", "frequency of one of the seven complex modes, |lambda|/2 pi", "f = sqrt(p)/(2*pi)", "linear vibration of seven degrees of freedom"},
	{"mode-damping", "1", "car", "body", "1 or more: a pair of real poles", "damping ratio of a mode, -Re(lambda)/|lambda|", "zeta = -s/(2*sqrt(p))", "linear vibration of seven degrees of freedom"},
	{"frequency-ratio", "1", "car", "body", "rear over front", "rear over front corner frequency, tyre left out; not given while a stop carries load", "q = (f_3 + f_4)/(f_1 + f_2)", own},
	{"wheel-lift-acceleration", "m/s^2", "corner", "tyre", "0: it carries nothing straight ahead", "lateral acceleration, turning towards this side, at which the corner's tyre carries nothing any more", "a = a_1 + d", own},
	{"stop-contact-acceleration", "m/s^2", "corner", "tyre", "0: the car rests on it", "lateral acceleration, turning away from this side, at which the corner's bump stop is first met", "a = a_1 + d", own},
	{"landing-balance-shift", "1", "corner", "tyre", "positive: towards the front", "jump of the front axle's share of further lateral load transfer as this corner meets its stop", "j = p_2 - p_1", own},
	{"inside-droop-left", "m", "corner", "wheel", "positive while rebound travel is left", "rebound travel left to the damper's open end as the inner wheel of a corner at half of standard gravity", "s = w - w_open", own},
	{"camber-to-road", "rad", "corner", "tyre", "positive: top outward", "how far the outer wheel of a corner at half of standard gravity leans against the road's upright, by its links and with the body; from hardpoints only", "g = g_links + n*phi", own},
	{"roll-gradient", "rad/(m/s^2)", "car", "body", "positive: out of the bend", "roll of the body against the ground per lateral acceleration, about straight ahead, tyres in", "q = (phi_l - phi_r)/(2*a)", own},
	{"front-transfer-share", "1", "car", "tyre", "0 to 1", "front axle's share of the lateral load transfer in a corner at half of standard gravity", "p = dF_f/(dF_f + dF_r)", own},
	{"front-roll-share", "1", "car", "wheel", "0 to 1", "front axle's share of the roll stiffness at rest, tyres left out", "p = K_f/(K_f + K_r)", own},
	{"bar-roll-share", "1", "car", "wheel", "0 to 1", "anti-roll bar's share of its axle's roll stiffness at rest", "p = K_bar/(K_springs + K_bar)", own},
	{"understeer-gradient", "rad/(m/s^2)", "car", "tyre", "positive: understeer", "steer asked for beyond the corner's geometry per lateral acceleration, by tyres alone: straight ahead, or at 4 m/s^2 with the lateral load transfer", "K = Y_f/C_f - Y_r/C_r", "M. Abe, Vehicle Handling Dynamics, ch. 3"},
	{"understeer-total", "rad/(m/s^2)", "car", "wheel", "positive: understeer", "steer asked for beyond the corner's geometry per lateral acceleration at 4 m/s^2, by tyres, links, camber and bushes together, as far as they are known", "K = K_t + K_lf + K_lr + K_cf + K_cr + K_rf + K_rr", own},
	{"camber-steer", "rad/(m/s^2)", "car", "tyre", "positive: adds to understeer", "what an axle's tyres slip more because they lean out of the corner, per lateral acceleration at 4 m/s^2; from hardpoints only", "K = o*q*e/a_y", own},
	{"compliance-steer", "rad/(m/s^2)", "car", "wheel", "positive: adds to understeer", "what an axle's bushes steer per lateral acceleration at 4 m/s^2", "K = c*F/a_y", own},
	{"lift-steer", "rad/(m/s^2)", "car", "tyre", "positive: adds to understeer", "what aerodynamic lift at a speed does to the understeer of the tyres straight ahead; where lift was given only", "K = K_V - K_0", own},
	{"links-steer", "rad/(m/s^2)", "car", "wheel", "positive: adds to understeer", "what an axle's links alone steer per lateral acceleration as the car rolls, in a corner at 4 m/s^2; from hardpoints only", "q = n*delta/a_y", own},
	{"critical-speed", "m/s", "car", "tyre", "always positive", "speed above which the car does not run straight on its own, by tyres alone; none for a car that is stable at every speed", "V = sqrt(-L/K)", "M. Abe, Vehicle Handling Dynamics, ch. 3"},
	{"towing-settling", "1/s", "car", "body", "negative: it grows", "how fast the motion of car and trailer that lasts longest dies away at the towing speed, steering held", "s = -lambda_r", own},
	{"weave-damping", "1", "car", "body", "negative: it grows", "damping ratio of the least damped swing of car and trailer at the towing speed", "zeta = -lambda_r/lambda_abs", own},
	{"weave-frequency", "Hz", "car", "body", "always positive", "undamped frequency of that swing", "f = lambda_abs/(2*pi)", own},
	{"towing-critical-speed", "m/s", "car", "tyre", "always positive", "lowest speed at which car and trailer swing or turn further by themselves; none for a pair that is stable at every speed", "V = V_0", own},
	{"yaw-settling", "1/s", "car", "body", "negative: it grows", "how fast the yaw motion that lasts longest dies away after a short steer, steering held: it halves in 0.693 divided by this", "s = D - sqrt(max(0, D^2 - q))", "M. Abe, Vehicle Handling Dynamics, ch. 3"},
	{"yaw-damping", "1", "car", "body", "0 to 1; none where yaw does not swing", "damping ratio of yaw after a short steer, steering held", "zeta = ((C_f + C_r)/(m*V) + (a^2*C_f + b^2*C_r)/(I*V))/(4*pi*f)", "M. Abe, Vehicle Handling Dynamics, ch. 3"},
	{"yaw-frequency", "Hz", "car", "body", "always positive", "undamped yaw frequency, steering held", "f = sqrt(C_f*C_r*(a + b)^2/(m*I*V^2)*(1 + K*V^2/(a + b)))/(2*pi)", "M. Abe, Vehicle Handling Dynamics, ch. 3"},
	{"floor-acceleration", "m/s^2", "car", "floor", "rms", "frequency-weighted vertical acceleration at a floor point", "a_w = mean(x)", "ISO 2631-1:1997, weighting Wk"},
	{"seat-acceleration", "m/s^2", "car", "seat", "rms", "the same at a seat, where the seat's transfer is given", "a_w = mean(x)", "ISO 2631-1:1997, weighting Wk"},
	{"vibration-dose", "m/s^1.75", "car", "floor", "always positive", "fourth-power dose of the weighted acceleration over the run", "VDV = mean(x)", "ISO 2631-1:1997"},
	{"tyre-load-variation", "1", "corner", "tyre", "always positive", "standard deviation of the tyre's load over its mean", "v = mean(x)", own},
	{"tyre-light-share", "1", "corner", "tyre", "0 to 1", "share of the time with less than a fifth of the static load", "p = mean(x)", own},
	{"stop-hits", "1/m", "corner", "damper", "always positive", "entries above a stated stop force per metre of road", "n = mean(x)", own},
	{"stop-force-peak", "N", "corner", "damper", "push positive", "peak bump-stop force", "F = mean(x)", own},
	{"stop-time-share", "1", "corner", "damper", "0 to 1", "share of the time in the stop", "p = mean(x)", own},
	{"travel-peak-bump", "m", "corner", "wheel", "bump positive", "deepest wheel travel reached", "w = mean(x)", own},
	{"travel-peak-droop", "m", "corner", "wheel", "bump positive", "farthest droop reached", "w = mean(x)", own},
	{"damper-travel-used", "m", "corner", "damper", "bump positive", "damper travel from rest to the deepest point of a drive: what a marker on the rod shows", "u = mean(x)", own},
	{"damper-speed-share", "1", "corner", "damper", "0 to 1", "share of the time with the damper slow (low), between (mid) and fast (high)", "p = mean(x)", "bounds: common practice, no source"},
	{"damper-power", "W", "corner", "damper", "always positive", "mean power turned to heat", "P = mean(x)", own},
	{"mean-sink", "m", "corner", "wheel", "positive: lower", "how far the mean travel moves into bump because rebound is stronger than bump", "s = mean(x)", own},
	{"mount-damage-relative", "1", "corner", "damper", "1: as much as the baseline on the mean of the roads", "share of its life that the upper mount loses per metre of a road, or of all the brief's roads alike, by what passes through it, each mount on its own line with a knee, over the baseline's on the mean of those roads; how long one lasts is not said", "D = mean(x)", "ASTM E1049-85 rainflow; Miner's sum; Haibach's slope below the knee"},
	{"mount-life-share", "1", "corner", "damper", "always positive", "share of its life that the upper mount loses in 1e8 metres of the brief's roads, one as far as another, by the rated range that was entered: an order of magnitude", "D = mean(x)", "ASTM E1049-85 rainflow; Miner's sum; Haibach's slope below the knee"},
	{"mount-damage-share", "1", "corner", "damper", "negative: it takes some of it away", "share of the upper mount's wear that damper, bump stop, open end or spring has, as much of each cycle as of its range", "p = mean(x)", own},
	{"settling-time", "s", "car", "body", "always positive", "time from the greatest free bounce over an axle after an obstacle until the body stays within a tenth of it", "t = mean(x)", own},
	{"bounce-left", "1", "axle", "body", "0 to 1", "swing of the body over an axle one whole cycle after its greatest free one behind an obstacle, over that one; wheel hop filtered out", "b = mean(x)", "J. P. Den Hartog, Mechanical Vibrations, 1956, sections 2.8 and 8.4"},
	{"top-out-speed", "m/s", "corner", "damper", "always positive", "fastest damper speed into its open end", "v = mean(x)", own},
	{"wheel-off-time", "s", "corner", "tyre", "always positive", "longest time that a tyre is off the ground over an obstacle", "t = mean(x)", own},
	{"flight-time", "s", "car", "tyre", "always positive", "longest time that no tyre touches the ground over an obstacle", "t = mean(x)", own},
	{"flight-height", "m", "car", "tyre", "always positive", "greatest height of the lowest tyre over the road in that flight", "h = mean(x)", own},
	{"landing-load", "N", "corner", "tyre", "down positive", "greatest load of the tyre within half a second of the first touch after that flight", "F = mean(x)", own},
	{"landing-stop-force", "N", "corner", "damper", "push positive", "peak bump-stop force in that half second", "F = mean(x)", own},
	{"body-acceleration-peak", "m/s^2", "car", "floor", "magnitude", "greatest vertical acceleration of a floor point over an event", "a = mean(x)", own},
}

// ofRun is what one drive gives of a result of the ride, whose value is the mean of
// the drives.
var ofRun = map[string]string{
	"floor-acceleration":     "a_w = sqrt(mean(a_w(t)^2))",
	"seat-acceleration":      "a_w = sqrt(mean(a_w(t)^2))",
	"vibration-dose":         "VDV = (integral a_w^4 dt)^(1/4)",
	"tyre-load-variation":    "sd(F_z)/mean(F_z)",
	"tyre-light-share":       "time share",
	"stop-hits":              "n/L",
	"stop-force-peak":        "max F_stop",
	"stop-time-share":        "time share",
	"travel-peak-bump":       "max w",
	"travel-peak-droop":      "min w",
	"damper-travel-used":     "u = d(w_max) - d(w_rest)",
	"damper-speed-share":     "time share",
	"damper-power":           "mean(F*v)",
	"mean-sink":              "mean(w) - w_rest",
	"mount-damage-relative":  "D = (sum(n/N)/L)/mean(sum(n_0/N_0)/L), N = 10^6*(F/r)^m, and below F with 2*m - 1",
	"mount-life-share":       "10^8*mean(sum(n/N)/L), N = 10^6*(F/r)^m, and below F with 2*m - 1",
	"mount-damage-share":     "sum(n*r_i/(r*N))/sum(n/N)",
	"settling-time":          "t",
	"bounce-left":            "b = abs(z_2 - z_3)/abs(z_0 - z_1)",
	"top-out-speed":          "max v at the open end",
	"wheel-off-time":         "t",
	"flight-time":            "t",
	"flight-height":          "h = max(min(z_i))",
	"landing-load":           "max F_z",
	"landing-stop-force":     "max F_stop",
	"body-acceleration-peak": "max abs(a)",
}

// OfRun returns what one drive gives of a result of the ride, in words; empty for a
// result that is none.
func OfRun(code string) string { return ofRun[code] }
