package jobfile

import (
	"slices"

	"trunnion/shop/quantity"
)

// Version is the version of the format that this program writes and the newest
// it reads. Later versions of job/1 add keys and never rename them.
const Version = "job/1"

var payload = anObject(
	may("name", "what it is", someText),
	must("mass", "added; negative when it is taken out", chosen(quantity.Mass)),
	must("behind_front_axle", "where it sits, behind the front axle", chosen(quantity.Length)),
	may("left", "where it sits, left of the middle of the car; negative to the right", chosen(quantity.Length)),
	may("height", "of its centre over the ground as the car was weighed; as high as the car's own sprung mass where none is given", chosen(quantity.Length)),
)

func springRates() *shape {
	s := *springRate
	s.form = spread
	return &s
}

var springShape = aPart(
	may("rate", "at the spring; two ends of a range for a progressive spring: 25-38 N/mm", springRates()),
	may("rate_to", "firmer end of a progressive spring, reached at block", springRate),
	may("free", "length without load", freeLength),
	may("block", "length with its coils touching", blockLength),
	may("drop", "how far it is said to lower the car, when its length is not known", dropLength),
	may("deflection", "from free, of a measured table; with force", rowOf(quantity.Length, 2)),
	may("force", "at each deflection", rowOf(quantity.Force, 2)),
	may("scale", "factor on the table's force, 1 as typed, with its band", tableScale),
	may("wire", "diameter of the wire, when no rate is known", wireDiameter),
	may("mean_diameter", "of the coil, to the middle of the wire", coilDiameter),
	may("active_coils", "turns that work", turnsOfCoil),
	may("inside", "diameter at its ends, which has to fit the seats", chosen(quantity.Length)),
	may("price", "of one, with its currency, kept as typed", &shape{form: value, kind: quantity.Price}),
)

var curveShape = anObject(
	may("click", "counted from closed: 0 is closed", aCount),
	must("speed", "of the rod", rowOf(quantity.SpeedDamper, 1)),
	must("bump", "force at each speed, gas and friction removed", rowOf(quantity.Force, 1)),
	must("rebound", "force at each speed, positive, gas and friction removed", rowOf(quantity.Force, 1)),
)

var damperShape = aPart(
	may("construction", "how it is built; inverted: the body slides and the thin inner rod carries the piston", oneOf("twin-tube", "single-tube", "single-tube-inverted")),
	may("open", "mount to mount, fully open", damperLength),
	may("closed", "mount to mount, metal to metal", damperLength),
	may("serial", "as stamped on it", someText),
	may("rod_showing_open", "seal to stop seat, fully open", damperLength),
	may("rod", "diameter of the rod that enters the gas; the inner rod of an inverted strut", diameter),
	may("body", "diameter of the outer tube, or of the sliding body of an inverted strut", diameter),
	may("piston", "diameter", diameter),
	may("guide", "what holds the rod, or the sliding body, of a strut sideways", guideShape),
	may("gas", "what pushes the rod out", anObject(
		may("force", "push-out where it was read", gasForce),
		may("rate", "its increase with damper travel", gasRate),
		may("pressure", "where it was read, over the atmosphere unless pressure_is says otherwise", gasPressure),
		may("volume", "of the gas where it was read", gasVolume),
		may("exponent", "polytropic, of a charge given by pressure and volume: 1 slow to 1.4 quick, 1.25 where none is given", gasExponent),
		may("read_at", "how the damper stood when force, pressure and volume were read: ride-height, the wheel at travel zero, where nothing is said; or fully open", oneOf("ride-height", "open")),
		may("pressure_is", "gauge, over the atmosphere, where nothing is said; or absolute", oneOf("gauge", "absolute")),
	)),
	may("worn", "the damper has had its life: an estimate of its curve is lowered", yesNo),
	may("clicks", "from closed to open; 0 is closed and the highest the softest", aCount),
	may("curves", "force over speed, one per measured click", byID(curveShape)),
	may("origin", "of the curves", tableOrigin),
	may("swept", "what the curves were read from and when, in words", someText),
	may("scale", "factor on all curve forces, 1 as typed, with its band", tableScale),
	may("price", "of one, with its currency, kept as typed", &shape{form: value, kind: quantity.Price}),
	may("top_out", "spring that ends droop; metal without one", anObject(
		must("crush", "", rowOf(quantity.Length, 2)),
		must("force", "at each crush", rowOf(quantity.Force, 2)),
	)),
)

