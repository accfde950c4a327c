// The seven-degree car built from bodies and joints in Simbody: a body on a slide, a pitch and a roll hinge, four wheels
// on slides of their own. The force laws of springs, dampers, stops, bars and tyres are the tables that bench/peers
// writes; the equations of motion, the rotations and the integration are Simbody's.
//
// A corner's height is z − x·θ + y·φ + (d_θ·θ² + d_φ·φ²)/2 as in the ride engine, with the arms of the weight's lean; what
// such heights leave out is not measured here.
//
//	car DIR
#include "Simbody.h"
#include "../peers/car.h"

using namespace SimTK;

struct Model {
	const car *c;
	const road *r;
	MobilizedBody heave, pitch, body, wheel[4];
};

static void look(const Model &m, const State &s, view *v, Real force[4], Real load[4]) {
	const car *c = m.c;
	Real z[4];
	road_at(m.r, s.getTime(), z);
	Real w[4];
	for (int i = 0; i < 4; i++) {
		const corner *k = &c->corner[i];
		const Real turn = m.pitch.getOneQ(s, 0), lean = m.body.getOneQ(s, 0);
		const Real height = m.heave.getOneQ(s, 0) - k->x * turn + k->y * lean + (c->arm[1] * turn * turn + c->arm[0] * lean * lean) / 2;
		const Real rate = m.heave.getOneU(s, 0) + (c->arm[1] * turn - k->x) * m.pitch.getOneU(s, 0) + (c->arm[0] * lean + k->y) * m.body.getOneU(s, 0);
		const Real up = m.wheel[i].getOneQ(s, 0), speed = m.wheel[i].getOneU(s, 0) - rate;
		w[i] = k->rest_travel + up - height;
		double f, ratio;
		position_at(k->position, w[i], &f, &ratio);
		f += ratio * log_at(k->damper, ratio * speed);
		if (w[i] > k->stop_at) f += cubic_at(k->stop, (w[i] - k->stop_at) * (1 / POSITION_STEP));
		if (w[i] < k->top_at) f -= cubic_at(k->top, (k->top_at - w[i]) * (1 / POSITION_STEP));
		force[i] = f;
		const Real d = k->rest_deflection + z[i] - up;
		load[i] = d <= 0 ? 0 : k->rate * d + (d > k->rim ? k->rim_rate * (d - k->rim) : 0);
	}
	for (int a = 0; a < 2; a++) {
		const Real b = c->bars[a] * (w[2 * a] - w[2 * a + 1] - c->bar_free[a]);
		force[2 * a] += b;
		force[2 * a + 1] -= b;
	}
	if (v)
		for (int i = 0; i < 4; i++) { v->travel[i] = w[i]; v->load[i] = load[i]; v->force[i] = force[i]; }
}

class Suspension : public Force::Custom::Implementation {
public:
	explicit Suspension(const Model &m) : m(m) {}
	void calcForce(const State &s, Vector_<SpatialVec> &bodies, Vector_<Vec3> &, Vector &mobilities) const override {
		Real f[4], load[4];
		look(m, s, nullptr, f, load);
		const Vec3 up(0, 0, 1);
		m.body.applyForceToBodyPoint(s, Vec3(0), -m.c->mass * m.c->gravity * up, bodies);
		for (int i = 0; i < 4; i++) {
			const corner *k = &m.c->corner[i];
			// By virtual work of the corner's height.
			m.heave.applyOneMobilityForce(s, 0, f[i], mobilities);
			m.pitch.applyOneMobilityForce(s, 0, (m.c->arm[1] * m.pitch.getOneQ(s, 0) - k->x) * f[i], mobilities);
			m.body.applyOneMobilityForce(s, 0, (m.c->arm[0] * m.body.getOneQ(s, 0) + k->y) * f[i], mobilities);
			m.wheel[i].applyForceToBodyPoint(s, Vec3(0), (load[i] - f[i] - k->mass * m.c->gravity) * up, bodies);
		}
	}
	Real calcPotentialEnergy(const State &) const override { return 0; }
	bool dependsOnlyOnPositions() const override { return false; }

private:
	const Model &m;
};

static void drive(const char *name, const car *c, const road *r) {
	MultibodySystem system;
	SimbodyMatterSubsystem matter(system);
	GeneralForceSubsystem forces(system);
	Model m{c, r, {}, {}, {}, {}};
	// A slide moves along its frame's x, a hinge turns about its frame's z.
	const Rotation slide(UnitVec3(0, 0, 1), XAxis, Vec3(0, 1, 0), YAxis), aboutY(UnitVec3(0, 1, 0), ZAxis, Vec3(1, 0, 0), XAxis), aboutX(UnitVec3(1, 0, 0), ZAxis, Vec3(0, 1, 0), YAxis);
	const Body::Massless none;
	const Real roll = 1 / c->inv_roll, pitch = 1 / c->inv_pitch;
	const Body::Rigid shell(MassProperties(c->mass, Vec3(0), Inertia(roll, pitch, pitch)));
	m.heave = MobilizedBody::Slider(matter.Ground(), Transform(slide), none, Transform(slide));
	m.pitch = MobilizedBody::Pin(m.heave, Transform(aboutY), none, Transform(aboutY));
	m.body = MobilizedBody::Pin(m.pitch, Transform(aboutX), shell, Transform(aboutX));
	for (int i = 0; i < 4; i++) {
		const Body::Rigid hub(MassProperties(c->corner[i].mass, Vec3(0), UnitInertia(0.01)));
		const Vec3 at(c->corner[i].x, c->corner[i].y, 0);
		m.wheel[i] = MobilizedBody::Slider(matter.Ground(), Transform(slide, at), hub, Transform(slide));
	}
	Force::Custom suspension(forces, new Suspension(m));
	State s = system.realizeTopology();
	RungeKuttaMersonIntegrator integrator(system);
	integrator.setAccuracy(1e-8);
	integrator.setMaximumStepSize(1e-3);
	integrator.setFinalTime(r->duration);
	integrator.initialize(s);
	const double sample = 0.25e-3;
	core k;
	core_begin(&k, c, sample);
	const long steps = lround(r->duration / sample), skip = lround(r->settle / sample);
	for (long n = 0; n < steps; n++) {
		if (n == skip) core_start(&k);
		if (n > 0) integrator.stepTo((double)n * sample);
		const State &now = integrator.getState();
		system.realize(now, Stage::Acceleration);
		view v;
		Real f[4], load[4];
		look(m, now, &v, f, load);
		v.body[0] = m.heave.getOneUDot(now, 0);
		v.body[1] = m.pitch.getOneUDot(now, 0);
		v.body[2] = m.body.getOneUDot(now, 0);
		core_add(&k, c, &v);
	}
	print_line(name, 0, r, 1e-8, sample, 0, &k);
}

int main(int argc, char **argv) {
	if (argc < 2) return 2;
	car *c = read_car(argv[1], 0);
	road roads[16];
	const int count = read_roads(argv[1], roads, 16);
	// The obstacles: a road of half a minute asks nothing more of the equations and takes twenty times as long.
	for (int i = 0; i < count; i++)
		if (roads[i].event) drive("simbody", c, &roads[i]);
	return 0;
}
