package proof

// The faults that TestOneEquationPerCode, TestWorkingsReachTheJob and
// TestWorkingsLeadToWhatMoves know. The lists only shrink.

// twoEquations are the equations that are said twice, or without a code.
var twoEquations = []string{
	"D",
	"C", "F", "F_spring", "F_stop", "F_z", "H", "K", "L", "V", "a", "arch-height", "bar-roll-share",
	"body-acceleration-peak", "bounce-left", "camber-to-road", "catch-speed", "corner-frequency",
	"corner-frequency-on-tyre", "corner-load", "critical-speed", "cross-share-front-right-rear-left",
	"damper-power", "damper-speed-share", "damper-travel-used", "damping-ratio", "end-before-limit", "f",
	"flight-time", "floor-acceleration", "frequency-ratio", "front-roll-share", "front-share",
	"front-transfer-share", "g", "h", "hang-up", "inside-droop-left", "j", "k_w", "landing-balance-shift",
	"left-share", "links-steer", "m", "m_s", "makers-bump-kept", "makers-solid-kept", "mean-sink",
	"mode-damping", "mode-frequency", "mount-damage-relative", "p", "q", "roll-gradient", "s", "settling-time",
	"solid-before-arch", "solid-before-block", "spring-gap-open", "sprung-mass", "stop-contact-acceleration",
	"stop-force-peak", "stop-hits", "stop-share", "stop-time-share", "top-out-speed", "travel-peak-bump",
	"travel-peak-droop", "travel-to-arch", "travel-to-block", "travel-to-closed", "travel-to-limit",
	"travel-to-open", "travel-to-solid", "travel-to-stop", "travel-to-stop-firm", "travel-to-stop-hard",
	"tyre-light-share", "tyre-load-variation", "understeer-gradient", "v", "vibration-dose", "w_0", "w_block",
	"w_closed", "w_firm", "w_hard", "w_open", "w_rest", "w_solid", "w_touch", "wheel-off-time", "wheel-rate",
	"x", "y", "yaw-damping", "yaw-frequency", "zeta",
}

// loose are the terms of which nothing says where they come from.
var loose = []string{
	// Of yaw, understeer and towing: the loads of the tyres have no working yet.
	"towing-critical-speed.C_f", "towing-critical-speed.C_r", "towing-critical-speed.C_t", "towing-critical-speed.I", "towing-critical-speed.a",
	"towing-critical-speed.b", "towing-critical-speed.m", "towing-settling.C_f", "towing-settling.C_r", "towing-settling.C_t",
	"towing-settling.I", "towing-settling.a", "towing-settling.b", "towing-settling.m", "weave-damping.C_f",
	"weave-damping.C_r", "weave-damping.C_t", "weave-damping.I", "weave-damping.a", "weave-damping.b",
	"weave-damping.m", "weave-frequency.C_f", "weave-frequency.C_r", "weave-frequency.C_t", "weave-frequency.I",
	"weave-frequency.a", "weave-frequency.b", "weave-frequency.m", "towing-critical-speed.V_0", "towing-settling.lambda_r",
	"weave-damping.lambda_r", "weave-damping.lambda_abs", "weave-frequency.lambda_abs", "camber-steer.e", "compliance-steer.F",
	"lift-steer.K_0", "lift-steer.K_V",
	"D.C_f", "D.C_r", "D.I", "D.V", "D.a", "D.b", "D.m", "V.C_f", "V.C_r", "V.a", "V.b", "V.m", "q.C_f", "q.C_r", "q.I", "q.V", "q.a", "q.b", "q.m",
	"C.F_b", "C.F_r", "C.v", "F.n", "F.q", "F.r_d", "F_spring.F", "F_spring.r", "F_stop.F", "F_stop.r_d",
	"F_z.F_bar", "F_z.F_bush", "F_z.F_ends", "F_z.F_gas", "F_z.F_stop", "F_z.g", "F_z.m_u", "K.C_f", "K.C_r",
	"K.F_f", "K.F_r", "K.a", "K.a_y", "K.b", "K.m", "L.y", "a.a_1", "a.a_2", "a.w_1", "a.w_2",
	"a.w_touch", "f.C_f", "f.C_r", "f.I", "f.V", "f.a", "f.b", "f.m", "g.g_links", "g.phi", "g.s_open",
	"g.s_rest", "g.x_rest", "j.p_1", "j.p_2", "k_w.F", "k_w.c", "k_w.k", "k_w.k_bush", "k_w.k_ends",
	"k_w.k_gas", "k_w.k_stop", "k_w.r", "m.g", "m.m_u", "m_s.S_1", "m_s.S_2", "m_s.S_3", "m_s.S_4", "m_s.g",
	"p.FL", "p.FR", "p.F_stop", "p.K_bar", "p.K_f", "p.K_r", "p.K_springs", "p.RL", "p.RR", "p.dF_f", "p.dF_r",
	"preload-error", "q.a", "q.a_y", "q.delta", "q.f_1", "q.f_2", "q.f_3", "q.f_4", "q.phi_l", "q.phi_r", "s.w",
	"s.w_open", "v.E", "v.m", "w_block.q", "w_closed.d_0", "w_closed.q", "w_firm.d_0", "w_firm.q", "w_hard.d_0",
	"w_hard.q", "w_open.d_0", "w_open.q", "w_rest.d", "w_rest.d_0", "w_rest.phi", "w_rest.theta", "w_rest.w_0",
	"w_rest.x", "w_rest.y", "w_rest.z", "w_solid.d_0", "w_solid.q", "w_touch.d_0", "w_touch.q", "x.L_0", "x.e",
	"x.s", "x.s_0", "x.x_1", "x.x_2", "x.z", "y.R", "zeta.C_f", "zeta.C_r", "zeta.I", "zeta.V", "zeta.a",
	"zeta.b", "zeta.m", "zeta.r_d",
}

// astray are the equations that move with an input their working does not lead to.
var astray = []string{
	"camber-steer", "compliance-steer", "towing-critical-speed", "towing-settling", "understeer-total", "weave-damping",
	"weave-frequency", "yaw-settling",
	"F_stop", "D", "V",
	"C", "F", "F_spring", "F_z", "H", "K", "L", "a", "f", "g", "h", "j", "k_w", "m", "m_s", "p", "q", "s", "v",
	"w_block", "w_closed", "w_firm", "w_hard", "w_open", "w_rest", "w_solid", "w_touch", "x", "y", "zeta",
}
