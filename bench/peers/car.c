#include "car.h"

static void fail(const char *what, const char *name) {
	fprintf(stderr, "peers: %s: %s\n", what, name);
	exit(1);
}

/* get reads a block: its name, how many numbers, the numbers. */
static double *get(FILE *f, const char *want, int count) {
	char name[64];
	int n;
	if (fscanf(f, "%63s %d", name, &n) != 2 || strcmp(name, want) != 0 || n != count) fail("car file: expected block", want);
	double *v = aligned_alloc(64, (sizeof *v * (size_t)n + 63) / 64 * 64);
	for (int i = 0; i < n; i++)
		if (fscanf(f, "%lf", &v[i]) != 1) fail("car file: short block", want);
	return v;
}

static void *share(void *a, void *b, size_t n) { return a && b && memcmp(a, b, n) == 0 ? a : b; }

struct car *read_car(const char *dir, int mount) {
	char path[4096];
	snprintf(path, sizeof path, "%s/car-%s.txt", dir, mount ? "mount" : "rigid");
	FILE *f = fopen(path, "r");
	if (!f) fail("cannot read", path);
	struct car *c = calloc(1, sizeof *c);
	double *b = get(f, "body", 14);
	c->gravity = b[0]; c->mass = b[1]; c->inv_mass = 1 / b[1]; c->inv_roll = 1 / b[2]; c->inv_pitch = 1 / b[3];
	c->bars[0] = b[4]; c->bars[1] = b[5]; c->bar_free[0] = b[6]; c->bar_free[1] = b[7];
	c->arm[0] = b[12]; c->arm[1] = b[13];
	c->px[0] = b[8]; c->py[0] = b[9]; c->px[1] = b[10]; c->py[1] = b[11];
	memcpy(c->wk, get(f, "weighting", 9), sizeof c->wk);
	for (int i = 0; i < 4; i++) {
		struct corner *k = &c->corner[i];
		double *v = get(f, "corner", 14);
		k->x = v[0]; k->y = v[1]; k->mass = v[2]; k->inv_mass = 1 / v[2];
		k->rate = v[3]; k->rim = v[4]; k->rim_rate = v[5]; k->mount = v[6];
		k->rest_travel = v[7]; k->rest_deflection = v[8]; k->rest_load = v[9];
		k->stop_at = v[10]; k->top_at = v[11]; k->dyno_min = v[12]; k->dyno_max = v[13];
		k->mobility = k->inv_mass + c->inv_mass + k->x * k->x * c->inv_pitch + k->y * k->y * c->inv_roll;
		k->position = (struct position_row *)get(f, "position", POSITION_ROWS * 6);
		k->damper = (struct log_row *)get(f, "damper", 2 * LOG_PER_SIGN * 5);
		if (mount) k->inverse = (struct log_row *)get(f, "inverse", 2 * LOG_PER_SIGN * 5);
		k->stop = (struct cubic_row *)get(f, "stop", STOP_ROWS * 4);
		k->top = (struct cubic_row *)get(f, "top", STOP_ROWS * 4);
		for (int j = 0; j < i; j++) {
			struct corner *o = &c->corner[j];
			k->position = share(o->position, k->position, POSITION_ROWS * sizeof *k->position);
			k->damper = share(o->damper, k->damper, 2 * LOG_PER_SIGN * sizeof *k->damper);
			k->inverse = share(o->inverse, k->inverse, 2 * LOG_PER_SIGN * sizeof *k->inverse);
		}
	}
	fclose(f);
	return c;
}

int read_roads(const char *dir, struct road *roads, int most) {
	char path[4096];
	snprintf(path, sizeof path, "%s/roads.txt", dir);
	FILE *list = fopen(path, "r");
	if (!list) fail("cannot read", path);
	int count = 0;
	long long n;
	while (count < most) {
		struct road *r = &roads[count];
		if (fscanf(list, "%31s %d %lf %lf %lf %lld", r->name, &r->event, &r->duration, &r->settle, &r->dt, &n) != 6) break;
		r->n = n;
		r->z = aligned_alloc(64, (sizeof *r->z * (size_t)n + 63) / 64 * 64);
		snprintf(path, sizeof path, "%s/road-%s.bin", dir, r->name);
		FILE *f = fopen(path, "rb");
		if (!f || fread(r->z, sizeof *r->z, (size_t)n, f) != (size_t)n) fail("cannot read", path);
		fclose(f);
		count++;
	}
	fclose(list);
	return count;
}

double (*sampled(const struct road *r, double step, int64_t n))[4] {
	double (*z)[4] = aligned_alloc(64, (sizeof *z * (size_t)n + 63) / 64 * 64);
	for (int64_t k = 0; k < n; k++) road_at(r, (double)k * step, z[k]);
	return z;
}

static double sq(double x) { return x * x; }

