/* The engine's own algorithm in C, corner by corner the same arithmetic: what the language costs. "core" takes the core
   metrics, "full" everything the engine gathers on every run. */
#include "car.h"

enum { BLOCK = 64, TRAVEL_BINS = 1024, SPEED_BINS = 1024 };

struct coordinate { double q, v, a1, a2; };
struct state { struct coordinate body[3], wheel[4]; double mount[4]; };

struct block {
	int n;
	double travel[4][BLOCK], speed[4][BLOCK], damper[4][BLOCK], load[4][BLOCK], force[4][BLOCK], stop[4][BLOCK], top[4][BLOCK];
	double heave[BLOCK], pitch[BLOCK], roll[BLOCK], z[BLOCK], p[BLOCK], r[BLOCK];
	int touched[4], opened[4];
};

static inline double log_slope(const struct log_row *rows, double v, double *g) {
	const struct log_row *r = log_row_of(rows, v);
	double t = v - r->v0, t3 = t * r->c3, t23 = r->c2 + t3;
	*g = r->c1 + t * (t23 + (t23 + t3));
	return (r->c0 + t * r->c1) + t * t * t23;
}

static inline double foretold(const struct coordinate *c, double h) { return c->v + h * (c->a1 * 5 / 6 - c->a2 / 3); }

static void limit(const struct car *c, struct block *out, int n, const double *travel, double *force) {
	for (int i = 0; i < 4; i++) {
		const struct corner *k = &c->corner[i];
		if (travel[i] > k->stop_at) {
			if (!out->touched[i]) { out->touched[i] = 1; memset(out->stop[i], 0, sizeof out->stop[i]); }
			double f = cubic_at(k->stop, (travel[i] - k->stop_at) * (1 / POSITION_STEP));
			out->stop[i][n] = f;
			force[i] += f;
		}
		if (travel[i] < k->top_at) {
			if (!out->opened[i]) { out->opened[i] = 1; memset(out->top[i], 0, sizeof out->top[i]); }
			double f = cubic_at(k->top, (k->top_at - travel[i]) * (1 / POSITION_STEP));
			out->top[i][n] = f;
			force[i] -= f;
		}
	}
}

