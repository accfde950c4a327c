// Boost odeint: dopri5 with dense output, and the fixed-step fourth-order Runge-Kutta.
#include "car.h"

#include <array>
#include <cmath>
#include <map>
#include <utility>

#include <boost/numeric/odeint.hpp>

namespace odeint = boost::numeric::odeint;

template <int N>
using State = std::array<double, N>;

template <int N>
struct Free {  // the road at any time
	const car *c;
	const road *r;
	void operator()(const State<N> &y, State<N> &dy, double t) const {
		double z[4];
		road_at(r, t, z);
		rhs(c, N == 18, z, y.data(), dy.data(), nullptr);
	}
};

template <int N>
struct Laid {  // the road sampled before, at halves of the step
	const car *c;
	double (*z)[4];
	double inverse;
	void operator()(const State<N> &y, State<N> &dy, double t) const {
		rhs(c, N == 18, z[static_cast<std::int64_t>(t * inverse + 0.5)], y.data(), dy.data(), nullptr);
	}
};

template <int N>
static int dense(const car *c, const road *r, double tol, double sample, core *m) {
	Free<N> f{c, r};
	auto stepper = odeint::make_dense_output(tol * 1e-2, tol, 5e-3, odeint::runge_kutta_dopri5<State<N>>());
	State<N> y{}, dy;
	stepper.initialize(y, 0.0, sample);
	std::int64_t steps = std::llround(r->duration / sample), skip = std::llround(r->settle / sample);
	core_begin(m, c, sample);
	view v;
	double z[4];
	try {
		for (std::int64_t n = 0; n < steps; n++) {
			if (n == skip) core_start(m);
			double t = static_cast<double>(n) * sample;
			if (n > 0) {
				while (stepper.current_time() < t) stepper.do_step(f);
				stepper.calc_state(t, y);
			}
			road_at(r, t, z);
			rhs(c, N == 18, z, y.data(), dy.data(), &v);
			core_add(m, c, &v);
		}
	} catch (const std::exception &) {
		return 1;
	}
	return std::isfinite(y[0]) ? 0 : 1;
}

static std::map<std::pair<const road *, double>, double (*)[4]> courses;

template <int N>
static int fixed(const car *c, const road *r, double h, core *m) {
	std::int64_t steps = std::llround(r->duration / h), skip = std::llround(r->settle / h);
	auto &z = courses[{r, h}];
	if (!z) z = sampled(r, h / 2, 2 * steps + 3);
	Laid<N> f{c, z, 2 / h};
	odeint::runge_kutta4<State<N>> stepper;
	State<N> y{}, dy;
	core_begin(m, c, h);
	view v;
	for (std::int64_t n = 0; n < steps; n++) {
		if (n == skip) core_start(m);
		rhs(c, N == 18, z[2 * n], y.data(), dy.data(), &v);
		core_add(m, c, &v);
		stepper.do_step(f, y, dy, static_cast<double>(n) * h, h);
	}
	return std::isfinite(y[0]) && std::fabs(y[0]) < 10 ? 0 : 1;
}

static int dopri5(const car *c, int mount, const road *r, double tol, double sample, core *m) {
	return mount ? dense<18>(c, r, tol, sample, m) : dense<14>(c, r, tol, sample, m);
}

static int rk4(const car *c, int mount, const road *r, double h, double, core *m) {
	return mount ? fixed<18>(c, r, h, m) : fixed<14>(c, r, h, m);
}

int main(int argc, char **argv) {
	const double tol[] = {1, 3e-1, 1e-1, 3e-2, 1e-2, 3e-3, 1e-3, 0}, samples[] = {1e-3, 1.5e-3, 2e-3, -1};
	const double steps[] = {0.5e-3, 0.75e-3, 1e-3, 1.25e-3, 1.5e-3, 1.75e-3, 2e-3, 2.5e-3, 3e-3, 0}, none[] = {0, -1};
	if (argc < 2) return 2;
	try_all("odeint-dopri5", dopri5, argv[1], tol, samples, 5);
	try_all("odeint-rk4", rk4, argv[1], steps, none, 9);
	return 0;
}
