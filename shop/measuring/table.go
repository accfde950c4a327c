package measuring

// Groups are the pieces of the work, in its order: what is read on the scales, with the
// tape, on the lift and on the bench; then what is looked up or chosen.
func Groups() []Group {
	return []Group{
		{ID: "scales", Title: "Scales"},
		{ID: "tape", Title: "Tape, on its wheels"},
		{ID: "lift", Title: "On the lift", Note: "Stands under firm points before anyone reaches under. A fitted spring stores energy: the right compressor, face and hands out of its line."},
		{ID: "bench", Title: "On the bench", Note: "A gas damper pushes its rod out: let it come slowly, and never open, drill or heat it."},
		{ID: "lookup", Title: "Handbook and estimates"},
		{ID: "points", Title: "Points of the linkage"},
		{ID: "job", Title: "The job"},
		{ID: "fitted", Title: "As fitted"},
		{ID: "set", Title: "Setup and readings"},
		{ID: "brief", Title: "Brief"},
		{ID: "handover", Title: "Handover"},
	}
}

// How a car stands while it is read.
const (
	onWheels = "on its wheels"
	hanging  = "wheels hanging"
	springs  = "on the lift, spring out"
	offCar   = "off the car"
)

// table is where every key of the job file stands, in the order of work.
var table = []entry{
	{
		Card: Card{
			ID: "corner-load", Page: "car", Group: "scales", Title: "Corner load", Tool: "four scales", Stands: onWheels, Drawing: "corner-load",
			How: "Scales level within 3 mm. Roll on, bounce, let it settle, read all four.", For: "Wheel rates, heights, balance: everything.",
			Watch: "Handbrake on or a door held open shifts 5 kg and more.",
		},
		keys: []label{{"car.weighed.load.{corner}", ""}},
	},
	{
		Card: Card{
			ID: "weighed-state", Page: "car", Group: "scales", Title: "State when weighed", Tool: "eyes, gauge", Stands: onWheels, Drawing: "state",
			How: "As it stood on the scales: fuel, pressures, clicks, who sat in it.", For: "Which load the readings belong to.",
			Watch: "Tank and driver forgotten: up to 120 kg.",
		},
		keys: []label{
			{"car.weighed.state", "Load, fuel, pressures, clicks"},
			{"car.weighed.bars", "Anti-roll bars"},
			{"car.weighed.settled", "Rolled and bounced"},
			{"car.weighed.build", "Build that was on it"},
			{"car.weighed.aboard[].name", "Aboard"},
			{"car.weighed.aboard[].mass", "Mass"},
			{"car.weighed.aboard[].behind_front_axle", "Behind the front axle"},
			{"car.weighed.aboard[].left", "Left of the middle"},
			{"car.weighed.aboard[].height", "Height of its centre"},
		},
	},
	{
		Card: Card{
			ID: "arch-height", Page: "car", Group: "tape", Title: "Hub to arch", Tool: "tape", Stands: onWheels, Drawing: "arch-height",
			How: "Wheel centre straight up to the lower edge of the arch.", For: "Zero of all travel.", Watch: "A slanted tape reads 2 to 4 mm long.",
		},
		keys: []label{{"car.weighed.arch_height.{corner}", ""}},
	},
	{
		Card: Card{
			ID: "rod-showing", Page: "car", Group: "tape", Title: "Rod showing", Tool: "ruler", Stands: onWheels, Drawing: "rod-showing",
			How: "Lift the boot. Seal of the body up to the seat of the stop.", For: "Bump travel to the stop, rebound travel.",
			Watch: "The edge of a dust cap read for the seal.",
		},
		keys: []label{{"car.weighed.rod_showing.{corner}", ""}},
	},
	{
		Card: Card{
			ID: "damper-length", Page: "car", Group: "tape", Title: "Damper between its mounts", Tool: "tape", Stands: onWheels, Drawing: "damper-length",
			How: "Bolt centre to bolt centre, along the damper.", For: "Travel to fully open and fully closed.", Watch: "Tape held upright: measure along the damper.",
		},
		keys: []label{{"car.weighed.damper_length.{corner}", ""}},
	},
	{
		Card: Card{
			ID: "spring-length", Page: "car", Group: "tape", Title: "Spring, seat to seat", Tool: "tape or calliper", Stands: onWheels, Drawing: "spring-length",
			How: "Inside face to inside face of the metal seats.", For: "Spring load; height with another spring.", Watch: "Rubber seats counted in: read the metal.",
		},
		keys: []label{{"car.weighed.spring_length.{corner}", ""}},
	},
	{
		Card: Card{
			ID: "track", Page: "car", Group: "tape", Title: "Wheelbase and track", Tool: "tape", Stands: onWheels, Drawing: "track",
			How: "Hub to hub along the car; middle to middle of the tyres across it.", For: "Load transfer, pitch and roll.", Watch: "Front wheels not straight.",
		},
		keys: []label{{"car.wheelbase", "Wheelbase"}, {"car.track.{axle}", "Track"}, {"car.overall_height", "Overall height"}, {"car.zero_height.{axle}", "Height that travel is counted from"}},
	},
	{
		Card: Card{
			ID: "bar", Page: "car", Group: "tape", Title: "Anti-roll bar", Tool: "calliper, tape", Stands: onWheels, Drawing: "bar",
			How: "Diameter at a clean place; length of the straight part; arm square to it, to the drop link.", For: "Roll, twist, one-wheel bumps.",
			Watch: "Paint counts: 0.2 mm of it is 3 % of rate.",
		},
		keys: []label{
			{"car.{axle}.bar.diameter", "Diameter"},
			{"car.{axle}.bar.bore", "Bore, if hollow"},
			{"car.{axle}.bar.length", "Length"},
			{"car.{axle}.bar.arm", "Arm"},
			{"car.{axle}.bar.link_ratio", "Drop-link travel over wheel travel"},
			{"car.{axle}.bar.rate", "Rate at a drop link"},
			{"car.{axle}.bar.hole", "Hole in use"},
			{"car.{axle}.bar.holes.*.arm", "Arm at the hole"},
			{"car.{axle}.bar.holes.*.link_ratio", "Link ratio at the hole"},
			{"car.{axle}.bar.holes.*.rate", "Rate at the hole"},
		},
	},
	{
		Card: Card{
			ID: "sidewall", Page: "car", Group: "tape", Title: "Tyre on the car", Tool: "eyes, gauge", Stands: onWheels, Drawing: "sidewall",
			How: "Read the sidewall: width, height share, rim. Pressure cold.", For: "Tyre rate, hub height.", Watch: "Pressure read warm: 0.2 to 0.3 bar high.",
		},
		keys: []label{
			{"car.{axle}.tyre.width", "Width"},
			{"car.{axle}.tyre.aspect", "Height over width"},
			{"car.{axle}.tyre.rim", "Rim"},
			{"car.{axle}.tyre.pressure", "Pressure, cold"},
			{"car.{axle}.tyre_rate", "Vertical rate of one"},
		},
	},
	{
		Card: Card{
			ID: "clearance", Page: "car", Group: "tape", Title: "Room round the tyre", Tool: "ruler, feeler", Stands: onWheels, Drawing: "clearance",
			How: "Lip of the arch to the side of the tyre; least gap to strut or arm; tread to liner at full lock.", For: "Which tyre and wheel fit.",
			Watch: "Read straight only: the liner is met at full lock.",
		},
		keys: []label{
			{"car.{axle}.clearance.lip", "Inside the lip"}, {"car.{axle}.clearance.strut", "To strut or arm"}, {"car.{axle}.clearance.liner", "Tread to liner"}, {"car.{axle}.clearance.lock", "Angle at full lock"},
		},
	},
	{
		Card: Card{
			ID: "suspension", Page: "car", Group: "lift", Title: "Suspension, and lengths along the arm", Tool: "tape", Stands: hanging, Drawing: "arm",
			How: "Along the arm from its inner pivot: to the spring, to the damper, to the outer joint.", For: "Motion ratio, until a table is measured.",
			Watch: "An arm that is not seen square: measure along it.",
		},
		keys: []label{
			{"car.{axle}.type", "Suspension"},
			{"car.{axle}.motion.pivot_to_spring", "Pivot to spring"},
			{"car.{axle}.motion.pivot_to_damper", "Pivot to damper"},
			{"car.{axle}.motion.pivot_to_joint", "Pivot to outer joint"},
		},
		time: "car.front.motion.pivot_to_spring",
	},
	{
		Card: Card{
			ID: "motion", Page: "car", Group: "lift", Title: "Wheel travel against damper and spring travel", Tool: "jack, tape", Stands: springs, Drawing: "motion",
			How: "Spring out. Jack the hub through its travel in steps of 20 to 30 mm; at each read hub to arch and the damper's length.", For: "Motion ratio over the whole travel.",
			Watch: "Spring in or bar on: the arm twists the reading.",
		},
		keys: []label{
			{"car.{axle}.motion.wheel", "Wheel, bump positive"},
			{"car.{axle}.motion.damper", "Damper"},
			{"car.{axle}.motion.spring", "Spring"},
			{"car.{axle}.motion.reading", "Band of a reading"},
			{"car.{axle}.{side}.motion.wheel", "Wheel, bump positive"},
			{"car.{axle}.{side}.motion.damper", "Damper"},
			{"car.{axle}.{side}.motion.spring", "Spring"},
			{"car.{axle}.{side}.motion.reading", "Band of a reading"},
		},
		tables: [][]string{
			{"car.{axle}.motion.wheel", "car.{axle}.motion.damper", "car.{axle}.motion.spring"},
			{"car.{axle}.{side}.motion.wheel", "car.{axle}.{side}.motion.damper", "car.{axle}.{side}.motion.spring"},
		},
	},
	{
		Card: Card{
			ID: "limits", Page: "car", Group: "lift", Title: "What else ends the travel", Tool: "jack, tape", Stands: springs, Drawing: "limits",
			How: "Jack until the tyre meets the arch; lower until hose, shaft or joint stops it. Hub to arch, less the height travel is counted from.", For: "Arch clearance, what hangs at full droop.",
			Watch: "Steering straight only: turn to full lock too. Droop is negative.",
		},
		keys: []label{
			{"car.{axle}.limits.arch", "Tyre meets the arch"},
			{"car.{axle}.limits.ground", "Lowest point meets the ground"},
			{"car.{axle}.limits.hose", "Brake hose taut, negative"},
			{"car.{axle}.limits.shaft", "Drive shaft, negative"},
			{"car.{axle}.limits.joint", "Ball joint, negative"},
		},
	},
	{
		Card: Card{
			ID: "unsprung", Page: "car", Group: "bench", Title: "Unsprung mass", Tool: "scales", Stands: offCar, Drawing: "unsprung",
			How: "Wheel, brake, carrier and half of arms and damper of one corner.", For: "Wheel hop, comfort.", Watch: "Half of a drive shaft belongs to it.",
		},
		keys: []label{{"car.unsprung.{axle}", "One wheel"}, {"car.unsprung_height.{axle}", "Height of its centre"}},
	},
	{
		Card: Card{
			ID: "car", Page: "car", Group: "lookup", Title: "The car", How: "Papers, handbook.", For: "What a load adds to, and what a year later finds it again.",
		},
		keys: []label{
			{"car.name", "Car"},
			{"car.plate", "Plate"},
			{"car.kerb_mass", "Kerb mass"},
			{"car.front_share", "Front share of it"},
			{"car.tank", "Tank"},
			{"car.top_speed", "Top speed"},
			{"car.speedometer", "Speedometer shows more by"},
			{"car.brake_share", "Braking force in front"},
			{"car.drive_share", "Driving force in front"},
		},
	},
	{
		Card: Card{
			ID: "body", Page: "car", Group: "lookup", Title: "Mass and where it sits", How: "A rig, the maker, or left to the estimate.", For: "Load transfer, pitch and roll.",
		},
		keys: []label{
			{"car.cg_height", "Centre of gravity, sprung"}, {"car.roll_centre.{axle}", "Roll centre"}, {"car.inertia.roll", "Roll inertia"}, {"car.inertia.pitch", "Pitch inertia"},
		},
	},
	{
		Card: Card{
			ID: "axle", Page: "car", Group: "lookup", Title: "Axles", How: "A rig, the maker, or left to the estimate.", For: "Understeer, friction at rest, lift.",
		},
		keys: []label{
			{"car.{axle}.bush_rate", "Bushes at the wheel"},
			{"car.{axle}.cornering_stiffness", "Cornering stiffness of a tyre"},
			{"car.{axle}.compliance_steer", "Compliance steer"},
			{"car.{axle}.lift_area", "Lift area"},
			{"car.{axle}.maker_travel.to_touch", "Maker's travel to the stop's touch"},
			{"car.{axle}.maker_travel.to_solid", "Maker's travel to the solid stop"},
		},
	},
	{
		Card: Card{
			ID: "points", Page: "car", Group: "points", Title: "Points", Tool: "plumb line, tape", Stands: hanging, Drawing: "points",
			How: "Forward of the front axle, left of the middle, over the ground: three figures a point, with the wheel at the height that travel is counted from. Left side.",
			For: "Motion ratio, camber, toe and roll centre over the whole travel.", Watch: "Behind the front axle is negative.",
		},
		keys: []label{
			{"car.{axle}.hardpoints.wheel_centre", "Wheel centre"},
			{"car.{axle}.hardpoints.wheel_radius", "Wheel centre to ground"},
			{"car.{axle}.hardpoints.camber", "Camber"},
			{"car.{axle}.hardpoints.toe", "Toe of one wheel"},
			{"car.{axle}.hardpoints.strut.top", "Strut, top mount"},
			{"car.{axle}.hardpoints.strut.low", "Strut, lower on its axis"},
			{"car.{axle}.hardpoints.pivots.inner", "Inner pivot"},
			{"car.{axle}.hardpoints.pivots.outer", "Outer pivot"},
			{"car.{axle}.hardpoints.spring.top", "Spring, top"},
			{"car.{axle}.hardpoints.spring.low", "Spring, low end"},
			{"car.{axle}.hardpoints.spring.on", "Spring stands on"},
			{"car.{axle}.hardpoints.damper.top", "Damper, top"},
			{"car.{axle}.hardpoints.damper.low", "Damper, low end"},
			{"car.{axle}.hardpoints.damper.on", "Damper stands on"},
			{"car.{axle}.hardpoints.drop_link.low", "Drop link, low end"},
			{"car.{axle}.hardpoints.drop_link.end", "Drop link, on the bar"},
			{"car.{axle}.hardpoints.drop_link.axis", "Bar's axis, a point"},
			{"car.{axle}.hardpoints.drop_link.axis_end", "Bar's axis, another"},
			{"car.{axle}.hardpoints.drop_link.on", "Drop link stands on"},
			{"car.{axle}.hardpoints.arms.*.front_pivot", "Front pivot"},
			{"car.{axle}.hardpoints.arms.*.rear_pivot", "Rear pivot"},
			{"car.{axle}.hardpoints.arms.*.ball_joint", "Ball joint"},
			{"car.{axle}.hardpoints.rods.*.inner", "Inner end"},
			{"car.{axle}.hardpoints.rods.*.outer", "Outer end"},
			{"car.{axle}.hardpoints.rods.*.inner_on", "Inner end stands on"},
			{"car.{axle}.hardpoints.rods.*.steered", "Steered"},
			{"car.{axle}.hardpoints.rods.*.length", "Length"},
		},
	},
	{
		Card: Card{ID: "job", Page: "car", Group: "job", Title: "The job"},
		keys: []label{
			{"job.number", "Number"}, {"job.date", "Date"}, {"job.workshop", "Workshop"}, {"job.by", "Measured by"}, {"job.owner", "Owner"},
		},
	},

	{
		Card: Card{
			ID: "spring", Page: "parts", Group: "bench", Title: "Spring", Tool: "press or calliper, tape", Stands: offCar, Drawing: "spring",
			How: "Free length standing loose. Rate on a press; without one, wire, mean diameter and turns that work.", For: "Wheel rate, height, preload at full droop.",
			Watch: "Closed end coils counted as working turns.",
		},
		keys: []label{
			{"parts.springs.*.rate", "Rate"},
			{"parts.springs.*.rate_to", "Firmer end of a progressive one"},
			{"parts.springs.*.free", "Free length"},
			{"parts.springs.*.block", "Length with coils touching"},
			{"parts.springs.*.drop", "Said to lower by"},
			{"parts.springs.*.wire", "Wire"},
			{"parts.springs.*.mean_diameter", "Mean diameter of the coil"},
			{"parts.springs.*.active_coils", "Working turns"},
			{"parts.springs.*.inside", "Inside diameter at its ends"},
			{"parts.springs.*.price", "Price of one"},
			{"parts.springs.*.deflection", "Table: pressed by"},
			{"parts.springs.*.force", "Table: force"},
			{"parts.springs.*.scale", "Factor on the table"},
			{"parts.springs.*.use", "The same as"},
		},
		tables: [][]string{{"parts.springs.*.deflection", "parts.springs.*.force"}},
	},
	{
		Card: Card{
			ID: "damper", Page: "parts", Group: "bench", Title: "Damper", Tool: "tape, calliper", Stands: offCar, Drawing: "damper",
			How: "Mount to mount: pulled fully open, then pushed in until metal meets metal. Open, seal to stop seat.", For: "Stroke, rebound travel, where metal meets.",
			Watch: "Pushed in with the stop on: take it off first.",
		},
		keys: []label{
			{"parts.dampers.*.open", "Fully open"},
			{"parts.dampers.*.closed", "Closed on metal"},
			{"parts.dampers.*.rod_showing_open", "Rod showing, open"},
			{"parts.dampers.*.construction", "Construction"},
			{"parts.dampers.*.rod", "Rod"},
			{"parts.dampers.*.body", "Body"},
			{"parts.dampers.*.piston", "Piston"},
			{"parts.dampers.*.serial", "Serial"},
			{"parts.dampers.*.worn", "Worn"},
			{"parts.dampers.*.price", "Price of one"},
			{"parts.dampers.*.use", "The same as"},
		},
	},
	{
		Card: Card{
			ID: "clicks", Page: "parts", Group: "bench", Title: "Damper on the dyno", Tool: "dyno", Stands: offCar, Drawing: "dyno",
			How: "Force at each rod speed, one table a click, gas and friction taken off.", For: "Damping ratio, comfort, click map.", Watch: "A cold damper reads firm: three strokes first.",
		},
		keys: []label{
			{"parts.dampers.*.clicks", "Clicks from closed to open"},
			{"parts.dampers.*.swept", "Curves are read from"},
			{"parts.dampers.*.origin", "Tables are"},
			{"parts.dampers.*.scale", "Factor on the forces"},
			{"parts.dampers.*.curves.*.click", "Click from closed"},
			{"parts.dampers.*.curves.*.speed", "Rod speed"},
			{"parts.dampers.*.curves.*.bump", "Bump force"},
			{"parts.dampers.*.curves.*.rebound", "Rebound force"},
		},
		tables: [][]string{{"parts.dampers.*.curves.*.speed", "parts.dampers.*.curves.*.bump", "parts.dampers.*.curves.*.rebound"}},
	},
	{
		Card: Card{
			ID: "gas", Page: "parts", Group: "bench", Title: "Gas, guide and top-out", Tool: "spring balance", Stands: offCar, Drawing: "gas",
			How: "Push the rod halfway in and hold it still: the force that holds it.", For: "Ride height, friction, droop end.", Watch: "Friction: read it going in and coming out, and take the middle.",
		},
		keys: []label{
			{"parts.dampers.*.gas.force", "Gas force"},
			{"parts.dampers.*.gas.rate", "Gas rate"},
			{"parts.dampers.*.gas.pressure", "Gas pressure"},
			{"parts.dampers.*.gas.pressure_is", "Pressure is"},
			{"parts.dampers.*.gas.read_at", "Read at length"},
			{"parts.dampers.*.gas.volume", "Gas volume"},
			{"parts.dampers.*.gas.exponent", "Exponent"},
			{"parts.dampers.*.guide.from_top", "Top mount to guide"},
			{"parts.dampers.*.guide.apart", "Guide to piston"},
			{"parts.dampers.*.guide.length", "Guide length"},
			{"parts.dampers.*.guide.lower_length", "Piston band or lower bush"},
			{"parts.dampers.*.guide.bore", "Bore of the rod"},
			{"parts.dampers.*.guide.friction", "Friction, guide"},
			{"parts.dampers.*.guide.lower_friction", "Friction, piston"},
			{"parts.dampers.*.guide.yield", "Yield strength"},
			{"parts.dampers.*.top_out.crush", "Top-out: pressed by"},
			{"parts.dampers.*.top_out.force", "Top-out: force"},
		},
		tables: [][]string{{"parts.dampers.*.top_out.crush", "parts.dampers.*.top_out.force"}},
	},
	{
		Card: Card{
			ID: "stop", Page: "parts", Group: "bench", Title: "Bump stop", Tool: "ruler, press", Stands: offCar, Drawing: "stop",
			How: "Length standing free. On a press: force at each 5 mm, slowly, to solid.", For: "Where it touches, when it is firm, peak force.", Watch: "An old stop stays short: leave it ten minutes.",
		},
		keys: []label{
			{"parts.stops.*.length", "Free length"},
			{"parts.stops.*.type", "Type"},
			{"parts.stops.*.crush", "Table: pressed by"},
			{"parts.stops.*.force", "Table: force"},
			{"parts.stops.*.origin", "Table is"},
			{"parts.stops.*.scale", "Factor on the table"},
			{"parts.stops.*.loss", "Loss of work"},
			{"parts.stops.*.dynamic", "Firmer under quick loading"},
			{"parts.stops.*.price", "Price of one"},
			{"parts.stops.*.use", "The same as"},
		},
		tables: [][]string{{"parts.stops.*.crush", "parts.stops.*.force"}},
	},
	{
		Card: Card{ID: "mount", Page: "parts", Group: "bench", Title: "Top mount", For: "Strut bending, friction, harshness."},
		keys: []label{
			{"parts.mounts.*.type", "Type"}, {"parts.mounts.*.stiffness", "Stiffness along the strut"}, {"parts.mounts.*.rated", "Force range borne a million times"}, {"parts.mounts.*.slope", "Slope of its line of force over cycles"}, {"parts.mounts.*.below", "Ranges below it"}, {"parts.mounts.*.carries_spring", "Spring stands on it"}, {"parts.mounts.*.use", "The same as"},
		},
	},
	{
		Card: Card{
			ID: "platform", Page: "parts", Group: "bench", Title: "Platform", Tool: "ruler", Stands: offCar, Drawing: "platform",
			How: "Ten turns of the collar, travel over ten. Range up and down from the start mark.", For: "Turns to a height, thread left.", Watch: "A left-hand thread turns the other way.",
		},
		keys: []label{
			{"parts.platforms.*.type", "Type"},
			{"parts.platforms.*.thread", "Travel per turn"},
			{"parts.platforms.*.hand", "Hand of the thread"},
			{"parts.platforms.*.up", "Range up"},
			{"parts.platforms.*.down", "Range down"},
			{"parts.platforms.*.engaged", "Thread engaged"},
			{"parts.platforms.*.least_engaged", "Thread that must stay"},
			{"parts.platforms.*.flats", "Flats of the collar"},
			{"parts.platforms.*.from", "Measured from"},
			{"parts.platforms.*.use", "The same as"},
		},
	},
	{
		Card: Card{
			ID: "tyre", Page: "parts", Group: "bench", Title: "Tyre", Tool: "tape, scales, gauge", Stands: offCar, Drawing: "tyre",
			How: "Size from the sidewall. Roll one turn for the circumference; on the car, wheel centre to ground under its load.", For: "Tyre rate, hub height, clearance, gearing.",
			Watch: "Loaded radius without its load and pressure: type both.",
		},
		keys: []label{
			{"parts.tyres.*.size", "Size"},
			{"parts.tyres.*.diameter", "Diameter"},
			{"parts.tyres.*.loaded_radius", "Loaded radius"},
			{"parts.tyres.*.loaded_at", "Loaded radius: at load"},
			{"parts.tyres.*.rate", "Vertical rate"},
			{"parts.tyres.*.pressure", "Pressure, cold"},
			{"parts.tyres.*.mass", "Mass"},
			{"parts.tyres.*.section", "Section width"},
			{"parts.tyres.*.circumference", "Circumference"},
			{"parts.tyres.*.cornering_stiffness", "Cornering stiffness"},
			{"parts.tyres.*.use", "The same as"},
		},
	},
	{
		Card: Card{
			ID: "wheel", Page: "parts", Group: "bench", Title: "Wheel", Tool: "straight edge, scales", Stands: offCar, Drawing: "wheel",
			How: "Bead seat to bead seat for width; mounting face against the middle of that width for offset.", For: "Track, clearance, unsprung mass.",
			Watch: "Width over the outside of the flanges reads 20 to 25 mm more.",
		},
		keys: []label{
			{"parts.wheels.*.width", "Width"}, {"parts.wheels.*.diameter", "Diameter"}, {"parts.wheels.*.offset", "Offset"}, {"parts.wheels.*.mass", "Mass"}, {"parts.wheels.*.use", "The same as"},
		},
	},
	{
		Card: Card{ID: "fitted", Page: "parts", Group: "fitted", Title: "Parts fitted", For: "What stands on this axle; what is not chosen stays as it was on the car."},
		keys: append(append([]label{}, fittedKeys("builds.*.{axle}.")...), fittedKeys("builds.*.{axle}.{side}.")...),
	},
	{
		Card: Card{ID: "build", Page: "parts", Group: "fitted", Title: "The build"},
		keys: []label{
			{"builds.*.name", "Name"},
			{"builds.*.note", "Note"},
			{"builds.*.price", "Price"},
			{"builds.*.hours", "Hours"},
			{"builds.*.{axle}.serials.left", "Serial, left damper"},
			{"builds.*.{axle}.serials.right", "Serial, right damper"},
			{"builds.*.mass[].name", "Added for good"},
			{"builds.*.mass[].mass", "Mass"},
			{"builds.*.mass[].behind_front_axle", "Behind the front axle"},
			{"builds.*.mass[].left", "Left of the middle"},
			{"builds.*.mass[].height", "Height of its centre"},
		},
	},
	{
		Card: Card{ID: "setup", Page: "parts", Group: "set", Title: "Setup", For: "How it is set: platforms from their start marks, clicks from closed."},
		keys: []label{
			{"builds.*.setup.platform.{corner}", "Platform"},
			{"builds.*.setup.body_length.{corner}", "Body length"},
			{"builds.*.setup.heights.{corner}", "Wanted height"},
			{"builds.*.setup.click.{axle}", "Click"},
			{"builds.*.setup.click.{corner}", "Click"},
			{"builds.*.setup.bar_hole.{axle}", "Bar hole"},
			{"builds.*.setup.bars", "Drop links"},
			{"builds.*.setup.pressure.{axle}", "Tyre pressure, cold"},
			{"builds.*.setup.pressure.{corner}", "Tyre pressure, cold"},
			{"builds.*.setup.pressures", "Tyre pressures, in words"},
		},
	},
	{
		Card: Card{ID: "readings", Page: "parts", Group: "set", Title: "Readings after fitting", Tool: "four scales, tape", Stands: onWheels, Drawing: "corner-load", For: "Prediction against what came out."},
		keys: []label{
			{"builds.*.readings.load.{corner}", "Load"},
			{"builds.*.readings.arch_height.{corner}", "Hub to arch"},
			{"builds.*.readings.state", "Load state"},
			{"builds.*.readings.bars", "Drop links"},
			{"builds.*.readings.platform.{corner}", "Platform when read"},
			{"builds.*.readings.body_length.{corner}", "Body length when read"},
			{"builds.*.readings.heights.{corner}", "Wanted height when read"},
			{"builds.*.readings.seats_closer.{corner}", "Seats closer when read"},
		},
		time: "car.weighed.load.front_left",
	},

	{
		Card: Card{ID: "trailer", Page: "brief", Group: "brief", Title: "Trailer", For: "Coupling load, steadiness while towing."},
		keys: []label{
			{"loads.*.trailer.mass", "Mass, loaded"},
			{"loads.*.trailer.coupling_load", "Coupling load"},
			{"loads.*.trailer.behind_front_axle", "Coupling behind the front axle"},
			{"loads.*.trailer.to_axle", "Coupling to its axles"},
			{"loads.*.trailer.body_length", "Body length"},
			{"loads.*.trailer.yaw_inertia", "Yaw inertia"},
			{"loads.*.trailer.cornering_stiffness", "Cornering stiffness of a tyre"},
			{"loads.*.trailer.tyres", "Tyres"},
			{"loads.*.trailer.speed", "Towing speed"},
		},
	},
}

