// The linkages built from bodies and joints in Simbody: reads what drive export wrote, moves the wheel over its travel
// and prints where everything is, then puts loads on the wheel, cuts it loose from the travel and prints what the spring
// and the joints carry. Knows nothing of the program's own equations.
#include "Simbody.h"
#include <fstream>
#include <iostream>
#include <map>
#include <sstream>

using namespace SimTK;
using std::string;

struct Arm { string name; Vec3 front, rear, ball; };
struct Rod { string name, on; Vec3 inner, outer; };
struct Element { string name, on; Vec3 top, low; };
struct Case {
	string name;
	bool axle = false; // the wheels share a carrier
	Vec3 centre;
	Real radius = 0;
	std::vector<Arm> arms;
	std::vector<Rod> rods;
	std::vector<Element> elements; // spring, damper
	bool strut = false, pivots = false;
	Vec3 top, low, inner, outer;
	std::vector<Vec2> travels;
	std::vector<std::pair<Vec3, Vec3>> loads; // at the contact, at the hub
};

static Vec3 point(std::istream &in) { Vec3 p; in >> p[0] >> p[1] >> p[2]; return p; }
static Vec3 mirror(const Vec3 &p) { return Vec3(p[0], -p[1], p[2]); }

static std::vector<Case> read(const string &path) {
	std::vector<Case> out;
	std::ifstream file(path);
	string line, key;
	while (std::getline(file, line)) {
		std::istringstream in(line);
		if (!(in >> key)) continue;
		if (key == "case") { out.emplace_back(); in >> out.back().name; continue; }
		Case &c = out.back();
		if (key == "axle") c.axle = true;
		else if (key == "wheel") { c.centre = point(in); in >> c.radius; }
		else if (key == "arm") { Arm a; in >> a.name; a.front = point(in); a.rear = point(in); a.ball = point(in); c.arms.push_back(a); }
		else if (key == "rod") { Rod r; in >> r.name; r.inner = point(in); r.outer = point(in); in >> r.on; c.rods.push_back(r); }
		else if (key == "strut") { c.strut = true; c.top = point(in); c.low = point(in); }
		else if (key == "pivots") { c.pivots = true; c.inner = point(in); c.outer = point(in); }
		else if (key == "spring" || key == "damper") { Element e; e.name = key; e.top = point(in); e.low = point(in); in >> e.on; c.elements.push_back(e); }
		else if (key == "travel") { Vec2 w; in >> w[0] >> w[1]; c.travels.push_back(w); }
		else if (key == "load") { Vec3 a = point(in), b = point(in); c.loads.push_back({a, b}); }
	}
	return out;
}

// A linkage with its wheel either led to a height or carried by its springs.
struct Built {
	MultibodySystem system;
	SimbodyMatterSubsystem matter{system};
	GeneralForceSubsystem forces{system};
	Force::DiscreteForces load{forces, matter};
	MobilizedBody carrier;
	std::map<string, MobilizedBody> parts; // arms, and rods that something stands on
	std::map<string, Vec3> origin;         // of each part's frame, at home
	std::map<string, Constraint> joints;   // by name, for their forces
	Vec3 home;
};

static string rodWithLoad(const Case &c) {
	for (const Element &e : c.elements)
		if (e.name == "spring")
			for (const Rod &r : c.rods)
				if (r.name == e.on) return r.name;
	return "";
}

// station returns the part that a point stands on and the point in its frame.
static std::pair<MobilizedBody, Vec3> station(Built &b, const string &on, const Vec3 &p) {
	if (on != "-" && b.parts.count(on)) return {b.parts[on], p - b.origin[on]};
	return {b.carrier, p - b.home};
}

static void build(Built &b, const Case &c, const Vec2 &travel, const std::vector<Real> *springs) {
	const Body::Rigid body(MassProperties(20, Vec3(0), UnitInertia(0.05)));
	MobilizedBody &ground = b.matter.updGround();
	b.home = c.axle ? Vec3(c.centre[0], 0, c.centre[2]) : c.centre;
	if (c.pivots) {
		const UnitVec3 axis(c.outer - c.inner);
		const Rotation along(axis, ZAxis);
		b.carrier = MobilizedBody::Pin(ground, Transform(along, c.inner), body, Transform(along, c.inner - b.home));
	} else {
		b.carrier = MobilizedBody::Free(ground, Transform(b.home), body, Transform());
	}
	for (const Arm &a : c.arms) {
		const Rotation along(UnitVec3(a.rear - a.front), ZAxis);
		MobilizedBody::Pin arm(ground, Transform(along, a.front), body, Transform(along, Vec3(0)));
		b.parts[a.name] = arm;
		b.origin[a.name] = a.front;
		b.joints[a.name] = Constraint::Ball(arm, a.ball - a.front, b.carrier, a.ball - b.home);
	}
	const string loaded = rodWithLoad(c);
	for (const Rod &r : c.rods) {
		if (r.name == loaded) {
			// Swings about the vertical, lifts about a level axis, does not twist.
			const Rotation frame(UnitVec3(0, 0, 1), XAxis, r.outer - r.inner, ZAxis);
			MobilizedBody::Universal rod(ground, Transform(frame, r.inner), body, Transform(frame, Vec3(0)));
			b.parts[r.name] = rod;
			b.origin[r.name] = r.inner;
			b.joints[r.name] = Constraint::Ball(rod, r.outer - r.inner, b.carrier, r.outer - b.home);
			continue;
		}
		MobilizedBody at = ground;
		Vec3 inner = r.inner;
		if (r.on != "-") { at = b.parts[r.on]; inner = r.inner - b.origin[r.on]; }
		b.joints[r.name] = Constraint::Rod(at, inner, b.carrier, r.outer - b.home, (r.outer - r.inner).norm());
	}
	if (c.strut) Constraint::PointOnLine(b.carrier, UnitVec3(c.top - c.low), c.low - b.home, ground, c.top);
	if (springs) {
		int k = 0;
		for (int side = 0; side < (c.axle ? 2 : 1); side++) {
			Vec3 top = c.top, low = c.low;
			string on = "-";
			for (const Element &e : c.elements)
				if (e.name == "spring") { top = e.top; low = e.low; on = e.on; }
			if (side == 1) { top = mirror(top); low = mirror(low); }
			auto [part, at] = station(b, on, low);
			b.joints[side ? "spring-right" : "spring"] = Constraint::Rod(ground, top, part, at, (*springs)[k++]);
		}
	} else {
		Constraint::PointInPlane(ground, UnitVec3(0, 0, 1), c.centre[2] + travel[0], b.carrier, c.centre - b.home);
		if (c.axle) Constraint::PointInPlane(ground, UnitVec3(0, 0, 1), c.centre[2] + travel[1], b.carrier, mirror(c.centre) - b.home);
	}
	b.matter.setShowDefaultGeometry(false);
}