var stopShape = aPart(
	may("length", "free", stopLength),
	may("type", "what it is, for what is not measured: foam, a straight body of cellular urethane, also where nothing is said; soft-foam and firm-foam, the same, lighter or denser; tapered-foam, narrower towards its tip; grooved-foam, with grooves round it; rubber, a solid block. A table wins over it", oneOf("foam", "soft-foam", "firm-foam", "tapered-foam", "grooved-foam", "rubber")),
	may("crush", "of the measured table", rowOf(quantity.Length, 2)),
	may("force", "at each crush, pressed slowly", rowOf(quantity.Force, 2)),
	may("origin", "of the table", tableOrigin),
	may("scale", "factor on the table's force, 1 as typed, with its band", tableScale),
	may("loss", "share of the work that does not come back", stopLoss),
	may("dynamic", "stiffening under quick loading", stopDynamic),
	may("price", "of one, with its currency, kept as typed", &shape{form: value, kind: quantity.Price}),
)

var mountShape = aPart(
	may("type", "rubber, one body that damper and stop push through; double-path, bonded, with a way of its own for spring and stop; spherical, a joint of metal", oneOf("rubber", "double-path", "spherical")),
	may("stiffness", "along the strut; rigid when not given", mountRate),
	may("carries_spring", "the spring stands on it too", yesNo),
	may("rated", "range of force that it bears a million times; like its corner's load where none is given", mountRated),
	may("slope", "of its line of force over cycles above the rated range; usual for its kind where none is given", mountSlope),
	may("below", "what ranges below the rated one do to it: count by a second slope of 2 m - 1, count by the same, or never count", oneOf("haibach", "same", "none")),
)

var tyreShape = aPart(
	may("size", "as on the sidewall: 205/55 R16 91V, XL behind it where it is reinforced", someText),
	may("diameter", "outer, without load, where it was measured or its maker says", tyreDiameter),
	may("loaded_radius", "hub to ground under loaded_at, at the pressure beside it", loadedRadius),
	may("loaded_at", "the load of loaded_radius; the mean of the car's corners where none is given", addedMass),
	may("rate", "vertical, at the pressure beside it", tyreRate),
	may("pressure", "cold, at which rate and loaded_radius hold; what the tyre is set to stands under setup", tyrePressure),
	may("mass", "without wheel", rollingMass),
	may("section", "width on its rim, bulge in", sectionWidth),
	may("circumference", "rolled in one turn", circumference),
	may("cornering_stiffness", "side force per slip angle of one tyre, at the car's load with nobody aboard", cornering),
)

var wheelShape = aPart(
	may("width", "of the rim, between the beads", chosen(quantity.Length)),
	may("diameter", "of the rim", chosen(quantity.Length)),
	may("offset", "of the mounting face, outward of the middle of the rim; less what a spacer is thick", wheelOffset),
	may("mass", "without tyre", rollingMass),
)

var platformShape = aPart(
	must("type", "seat: the collar sets height and preload; body: the length of the body sets height", oneOf("seat", "body")),
	may("thread", "travel per turn", chosen(quantity.ThreadPitch)),
	may("hand", "of the thread", oneOf("right", "left")),
	may("up", "usable range upward from the start mark", chosen(quantity.Length)),
	may("down", "usable range downward from the start mark", chosen(quantity.Length)),
	may("engaged", "thread in engagement at the start mark; a body that is screwed longer loses of it", chosen(quantity.Length)),
	may("least_engaged", "thread that has to stay in engagement", chosen(quantity.Length)),
	may("flats", "of the collar; the smallest turn that is asked for is one of them", aCount),
	may("from", "what the position is measured from", someText),
)

// motionTable are the readings of one motion table.
var motionTable = []key{
	may("wheel", "travel from the zero height, bump positive", rowOf(quantity.Length, 2)),
	may("spring", "travel at each wheel travel", rowOf(quantity.Length, 2)),
	may("damper", "travel at each wheel travel", rowOf(quantity.Length, 2)),
	may("reading", "band of every reading of the table", readingBand),
}

var carSide = anObject(
	may("motion", "a table of readings taken on this side; a part that it does not have moves as the axle's table says", anObject(motionTable...)),
)