static inline __attribute__((always_inline)) void steps(const struct car *m, const int mounted, struct state *s, const double (*road)[4], int count, struct block *out, double h) {
	const double h3 = h / 3, h12 = h / 12, kv = 13 * h12, kq = 13 * h12 * h, ku = 13 * h12 + h * 5 / 6;
	const struct corner *c = m->corner;
	struct coordinate z = s->body[0], p = s->body[1], r = s->body[2];
	double vz = foretold(&z, h), vp = foretold(&p, h), vr = foretold(&r, h), ahead[4], supple[4], pitch[4], roll[4];
	double force[4], travel[4], load[4], speeds[4], ratio[4], damp[4], slopes[4], yield[4], push[4], moved[4];
	const double arm_r = m->arm[0], arm_p = m->arm[1], topple_r = arm_r * m->inv_roll, topple_p = arm_p * m->inv_pitch;
	out->n = count;
	for (int i = 0; i < 4; i++) {
		out->touched[i] = out->opened[i] = 0;
		ahead[i] = foretold(&s->wheel[i], h);
		supple[i] = h3 * c[i].mobility;
		pitch[i] = c[i].x * m->inv_pitch;
		roll[i] = c[i].y * m->inv_roll;
	}
	for (int n = 0; n < count; n++) {
		const double *rd = road[n];
		int limited = 0;
		double lean_r = arm_r * r.q, lean_p = arm_p * p.q;
		double zs = z.q + (lean_r * r.q + lean_p * p.q) / 2, vs = vz + (lean_r * vr + lean_p * vp);
		for (int axle = 0; axle < 2; axle++) {
			double x = c[2 * axle].x, zx = zs - x * p.q, vx = vs - x * vp;
			for (int i = 2 * axle; i < 2 * axle + 2; i++) {
				const struct corner *k = &c[i];
				const struct coordinate *q = &s->wheel[i];
				double w = (k->rest_travel + q->q) - (zx + k->y * r.q);
				double speed = ahead[i] - (vx + k->y * vr);
				double f, rt, d, g;
				travel[i] = w;
				speeds[i] = speed;
				position_at(k->position, w, &f, &rt);
				double vd = rt * speed;
				if (!mounted) {
					d = log_slope(k->damper, vd, &g);
				} else {
					double km = k->mount, xm = s->mount[i], dslip;
					double slip = log_slope(k->inverse, km * xm * (1 / FORCE_UNIT), &dslip);
					double den = 1 / (1 + h / 2 * km * dslip * (1 / FORCE_UNIT));
					double dx = h * (vd - slip) * den;
					s->mount[i] = xm + dx;
					d = km * (xm + dx / 2);
					g = km * h / 2 * den;
				}
				double grr = g * (rt * rt), y = 1 / (1 + grr * supple[i]);
				damp[i] = d;
				ratio[i] = rt;
				slopes[i] = g * rt;
				yield[i] = y;
				push[i] = grr * y;
				force[i] = f + rt * d;
				if (w > k->stop_at || w < k->top_at) limited = 1;
				double defl = (k->rest_deflection + rd[i]) - q->q, l = k->rate * defl;
				if (defl <= 0) l = 0;
				else if (defl > k->rim) l += k->rim_rate * (defl - k->rim);
				load[i] = l;
			}
		}
		if (limited) limit(m, out, n, travel, force);
		for (int a = 0; a < 2; a++) {
			double b = m->bars[a] * (travel[2 * a] - travel[2 * a + 1] - m->bar_free[a]);
			force[2 * a] += b;
			force[2 * a + 1] -= b;
		}
		double front = force[0] + force[1], rear = force[2] + force[3];
		double all = front + rear, az = all * m->inv_mass, ap = topple_p * p.q * all - (pitch[0] * front + pitch[2] * rear);
		double ar = topple_r * r.q * all + (roll[0] * force[0] + roll[1] * force[1]) + (roll[2] * force[2] + roll[3] * force[3]);
		double bz = z.a2 - 2 * z.a1, bp = p.a2 - 2 * p.a1, br = r.a2 - 2 * r.a1;
		double ez = h3 * (az + bz), ep = h3 * (ap + bp), er = h3 * (ar + br);
		for (int axle = 0; axle < 2; axle++) {
			double ex = ez - c[2 * axle].x * ep;
			for (int i = 2 * axle; i < 2 * axle + 2; i++) {
				struct coordinate *q = &s->wheel[i];
				double past = q->a2 - 2 * q->a1, a = (load[i] - force[i]) * c[i].inv_mass;
				double e = h3 * (a + past) - (ex + c[i].y * er), df = e * push[i];
				moved[i] = df;
				a = (a - m->gravity) - df * c[i].inv_mass;
				double delta = e * yield[i], d = damp[i] + slopes[i] * delta;
				out->damper[i][n] = d;
				out->speed[i][n] = mounted ? log_at(c[i].inverse, d * (1 / FORCE_UNIT)) : ratio[i] * (speeds[i] + delta);
				out->travel[i][n] = travel[i];
				out->load[i][n] = load[i];
				out->force[i][n] = force[i] + df;
				double v = q->v + h12 * past;
				ahead[i] = (v - h3 * q->a1) + ku * a;
				v += kv * a;
				q->v = v;
				q->q += h * v;
				q->a2 = q->a1;
				q->a1 = a;
			}
		}
		front = moved[0] + moved[1];
		rear = moved[2] + moved[3];
		az = (az - m->gravity) + (front + rear) * m->inv_mass;
		ap -= pitch[0] * front + pitch[2] * rear;
		ar += (roll[0] * moved[0] + roll[1] * moved[1]) + (roll[2] * moved[2] + roll[3] * moved[3]);
		out->heave[n] = az; out->pitch[n] = ap; out->roll[n] = ar;
		out->z[n] = z.q; out->p[n] = p.q; out->r[n] = r.q;
		double v;
#define PUSH(b, past, u, a) v = b.v + h12 * past, u = (v - h3 * b.a1) + ku * a, b.q = (b.q + h * v) + kq * a, b.v = v + kv * a, b.a2 = b.a1, b.a1 = a
		PUSH(z, bz, vz, az);
		PUSH(p, bp, vp, ap);
		PUSH(r, br, vr, ar);
	}
	s->body[0] = z;
	s->body[1] = p;
	s->body[2] = r;
}

