/* Classic fourth-order Runge-Kutta with a fixed step, written out by hand. As "reference" it runs at 20 us and looks at
   every step; as "rk4" it is the peer. The road is sampled before the clock starts, as the engine's course is. */
#include "car.h"

static struct { const struct road *r; double h; double (*z)[4]; } store[256];
static int stored;

static double (*course(const struct road *r, double half, int64_t n))[4] {
	for (int i = 0; i < stored; i++)
		if (store[i].r == r && store[i].h == half) return store[i].z;
	if (stored == 256) stored = 0;
	store[stored].r = r;
	store[stored].h = half;
	store[stored].z = sampled(r, half, n);
	return store[stored++].z;
}

static inline __attribute__((always_inline)) int run(const struct car *c, const int mount, const struct road *r, double h, struct core *m, double (*z)[4]) {
	const int N = mount ? 18 : 14;
	double y[18] = {0}, k1[18], k2[18], k3[18], k4[18], s[18];
	int64_t steps = llround(r->duration / h), skip = llround(r->settle / h);
	if (mount)
		for (int i = 0; i < 4; i++) y[14 + i] = 0;
	core_begin(m, c, h);
	struct view v;
	for (int64_t n = 0; n < steps; n++) {
		if (n == skip) core_start(m);
		rhs(c, mount, z[2 * n], y, k1, &v);
		core_add(m, c, &v);
		for (int j = 0; j < N; j++) s[j] = y[j] + h / 2 * k1[j];
		rhs(c, mount, z[2 * n + 1], s, k2, 0);
		for (int j = 0; j < N; j++) s[j] = y[j] + h / 2 * k2[j];
		rhs(c, mount, z[2 * n + 1], s, k3, 0);
		for (int j = 0; j < N; j++) s[j] = y[j] + h * k3[j];
		rhs(c, mount, z[2 * n + 2], s, k4, 0);
		for (int j = 0; j < N; j++) y[j] += h / 6 * (k1[j] + 2 * k2[j] + 2 * k3[j] + k4[j]);
	}
	return isfinite(y[0]) && fabs(y[0]) < 10 ? 0 : 1;
}

static int reference(const struct car *c, int mount, const struct road *r, double h, double sample, struct core *m) {
	(void)sample;
	int64_t n = 2 * llround(r->duration / h) + 3;
	double (*z)[4] = sampled(r, h / 2, n);
	int bad = mount ? run(c, 1, r, h, m, z) : run(c, 0, r, h, m, z);
	free(z);
	return bad;
}

static int peer(const struct car *c, int mount, const struct road *r, double h, double sample, struct core *m) {
	(void)sample;
	double (*z)[4] = course(r, h / 2, 2 * llround(r->duration / h) + 3);
	return mount ? run(c, 1, r, h, m, z) : run(c, 0, r, h, m, z);
}

int main(int argc, char **argv) {
	const double fine[] = {20e-6, 0}, none[] = {0, -1};
	const double steps[] = {0.5e-3, 0.75e-3, 1e-3, 1.25e-3, 1.5e-3, 1.75e-3, 2e-3, 2.5e-3, 3e-3, 0};
	if (argc < 3) return 2;
	if (strcmp(argv[1], "reference") == 0) try_all("reference", reference, argv[2], fine, none, 1);
	else try_all("rk4", peer, argv[2], steps, none, 9);
	return 0;
}
