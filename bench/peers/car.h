/* The compiled car, its right-hand side, the road and the core metrics: what every peer shares, so that all of them
   solve the same model from the same tables. SI units throughout; corners are front left, front right, rear left, rear
   right. */
#ifndef PEERS_CAR_H
#define PEERS_CAR_H

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#ifdef __cplusplus
extern "C" {
#endif

enum { POSITION_ROWS = 512, LOG_PER_SIGN = 128, STOP_ROWS = 192, MAX_STATE = 18 };
#define POSITION_STEP (1.0 / 1024)
#define POSITION_LOW (-POSITION_ROWS / 2 * POSITION_STEP)
#define LOG_OFFSET (1.0 / 128)
#define LOG_SHIFT (52 - 3)
#define LOG_FIRST ((1023 - 7) << 3)
#define FORCE_UNIT 1000.0

struct position_row { double c0, c1, c2, c3, r0, dr; };
struct log_row { double v0, c0, c1, c2, c3; };
struct cubic_row { double c0, c1, c2, c3; };

struct corner {
	double x, y, mass, inv_mass, mobility;
	double rate, rim, rim_rate;
	double mount;
	double rest_travel, rest_deflection, rest_load;
	double stop_at, top_at, dyno_min, dyno_max;
	struct position_row *position;
	struct log_row *damper, *inverse;
	struct cubic_row *stop, *top;
};

struct car {
	double gravity, mass, inv_mass, inv_pitch, inv_roll;
	double bars[2], bar_free[2];
	double arm[2];           /* of the weight as the body leans, roll and pitch; see chassis/equilibrium */
	double px[2], py[2]; /* floor points from the centre of gravity */
	double wk[9];        /* HighPass LowPass Transition Zero QuTrans StepLow StepHigh QuStepLow QuStepHigh */
	struct corner corner[4];
};

/* A case: the heights under the four wheels on a fine grid in time. Between grid points the road is a Catmull-Rom cubic. */
struct road {
	char name[32];
	int event;       /* 1 for an obstacle */
	double duration, settle, dt;
	int64_t n;
	double (*z)[4];
};

/* What a right-hand side shows to the metrics. */
struct view { double travel[4], load[4], force[4], body[3]; };

struct car *read_car(const char *dir, int mount);
int read_roads(const char *dir, struct road *roads, int most);
/* sampled gives heights at multiples of step: 0, step, ... */
double (*sampled(const struct road *r, double step, int64_t n))[4];

static inline const struct log_row *log_row_of(const struct log_row *rows, double v) {
	union { double d; uint64_t u; } a, b;
	a.d = v;
	b.d = fabs(v) + LOG_OFFSET;
	int64_t k = (int64_t)(b.u >> LOG_SHIFT) - LOG_FIRST;
	if ((uint64_t)k >= LOG_PER_SIGN) k = LOG_PER_SIGN - 1;
	return &rows[k + (int64_t)(a.u >> 63) * LOG_PER_SIGN];
}

static inline double log_at(const struct log_row *rows, double v) {
	const struct log_row *r = log_row_of(rows, v);
	double t = v - r->v0;
	return (r->c0 + t * r->c1) + t * t * (r->c2 + t * r->c3);
}

static inline void position_at(const struct position_row *rows, double w, double *f, double *r) {
	double u = (w - POSITION_LOW) * (1 / POSITION_STEP), extra = 0;
	int64_t k = (int64_t)u;
	if ((uint64_t)k >= POSITION_ROWS) {
		if (u > 0) { k = POSITION_ROWS - 1; extra = u - POSITION_ROWS; u = POSITION_ROWS; }
		else { k = 0; extra = u; u = 0; }
	}
	const struct position_row *row = &rows[k];
	double t = u - (double)k;
	*f = (row->c0 + t * row->c1) + t * t * (row->c2 + t * row->c3) + extra * (row->c1 + t * (2 * row->c2 + t * 3 * row->c3));
	*r = row->r0 + t * row->dr;
}

static inline double cubic_at(const struct cubic_row *rows, double u) {
	int64_t k = u < STOP_ROWS ? (int64_t)u : STOP_ROWS - 1;
	double t = u - (double)k;
	const struct cubic_row *r = &rows[k];
	return r->c0 + t * (r->c1 + t * (r->c2 + t * r->c3));
}

/* rhs is the ordinary differential equation of the car. y holds q (heave, pitch, roll, four wheels), then their speeds,
   then, with mounts, their four compressions. */
static inline void rhs(const struct car *c, int mount, const double road[4], const double *y, double *dy, struct view *out) {
	const double *q = y, *v = y + 7;
	double w[4], f[4], load[4], lean_r = c->arm[0] * q[2], lean_p = c->arm[1] * q[1];
	double z = q[0] + (lean_r * q[2] + lean_p * q[1]) / 2, vz = v[0] + lean_r * v[2] + lean_p * v[1];
	for (int i = 0; i < 4; i++) {
		const struct corner *k = &c->corner[i];
		w[i] = k->rest_travel + q[3 + i] - (z - k->x * q[1] + k->y * q[2]);
		double speed = v[3 + i] - (vz - k->x * v[1] + k->y * v[2]);
		double force, ratio;
		position_at(k->position, w[i], &force, &ratio);
		if (mount) {
			double fm = k->mount * y[14 + i];
			dy[14 + i] = ratio * speed - log_at(k->inverse, fm * (1 / FORCE_UNIT));
			force += ratio * fm;
		} else {
			force += ratio * log_at(k->damper, ratio * speed);
		}
		if (w[i] > k->stop_at) force += cubic_at(k->stop, (w[i] - k->stop_at) * (1 / POSITION_STEP));
		if (w[i] < k->top_at) force -= cubic_at(k->top, (k->top_at - w[i]) * (1 / POSITION_STEP));
		f[i] = force;
		double d = k->rest_deflection + road[i] - q[3 + i];
		double l = k->rate * d;
		if (d <= 0) l = 0;
		else if (d > k->rim) l += k->rim_rate * (d - k->rim);
		load[i] = l;
	}
	for (int a = 0; a < 2; a++) {
		double b = c->bars[a] * (w[2 * a] - w[2 * a + 1] - c->bar_free[a]);
		f[2 * a] += b;
		f[2 * a + 1] -= b;
	}
	double az = 0, ap = 0, ar = 0;
	for (int i = 0; i < 4; i++) {
		const struct corner *k = &c->corner[i];
		az += f[i];
		ap -= k->x * f[i];
		ar += k->y * f[i];
		dy[10 + i] = (load[i] - f[i]) * k->inv_mass - c->gravity;
	}
	dy[7] = az * c->inv_mass - c->gravity;
	dy[8] = (ap + lean_p * az) * c->inv_pitch;
	dy[9] = (ar + lean_r * az) * c->inv_roll;
	for (int j = 0; j < 7; j++) dy[j] = v[j];
	if (out) {
		for (int i = 0; i < 4; i++) { out->travel[i] = w[i]; out->load[i] = load[i]; out->force[i] = f[i]; }
		for (int j = 0; j < 3; j++) out->body[j] = dy[7 + j];
	}
}

/* road_at is the road at any time. */
static inline void road_at(const struct road *r, double t, double z[4]) {
	double u = t / r->dt;
	int64_t k = (int64_t)u;
	if (k > r->n - 3) k = r->n - 3;
	if (k < 1) { k = k < 0 ? 0 : k; }
	double s = u - (double)k;
	const double *a = r->z[k > 0 ? k - 1 : 0], *b = r->z[k], *c = r->z[k + 1], *d = r->z[k + 2];
	double wa = s * (-0.5 + s * (1 - 0.5 * s)), wb = 1 + s * s * (-2.5 + 1.5 * s);
	double wc = s * (0.5 + s * (2 - 1.5 * s)), wd = s * s * (-0.5 + 0.5 * s);
	for (int i = 0; i < 4; i++) z[i] = wa * a[i] + wb * b[i] + wc * c[i] + wd * d[i];
}

/* Weighting filter, as four second-order sections at most. */
struct section { double b0, b1, b2, a1, a2, s1, s2; };
struct filter { struct section s[4]; int count; double gain; };
void make_wk(struct filter *f, const double wk[9], double step);

static inline double filter_next(struct filter *f, double x) {
	x *= f->gain;
	for (int i = 0; i < f->count; i++) {
		struct section *s = &f->s[i];
		double y = s->b0 * x + s->s1;
		s->s1 = s->b1 * x - s->a1 * y + s->s2;
		s->s2 = s->b2 * x - s->a2 * y;
		x = y;
	}
	return x;
}

/* The core metrics, taken sample by sample. */
struct core {
	struct filter floor[2];
	double square[2], load[4], load2[4], high[4], low[4], force[4];
	int64_t n;
};
void core_begin(struct core *m, const struct car *c, double step);
/* core_start forgets what was counted, not the state of the filters. */
void core_start(struct core *m);

static inline void core_add(struct core *m, const struct car *c, const struct view *v) {
	for (int k = 0; k < 2; k++) {
		double a = filter_next(&m->floor[k], v->body[0] - c->px[k] * v->body[1] + c->py[k] * v->body[2]);
		m->square[k] += a * a;
	}
	for (int i = 0; i < 4; i++) {
		double l = v->load[i] - c->corner[i].rest_load;
		m->load[i] += l;
		m->load2[i] += l * l;
		if (v->travel[i] > m->high[i]) m->high[i] = v->travel[i];
		if (v->travel[i] < m->low[i]) m->low[i] = v->travel[i];
		if (v->force[i] > m->force[i]) m->force[i] = v->force[i];
	}
	m->n++;
}

/* Processor time of this process: other work on the machine then counts only by what it does to the caches. */
static inline double now(void) {
	struct timespec t;
	clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
	return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* A solver fills m over one case; setting is a step or a tolerance, sample the time between looks. Returns 0 when it got through. */
typedef int (*solver)(const struct car *, int mount, const struct road *, double setting, double sample, struct core *m);
/* try_all runs a solver over all cases, settings and samples and prints a line each. A sample of 0 stands for the setting. */
void try_all(const char *name, solver s, const char *dir, const double *settings, const double *samples, int repeats);
void print_line(const char *name, int mount, const struct road *r, double setting, double sample, double best, const struct core *m);

#ifdef __cplusplus
}
#endif
#endif
