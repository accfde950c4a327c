/* GSL odeiv2, Runge-Kutta-Fehlberg 4(5). */
#include "car.h"
#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>

struct problem { const struct car *c; const struct road *r; int mount; };

static int f(double t, const double y[], double dy[], void *user) {
	struct problem *p = user;
	double z[4];
	road_at(p->r, t, z);
	rhs(p->c, p->mount, z, y, dy, 0);
	return GSL_SUCCESS;
}

static int run(const struct car *c, int mount, const struct road *r, double tol, double sample, struct core *m) {
	struct problem p = {c, r, mount};
	const int N = mount ? 18 : 14;
	double scale[18], y[18] = {0}, dy[18], z[4], t = 0;
	for (int j = 0; j < N; j++) scale[j] = j < 7 ? 1e-2 : j < 14 ? 1e-1 : 1e-3;
	gsl_odeiv2_system sys = {f, NULL, (size_t)N, &p};
	gsl_odeiv2_driver *d = gsl_odeiv2_driver_alloc_scaled_new(&sys, gsl_odeiv2_step_rkf45, sample, tol, tol, 1, 0, scale);
	gsl_odeiv2_driver_set_hmax(d, 5e-3);
	gsl_odeiv2_driver_set_nmax(d, 100000);
	int64_t steps = llround(r->duration / sample), skip = llround(r->settle / sample);
	core_begin(m, c, sample);
	struct view v;
	int bad = 0;
	for (int64_t n = 0; n < steps && !bad; n++) {
		if (n == skip) core_start(m);
		if (n > 0) bad = gsl_odeiv2_driver_apply(d, &t, (double)n * sample, y) != GSL_SUCCESS;
		road_at(r, (double)n * sample, z);
		rhs(c, mount, z, y, dy, &v);
		core_add(m, c, &v);
	}
	gsl_odeiv2_driver_free(d);
	return bad || !isfinite(y[0]);
}

int main(int argc, char **argv) {
	const double tol[] = {1, 3e-1, 1e-1, 3e-2, 1e-2, 3e-3, 1e-3, 0}, samples[] = {1e-3, 1.5e-3, 2e-3, -1};
	if (argc < 2) return 2;
	gsl_set_error_handler_off();
	try_all("gsl-rkf45", run, argv[1], tol, samples, 5);
	return 0;
}