var carAxle = anObject(
	may("type", "of suspension", oneOf("strut", "wishbone", "multilink", "trailing-arm", "twist-beam", "live-axle")),
	may("motion", "how far spring and damper move with the wheel: a table of readings, or three lengths taped along the arm", anObject(append(slices.Clone(motionTable),
		may("pivot_to_spring", "taped along the arm, from its inner pivot", tapeLength),
		may("pivot_to_damper", "taped along the arm, from its inner pivot", tapeLength),
		may("pivot_to_joint", "taped along the arm, from its inner pivot to the outer joint", tapeLength),
	)...)),
	may("left", "what was measured on the left side alone", carSide),
	may("right", "what was measured on the right side alone", carSide),
	may("hardpoints", "where the links of its left side are, with the wheel at the zero height", hardpointsShape),
	may("tyre_rate", "of one tyre, vertical", tyreRate),
	may("tyre", "what the rate can be estimated from", anObject(
		may("width", "of the section, as on the sidewall", sectionWidth),
		may("aspect", "height of the section over its width", chosen(quantity.Share)),
		may("rim", "diameter", chosen(quantity.Length)),
		may("pressure", "cold", tyrePressure),
	)),
	may("clearance", "room round the tyre as the car was weighed", anObject(
		may("lip", "how far inside the lip of the arch its side stands, wheels straight, at the zero height", roomRound),
		may("strut", "least between tyre or rim and strut, spring seat or arm", roomRound),
		may("liner", "least between tread and liner, at full lock where it steers", roomRound),
		may("lock", "angle of the wheel at full lock", lockAngle),
	)),
	may("cornering_stiffness", "side force per slip angle of one tyre, at its load with nobody aboard", cornering),
	may("compliance_steer", "how far the axle steers out of the bend by its bushes per side force on it, as read on a rig; negative into the bend", compliance),
	may("lift_area", "aerodynamic lift coefficient times area on this axle; negative presses down", liftArea),
	may("bush_rate", "of the rubber bushes, at the wheel", bushRate),
	may("bar", "anti-roll bar", anObject(
		may("rate", "force at one drop link per travel of it against the other", barRate),
		may("link_ratio", "drop-link travel over wheel travel", linkRatio),
		may("diameter", "of the bar, when no rate is known", wireDiameter),
		may("bore", "of a hollow bar", wireDiameter),
		may("length", "of the twisted part", planLength),
		may("arm", "from the twisted part to the drop link, square to it", planLength),
		may("hole", "id of the hole in use as the car was weighed; what stands beside is true of it", anIdent),
		may("holes", "of an adjustable bar", byID(barHole)),
	)),
	may("limits", "wheel travel at which something else than damper and stop ends it; negative in droop", anObject(
		may("arch", "tyre meets the arch", endOfTravel),
		may("ground", "lowest point meets the ground", endOfTravel),
		may("hose", "brake hose is taut, in droop", endOfTravel),
		may("shaft", "drive shaft is at its angle or length, in droop", endOfTravel),
		may("joint", "ball joint is at its angle, in droop", endOfTravel),
	)),
	may("maker_travel", "bump travel of the car as its maker built it", anObject(
		may("to_touch", "of the stop", endOfTravel),
		may("to_solid", "of the stop", endOfTravel),
	)),
)

var weighedShape = anObject(
	must("build", "id of the build that was fitted", anIdent),
	may("state", "load, fuel, pressures, clicks, in words", someText),
	may("bars", "drop links while weighing", onOff),
	may("settled", "rolled and bounced before reading", yesNo),
	may("aboard", "who and what was in the car on the scales and is no part of it: taken off at its place before anything is computed; loads and heights are as they were read, with it aboard", listOf(payload)),
	may("load", "at each tyre", corners(scaleReading)),
	may("arch_height", "hub to arch", corners(archHeight)),
	may("spring_length", "seat to seat, as the car stood on the scales: collars and bodies where the build that was weighed has them, at their start marks where it says nothing", corners(seatLength)),
	may("damper_length", "mount to mount", corners(lengthOnCar)),
	may("rod_showing", "seal to stop seat", corners(lengthOnCar)),
)

var carShape = anObject(
	may("name", "", someText),
	may("plate", "", someText),
	may("kerb_mass", "ready to drive, nobody in it", kerbMass),
	may("front_share", "of the kerb mass on the front axle", frontShare),
	may("tank", "volume", chosen(quantity.Volume)),
	may("overall_height", "", planLength),
	may("top_speed", "up to which steadiness is looked at", roadSpeed),
	may("brake_share", "of the braking force on the front axle", forceShare),
	may("drive_share", "of the driving force on the front axle: 1 with front-wheel drive", chosen(quantity.Share)),
	may("speedometer", "how much more it shows than is driven, on the tyres as weighed", readsMore),
	must("wheelbase", "", planLength),
	must("track", "middle to middle of the tyres", axles(planLength)),
	may("zero_height", "hub-to-arch height at which wheel travel is counted from", axles(chosen(quantity.Length))),
	may("unsprung", "mass that moves with one wheel", axles(unsprungMass)),
	may("unsprung_height", "of the centre of that mass over the ground; 310 ± 20 mm in bends where none is given", axles(hubHeight)),
	may("cg_height", "of the sprung mass over the ground", heightOver),
	may("roll_centre", "over the ground", axles(heightOver)),
	may("inertia", "of the sprung mass about its centre", anObject(
		may("roll", "", inertiaOf),
		may("pitch", "", inertiaOf),
	)),
	must("weighed", "the one state in which the car was measured", weighedShape),
	must("front", "front axle, whatever is fitted", carAxle),
	must("rear", "rear axle, whatever is fitted", carAxle),
)