// fittedKeys are the keys of one axle or side of a build.
func fittedKeys(at string) []label {
	return []label{
		{at + "spring", "Spring"},
		{at + "helper", "Helper"},
		{at + "damper", "Damper"},
		{at + "stop", "Bump stop"},
		{at + "packer", "Packer"},
		{at + "mount", "Top mount"},
		{at + "platform", "Platform"},
		{at + "tyre", "Tyre"},
		{at + "wheel", "Wheel"},
		{at + "seats_closer", "Spring seats closer by"},
		{at + "mounts_closer", "Damper mounts closer by"},
		{at + "friction", "Friction at the wheel"},
		{at + "tyre_rate", "Tyre rate"},
		{at + "unsprung_more", "Unsprung mass added"},
		{at + "bushes", "Bushes tightened"},
	}
}

// fallback is where a key that no card names has its field, by the card of the table that
// comes last.
var fallback = map[string]string{
	"car": "car.", "job": "job.", "spring": "parts.springs.", "damper": "parts.dampers.", "stop": "parts.stops.", "mount": "parts.mounts.", "platform": "parts.platforms.", "tyre": "parts.tyres.", "wheel": "parts.wheels.",
	"build": "builds.*.", "trailer": "loads.*.trailer.",
}

// reason is why a key has no field on a card.
type reason struct{ path, why string }

// reasons are the keys without a field here. A * at the end stands for all that begins so.
var reasons = []reason{
	{"trunnion", "the program writes the version"},
	{"job.words", "Brief has it: the owner's words come first"},
	{"brief.reference", "Brief chooses the baseline among the builds"},
	{"brief.*", "Brief draws roads, obstacles, uses and limits itself"},
	{"loads.*.name", "Brief draws load states itself"},
	{"loads.*.with", "Brief draws load states itself"},
	{"loads.*.items[].*", "Brief draws load states itself"},
	{"handover.*", "Handover draws the sheet's own texts, ticks and limits itself"},
}