static void poles(double corner, double quality, double step, double *a1, double *a2) {
	double w = 2 * M_PI * corner * step, d = 1 / (2 * quality), decay = exp(-d * w);
	*a1 = d <= 1 ? -2 * decay * cos(sqrt(1 - d * d) * w) : -2 * decay * cosh(sqrt(d * d - 1) * w);
	*a2 = decay * decay;
}

static double second(double r, double q) { return hypot(1 - r * r, r / q); }

/* matched is a section with the analogue poles and the analogue magnitude at standstill, corner and Nyquist. */
static void matched(struct filter *f, double corner, double quality, double step, double at0, double atc, double atn) {
	struct section *s = &f->s[f->count++];
	double a1, a2;
	poles(corner, quality, step, &a1, &a2);
	double A0 = sq(1 + a1 + a2), A1 = sq(1 - a1 + a2), A2 = -4 * a2;
	double p1 = sq(sin(M_PI * corner * step)), p0 = 1 - p1, p2 = 4 * p0 * p1;
	double B0 = A0 * sq(at0), B1 = A1 * sq(atn);
	double B2 = ((A0 * p0 + A1 * p1 + A2 * p2) * sq(atc) - B0 * p0 - B1 * p1) / p2;
	double w = (sqrt(B0) + sqrt(B1)) / 2;
	double b0 = (w + sqrt(w * w + B2)) / 2;
	*s = (struct section){b0, (sqrt(B0) - sqrt(B1)) / 2, -B2 / (4 * b0), a1, a2, 0, 0};
}

void make_wk(struct filter *f, const double wk[9], double step) {
	double hp = wk[0], lp = wk[1], tr = wk[2], zero = wk[3], qt = wk[4], sl = wk[5], sh = wk[6], ql = wk[7], qh = wk[8];
	double ny = 0.5 / step, a1, a2;
	memset(f, 0, sizeof *f);
	poles(hp, M_SQRT2 / 2, step, &a1, &a2);
	double b = (1 - a1 + a2) / 4;
	f->s[f->count++] = (struct section){b, -2 * b, b, a1, a2, 0, 0};
#define LOW(x) (1 / hypot(1 - sq((x) / lp), M_SQRT2 * (x) / lp))
	matched(f, lp, M_SQRT2 / 2, step, LOW(0), LOW(lp), LOW(ny));
#define TRANS(x) (hypot(1, (x) / zero) / second((x) / tr, qt))
	matched(f, tr, qt, step, TRANS(0), TRANS(tr), TRANS(ny));
	f->gain = sq(sl / sh);
#define STEP(x) (second((x) / sl, ql) / second((x) / sh, qh))
	matched(f, sh, qh, step, STEP(0), STEP(sh), STEP(ny));
}

void core_begin(struct core *m, const struct car *c, double step) {
	memset(m, 0, sizeof *m);
	for (int k = 0; k < 2; k++) make_wk(&m->floor[k], c->wk, step);
	core_start(m);
}

void core_start(struct core *m) {
	for (int k = 0; k < 2; k++) m->square[k] = 0;
	for (int i = 0; i < 4; i++) {
		m->load[i] = m->load2[i] = 0;
		m->high[i] = m->force[i] = -HUGE_VAL;
		m->low[i] = HUGE_VAL;
	}
	m->n = 0;
}

void print_line(const char *name, int mount, const struct road *r, double setting, double sample, double best, const struct core *m) {
	double n = (double)m->n;
	printf("%s %s %s %.9g %.9g %.6g", name, mount ? "mount" : "rigid", r->name, setting, sample, best / r->duration * 1e6);
	for (int k = 0; k < 2; k++) printf(" %.12g", sqrt(m->square[k] / n));
	for (int i = 0; i < 4; i++) printf(" %.12g", sqrt(m->load2[i] / n - sq(m->load[i] / n)));
	for (int i = 0; i < 4; i++) printf(" %.12g %.12g", m->high[i], m->low[i]);
	for (int i = 0; i < 4; i++) printf(" %.12g", m->force[i]);
	printf("\n");
	fflush(stdout);
}

void try_all(const char *name, solver s, const char *dir, const double *settings, const double *samples, int repeats) {
	struct road roads[16];
	int count = read_roads(dir, roads, 16);
	for (int mount = 0; mount < 2; mount++) {
		struct car *c = read_car(dir, mount);
		for (const double *set = settings; *set > 0; set++) {
			for (const double *at = samples; *at >= 0; at++) {
				for (int k = 0; k < count; k++) {
					struct core m;
					double best = HUGE_VAL;
					int fine = 1;
					for (int i = 0; i < repeats && fine; i++) {
						double t = now();
						fine = s(c, mount, &roads[k], *set, *at, &m) == 0;
						t = now() - t;
						if (t < best) best = t;
					}
					if (fine) print_line(name, mount, &roads[k], *set, *at, best, &m);
					else fprintf(stderr, "peers: %s gives up at %g on %s (%s)\n", name, *set, roads[k].name, mount ? "mount" : "rigid");
				}
			}
		}
	}
}