static void advance_rigid(const struct car *m, struct state *s, const double (*road)[4], int n, struct block *b, double h) { steps(m, 0, s, road, n, b, h); }
static void advance_mount(const struct car *m, struct state *s, const double (*road)[4], int n, struct block *b, double h) { steps(m, 1, s, road, n, b, h); }

/* Everything the engine gathers on every run. */
struct tally {
	long count, sampled, low, lift, rim, outside, shares[2], dyno, in_stop, above[2], hits[2], top_outs, metal;
	double load, load2, load_max, load_min, travel, travel2, travel_max, travel_min, speed2, speed_max, speed_min, force_max, force_min;
	double stop_peak, deepest, top_force, top_speed;
	int was[2], opened;
	uint32_t travels[TRAVEL_BINS], speeds[SPEED_BINS];
};

struct ledger { double stop, travel, power, load, road, stops, heat, work, through; };

struct meter {
	struct filter f;
	double sum2, sum4, peak, raw2, raw_top, window, fresh, linear, decay, slow, slow_most;
	double *ring;
	int at, size;
	long count, bad;
};

struct full { struct tally t[4]; struct ledger l[4]; struct meter m[2]; double sink; };

static void sums(const double *x, int n, double zero, double *sum, double *sum2) {
	double s0 = 0, s1 = 0, q0 = 0, q1 = 0;
	int k = 0;
	for (; k + 1 < n; k += 2) {
		double a = x[k] - zero, b = x[k + 1] - zero;
		s0 += a; s1 += b; q0 += a * a; q1 += b * b;
	}
	if (k < n) { double a = x[k] - zero; s0 += a; q0 += a * a; }
	*sum += s0 + s1;
	*sum2 += q0 + q1;
}

static void stretch(const double *x, int n, double *most, double *least) {
	double hi = *most, lo = *least;
	for (int k = 0; k < n; k++) {
		if (x[k] > hi) hi = x[k];
		if (x[k] < lo) lo = x[k];
	}
	*most = hi;
	*least = lo;
}

static void tally_add(struct tally *t, const struct corner *c, int i, const struct block *b) {
	const double *load = b->load[i], *travel = b->travel[i], *speed = b->speed[i], bounds[2] = {0.05, 0.15}, levels[2] = {1000, 2000};
	int n = b->n;
	double idle = 0, lowest = 0.2 * c->rest_load;
	t->count += n;
	sums(load, n, c->rest_load, &t->load, &t->load2);
	stretch(load, n, &t->load_max, &t->load_min);
	if (t->load_min < lowest)
		for (int k = 0; k < n; k++) { t->low += load[k] < lowest; t->lift += load[k] <= 0; }
	if (t->load_max > c->rate * c->rim)
		for (int k = 0; k < n; k++) t->rim += load[k] > c->rate * c->rim;
	sums(travel, n, c->rest_travel, &t->travel, &t->travel2);
	stretch(travel, n, &t->travel_max, &t->travel_min);
	t->sampled += (n + 1) / 2;
	for (int k = 0; k < n; k += 2) t->travels[(unsigned)(int)((travel[k] + 0.256) * 2000) % TRAVEL_BINS]++;
	if (t->travel_max > 0.25 || t->travel_min < -0.25)
		for (int k = 0; k < n; k++) t->outside += fabs(travel[k]) > 0.25;
	sums(speed, n, 0, &idle, &t->speed2);
	stretch(speed, n, &t->speed_max, &t->speed_min);
	for (int k = 0; k < n; k += 2) t->speeds[(unsigned)(int)((speed[k] + 5.12) * 100) % SPEED_BINS]++;
	for (int j = 0; j < 2; j++) {
		long over = 0;
		for (int k = 0; k < n; k += 2) over += fabs(speed[k]) > bounds[j];
		t->shares[j] += over;
	}
	if (t->speed_max > c->dyno_max || t->speed_min < c->dyno_min)
		for (int k = 0; k < n; k++) t->dyno += speed[k] > c->dyno_max || speed[k] < c->dyno_min;
	stretch(b->force[i], n, &t->force_max, &t->force_min);
	if (b->touched[i]) {
		for (int k = 0; k < n; k++) {
			double f = b->stop[i][k], r;
			if (f == 0) { t->was[0] = t->was[1] = 0; continue; }
			position_at(c->position, travel[k], &idle, &r);
			f /= r;
			t->in_stop++;
			t->stop_peak = fmax(t->stop_peak, f);
			t->deepest = fmax(t->deepest, travel[k]);
			t->metal += travel[k] > 0.09;
			for (int j = 0; j < 2; j++) {
				int is = f > levels[j];
				t->above[j] += is;
				t->hits[j] += is && !t->was[j];
				t->was[j] = is;
			}
		}
	} else t->was[0] = t->was[1] = 0;
	if (b->opened[i]) {
		for (int k = 0; k < n; k++) {
			double f = b->top[i][k], r;
			if (f == 0) { t->opened = 0; continue; }
			position_at(c->position, travel[k], &idle, &r);
			t->top_force = fmax(t->top_force, f / r);
			if (!t->opened) { t->top_outs++; t->top_speed = fmax(t->top_speed, -speed[k]); }
			t->opened = 1;
		}
	} else t->opened = 0;
}