// buildCorner are the keys of a build that both sides of an axle may have each of
// their own.
var buildCorner = []key{
	may("spring", "", springShape),
	may("helper", "second spring, stacked on the first; none takes the one that was on the car out", springShape),
	may("damper", "", damperShape),
	may("stop", "bump stop; none takes it out", stopShape),
	may("packer", "rigid spacer that brings the stop in earlier", packerLength),
	may("mount", "top mount; none takes it out", mountShape),
	may("tyre", "what stands on the road", tyreShape),
	may("wheel", "what the tyre is on", wheelShape),
	may("platform", "adjuster of spring seat or body length; none takes it out; one on a damper's body goes with that damper", platformShape),
	may("seats_closer", "how much nearer the spring seats stand than those measured, platform at its start mark", fittedCloser),
	may("mounts_closer", "how much nearer the damper's mounts stand than those measured", fittedCloser),
	may("friction", "at the wheel", frictionForce),
	may("tyre_rate", "of this build's tyres", tyreRate),
	may("unsprung_more", "added to one wheel by this build's brakes, and by its wheels and tyres where their masses are not given", addedMass),
	may("bushes", "bolts tightened where the build rests with nobody aboard, or left as they were", oneOf("rest", "as-weighed")),
}

var oneSide = anObject(buildCorner...)

var buildAxle = anObject(append(slices.Clone(buildCorner),
	may("serials", "of the dampers fitted here, left and right", anObject(may("left", "", someText), may("right", "", someText))),
	may("left", "what the left side has of its own; what it does not name is the axle's", oneSide),
	may("right", "what the right side has of its own; what it does not name is the axle's", oneSide),
)...)

var buildShape = anObject(
	may("name", "", someText),
	may("note", "", someText),
	may("price", "with its currency, kept as typed", &shape{form: value, kind: quantity.Price}),
	may("hours", "of work", chosen(quantity.Time)),
	may("mass", "added or taken out for good", listOf(payload)),
	may("front", "parts of the front axle; what is not named stays, part by part, as it was on the car", buildAxle),
	may("rear", "parts of the rear axle; what is not named stays, part by part, as it was on the car", buildAxle),
	may("setup", "how it is set", anObject(
		may("platform", "raised from the start mark", corners(chosen(quantity.Length))),
		may("body_length", "body screwed longer than its start mark", corners(chosen(quantity.Length))),
		may("heights", "wanted, hub to arch with nobody aboard", corners(chosen(quantity.Length))),
		may("click", "counted from closed, of an axle or of a corner; what a corner does not name is its axle's", axlesOrCorners(aCount)),
		may("pressures", "of the tyres, in words; read where they are a pressure, or two, front and rear: 2.3 / 2.7 bar", someText),
		may("pressure", "the tyres are set to, cold, of an axle or of a corner; what a corner does not name is its axle's", axlesOrCorners(chosen(quantity.Pressure))),
		may("bar_hole", "of an adjustable bar: id of one of its holes; that in use as weighed without it", axles(someText)),
		may("bars", "drop links", onOff),
	)),
	may("readings", "taken after fitting", anObject(
		may("state", "id of the load state; as weighed when none is named", anIdent),
		may("bars", "drop links", onOff),
		may("load", "at each tyre", corners(scaleReading)),
		may("arch_height", "hub to arch", corners(archHeight)),
		may("platform", "as the platforms stood when this was read, where anything was turned since; what is not named here was at its start mark", corners(chosen(quantity.Length))),
		may("body_length", "as the bodies stood when this was read, where anything was turned since", corners(chosen(quantity.Length))),
		may("heights", "as they were wanted when this was read, where anything was turned since", corners(chosen(quantity.Length))),
		may("seats_closer", "as the seats stood when this was read, where anything was turned since", corners(chosen(quantity.Length))),
	)),
)