static void put(const Vec3 &p) { printf(" %.17g %.17g %.17g", p[0], p[1], p[2]); }

// jointForce is what the part's outer joint puts on the carrier.
static Vec3 jointForce(const Built &b, const State &s, const Constraint &k) {
	const Vector_<SpatialVec> f = k.getConstrainedBodyForcesAsVector(s);
	for (ConstrainedBodyIndex i(0); i < k.getNumConstrainedBodies(); ++i)
		if (k.getMobilizedBodyFromConstrainedBody(i).getMobilizedBodyIndex() == b.carrier.getMobilizedBodyIndex()) return -f[i][1];
	return Vec3(NaN);
}

int main(int argc, char **argv) {
	if (argc < 2) return 2;
	for (const Case &c : read(argv[1])) {
		// From home outward, each travel from its neighbour.
		Vector last;
		for (const Vec2 &w : c.travels) {
			Built led;
			build(led, c, w, nullptr);
			State s = led.system.realizeTopology();
			led.system.realizeModel(s);
			if (w[0] != 0 || w[1] != 0) {
				if (last.size() == s.getNQ()) s.updQ() = last;
			}
			Assembler assembler(led.system);
			assembler.setAccuracy(1e-13);
			assembler.setErrorTolerance(1e-13);
			try {
				assembler.assemble(s);
			} catch (const std::exception &e) {
				fprintf(stderr, "multibody: %s at %g, %g: %s\n", c.name.c_str(), w[0], w[1], e.what());
				continue;
			}
			last = s.getQ();
			led.system.realize(s, Stage::Position);
			printf("at %s %.17g %.17g", c.name.c_str(), w[0], w[1]);
			put(led.carrier.findStationLocationInGround(s, c.centre - led.home));
			// The wheel's axis at home is straight across the car in these cases.
			put(led.carrier.getBodyRotation(s) * Vec3(0, 1, 0));
			std::vector<Real> springs;
			bool spring = false;
			for (const Element &e : c.elements) {
				for (int side = 0; side < (c.axle ? 2 : 1); side++) {
					auto [part, at] = station(led, e.on, side ? mirror(e.low) : e.low);
					const Real length = (part.findStationLocationInGround(s, at) - (side ? mirror(e.top) : e.top)).norm();
					if (side == 0) printf(" %s %.17g", e.name.c_str(), length);
					if (e.name == "spring") { springs.push_back(length); spring = true; }
				}
			}
			if (!spring && c.strut) {
				const Real length = (led.carrier.findStationLocationInGround(s, c.low - led.home) - c.top).norm();
				springs.push_back(length);
				printf(" spring %.17g", length);
			}
			printf("\n");
			for (size_t k = 0; k < c.loads.size(); k++) {
				Built held;
				build(held, c, w, &springs);
				State h = held.system.realizeTopology();
				held.system.realizeModel(h);
				h.updQ() = s.getQ();
				held.system.realize(h, Stage::Position);
				// The road meets the lowest point of the wheel.
				const Vec3 hub = c.centre - held.home;
				const Vec3 spin = held.carrier.getBodyRotation(h) * Vec3(0, 1, 0);
				Vec3 down = Vec3(0, 0, -1) + spin * spin[2];
				down = down / down.norm();
				const Vec3 patch = hub + ~held.carrier.getBodyRotation(h) * (c.radius * down);
				held.load.addForceToBodyPoint(h, held.carrier, patch, c.loads[k].first);
				held.load.addForceToBodyPoint(h, held.carrier, hub, c.loads[k].second);
				held.system.realize(h, Stage::Acceleration);
				printf("force %s %.17g %.17g %zu", c.name.c_str(), w[0], w[1], k);
				for (const auto &[name, joint] : held.joints) {
					if (name == "spring" || name == "spring-right") {
						printf(" %s %.17g", name.c_str(), joint.getMultipliersAsVector(h)[0]);
						continue;
					}
					printf(" %s", name.c_str());
					put(jointForce(held, h, joint));
				}
				printf("\n");
			}
		}
	}
	return 0;
}