static void balance(struct ledger *t, int i, const struct block *b, const double (*road)[4], double h) {
	double load = t->load, z0 = t->road, power = t->power, work = 0, heat = 0, through = 0;
	for (int k = 0; k < b->n; k++) {
		double l = b->load[i][k], z = road[k][i], dw = (l + load) * (z - z0), p = b->damper[i][k] * b->speed[i][k];
		work += dw;
		through += fabs(dw);
		load = l;
		z0 = z;
		heat += p + power;
		power = p;
	}
	t->load = load; t->road = z0; t->power = power;
	t->work += work / 2;
	t->through += through / 2;
	t->heat += heat / 2 * h;
	if (b->touched[i])
		for (int k = 0; k < b->n; k++) {
			t->stops += (b->stop[i][k] + t->stop) / 2 * (b->travel[i][k] - t->travel);
			t->stop = b->stop[i][k];
			t->travel = b->travel[i][k];
		}
	else t->travel = b->travel[i][b->n - 1];
}

static inline void meter_add(struct meter *m, double a) {
	if (!isfinite(a)) { m->bad++; return; }
	double y = filter_next(&m->f, a), square = y * y;
	m->count++;
	m->raw2 += a * a;
	if (fabs(a) > m->raw_top) m->raw_top = fabs(a);
	m->sum2 += square;
	m->sum4 += square * square;
	if (fabs(y) > m->peak) m->peak = fabs(y);
	m->window += square - m->ring[m->at];
	m->ring[m->at] = square;
	m->fresh += square;
	if (++m->at == m->size) { m->at = 0; m->window = m->fresh; m->fresh = 0; }
	if (m->window > m->linear) m->linear = m->window;
	m->slow += (square - m->slow) * m->decay;
	if (m->slow > m->slow_most) m->slow_most = m->slow;
}

static struct { const struct road *r; double h; double (*z)[4]; } store[256];
static int stored;

static const double (*course(const struct road *r, double h, int64_t n))[4] {
	for (int i = 0; i < stored; i++)
		if (store[i].r == r && store[i].h == h) return (const double (*)[4])store[i].z;
	store[stored].r = r;
	store[stored].h = h;
	store[stored].z = sampled(r, h, n);
	return (const double (*)[4])store[stored++].z;
}

static struct full all;
static double rings[2][8192];