var loadShape = anObject(
	may("name", "", someText),
	may("with", "id of the load state that this one adds to", anIdent),
	may("items", "who and what sits where", listOf(payload)),
	may("trailer", "a caravan or trailer that is towed", anObject(
		must("mass", "loaded, coupling load in", addedMass),
		may("coupling_load", "what it puts on the coupling, weighed", addedMass),
		must("behind_front_axle", "where the coupling is, behind the car's front axle", planLength),
		must("to_axle", "coupling to the middle of its axles", planLength),
		may("body_length", "of its body, drawbar left out; yaw inertia is estimated from it", planLength),
		may("yaw_inertia", "about its centre of gravity", inertiaOf),
		may("cornering_stiffness", "side force per slip angle of one of its tyres, at its load", cornering),
		may("tyres", "in all; 2 where nothing is said", aCount),
		may("speed", "at which it is towed", chosen(quantity.SpeedRoad)),
	)),
)

var briefShape = anObject(
	may("reference", "id of the build that the others are compared with", anIdent),
	may("usual_load", "id of the load state of ordinary driving", anIdent),
	may("uses", "share of each in the car's life", byID(chosen(quantity.Share))),
	may("roads", "", listOf(anObject(
		must("road", "", someText),
		must("speeds", "", rowOf(quantity.SpeedRoad, 1)),
		may("load", "id of the load state", anIdent),
	)).upTo(mostDriven)),
	may("events", "", listOf(anObject(
		must("event", "", oneOf("pothole", "round-hump", "flat-hump", "kerb", "joint", "crest", "dip")),
		may("depth", "below the road", chosen(quantity.Length)),
		may("height", "over the road", chosen(quantity.Length)),
		may("length", "along the road", chosen(quantity.Distance)),
		must("speed", "", chosen(quantity.SpeedRoad)),
		may("load", "id of the load state", anIdent),
	)).upTo(mostDriven)),
	may("limits", "that the workshop chose", anObject(
		may("bump_left", "at the wheel to the touch of the stop, in the usual load state", chosen(quantity.Length)),
		may("bump_left_laden", "at the wheel to the touch of the stop, in every other load state", chosen(quantity.Length)),
		may("firm_left", "at the wheel until the stop carries half the static corner load", chosen(quantity.Length)),
		may("droop_left", "at the wheel until the damper is fully open", chosen(quantity.Length)),
		may("spring_loose", "of the spring in its seats with the damper fully open", chosen(quantity.Length)),
		may("block_left", "at the spring until its coils touch, with the stop solid", chosen(quantity.Length)),
		may("stop_force", "over the events of the brief, along the damper; 0.7 of the corner's load at rest where none is given", chosen(quantity.Force)),
		may("stop_hit", "force along the damper from which a hit on the stop counts on the brief's roads; a quarter of the car's mean corner load where none is given", chosen(quantity.Force)),
		may("arch_left", "at the wheel between the solid stop and the arch; 5 mm where none is given", chosen(quantity.Length)),
		may("cross_off", "share of the weight that a diagonal may be off half, in the usual load state; 2 % where none is given", chosen(quantity.Share)),
		may("side_to_side", "how much lower one side of an axle may stand, hub to arch, in the usual load state; 10 mm where none is given", chosen(quantity.Length)),
		may("rake", "how far a build may be pitched from the baseline, either way, in the usual load state; 1 %, 0.57 deg, where none is given", chosen(quantity.Angle)),
	)),
)

var jobShape = anObject(
	must("trunnion", "version of the format: "+Version, someText),
	may("job", "whose job it is", anObject(
		may("number", "", someText),
		may("date", "", someText),
		may("workshop", "", someText),
		may("by", "who measured", someText),
		may("owner", "", someText),
		may("words", "what the owner wants, in the owner's words", someText),
	)),
	must("car", "the car as measured", carShape),
	may("parts", "each by its id", anObject(
		may("springs", "", byID(springShape).upTo(mostParts)),
		may("dampers", "", byID(damperShape).upTo(mostParts)),
		may("stops", "", byID(stopShape).upTo(mostParts)),
		may("mounts", "", byID(mountShape).upTo(mostParts)),
		may("platforms", "", byID(platformShape).upTo(mostParts)),
		may("tyres", "", byID(tyreShape).upTo(mostParts)),
		may("wheels", "", byID(wheelShape).upTo(mostParts)),
	)),
	must("builds", "what is compared, in the order in which it is shown", byID(buildShape).upTo(mostBuilds)),
	may("loads", "load states, in the order in which they are shown", byID(loadShape).upTo(mostLoads)),
	may("brief", "what the car is for", briefShape),
	may("handover", "what is said when the car leaves", handoverShape),
)