static int run(const struct car *c, int mount, const struct road *r, double h, struct core *m, int full) {
	int64_t count = llround(r->duration / h), skip = llround(r->settle / h);
	const double (*road)[4] = course(r, h, count + 1);
	struct state s = {0};
	struct block b;
	core_begin(m, c, h);
	if (full) {
		memset(&all, 0, sizeof all);
		for (int i = 0; i < 4; i++) {
			struct tally *t = &all.t[i];
			t->load_max = t->travel_max = t->speed_max = t->force_max = -HUGE_VAL;
			t->load_min = t->travel_min = t->speed_min = t->force_min = HUGE_VAL;
			all.l[i].load = c->corner[i].rest_load;
		}
		for (int k = 0; k < 2; k++) {
			struct meter *w = &all.m[k];
			make_wk(&w->f, c->wk, h);
			w->ring = rings[k];
			w->size = (int)llround(1 / h);
			memset(w->ring, 0, sizeof rings[k]);
			w->decay = -expm1(-h);
		}
	}
	for (int64_t n = 0; n < count;) {
		int k = count - n < BLOCK ? (int)(count - n) : BLOCK;
		if (n < skip && skip - n < k) k = (int)(skip - n);
		if (n == skip) core_start(m);
		if (mount) advance_mount(c, &s, road + n, k, &b, h);
		else advance_rigid(c, &s, road + n, k, &b, h);
		if (!(fabs(s.body[0].q) < 10)) return 1;
		if (full) {
			for (int i = 0; i < 4; i++) balance(&all.l[i], i, &b, road + n, h);
			for (int j = 0; j < 2; j++) {
				struct meter *w = &all.m[j];
				if (n == skip) { w->sum2 = w->sum4 = w->peak = w->raw2 = w->raw_top = 0; w->count = 0; w->linear = w->window; w->slow_most = w->slow; }
				for (int a = 0; a < k; a++) meter_add(w, b.heave[a] - c->px[j] * b.pitch[a] + c->py[j] * b.roll[a]);
			}
			if (n >= skip) {
				for (int i = 0; i < 4; i++) tally_add(&all.t[i], &c->corner[i], i, &b);
				for (int a = 0; a < k; a++) all.sink -= b.z[a];
			}
		} else {
			for (int j = 0; j < 2; j++)
				for (int a = 0; a < k; a++) {
					double y = filter_next(&m->floor[j], b.heave[a] - c->px[j] * b.pitch[a] + c->py[j] * b.roll[a]);
					m->square[j] += y * y;
				}
			for (int i = 0; i < 4; i++) {
				double least = HUGE_VAL;
				sums(b.load[i], k, c->corner[i].rest_load, &m->load[i], &m->load2[i]);
				stretch(b.travel[i], k, &m->high[i], &m->low[i]);
				stretch(b.force[i], k, &m->force[i], &least);
			}
			m->n += k;
		}
		n += k;
	}
	if (full) {
		m->n = all.t[0].count;
		for (int j = 0; j < 2; j++) m->square[j] = all.m[j].sum2;
		for (int i = 0; i < 4; i++) {
			struct tally *t = &all.t[i];
			m->load[i] = t->load; m->load2[i] = t->load2;
			m->high[i] = t->travel_max; m->low[i] = t->travel_min; m->force[i] = t->force_max;
		}
	}
	return 0;
}

static int core(const struct car *c, int mount, const struct road *r, double h, double sample, struct core *m) {
	(void)sample;
	return run(c, mount, r, h, m, 0);
}

static int everything(const struct car *c, int mount, const struct road *r, double h, double sample, struct core *m) {
	(void)sample;
	return run(c, mount, r, h, m, 1);
}

int main(int argc, char **argv) {
	const double steps[] = {0.5e-3, 0.75e-3, 1e-3, 1.25e-3, 1.5e-3, 1.75e-3, 2e-3, 2.5e-3, 0}, none[] = {0, -1};
	char name[64];
	if (argc < 3) return 2;
	snprintf(name, sizeof name, "%s-core", argv[1]);
	try_all(name, core, argv[2], steps, none, 15);
	snprintf(name, sizeof name, "%s-full", argv[1]);
	try_all(name, everything, argv[2], steps, none, 15);
	return 0;
}
