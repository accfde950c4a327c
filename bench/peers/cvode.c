/* SUNDIALS CVODE: BDF with a dense Newton matrix by differences, and Adams with fixed-point iteration. */
#include "car.h"
#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_context.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <sunnonlinsol/sunnonlinsol_fixedpoint.h>

struct problem { const struct car *c; const struct road *r; int mount; };

static int f(realtype t, N_Vector y, N_Vector dy, void *user) {
	struct problem *p = user;
	double z[4];
	road_at(p->r, t, z);
	rhs(p->c, p->mount, z, N_VGetArrayPointer(y), N_VGetArrayPointer(dy), 0);
	return 0;
}

static int run(int method, const struct car *c, int mount, const struct road *r, double tol, double sample, struct core *m) {
	struct problem p = {c, r, mount};
	const int N = mount ? 18 : 14;
	SUNContext ctx;
	if (SUNContext_Create(NULL, &ctx)) return 1;
	N_Vector y = N_VNew_Serial(N, ctx), tolerance = N_VNew_Serial(N, ctx);
	N_VConst(0, y);
	double *a = N_VGetArrayPointer(tolerance);
	/* Displacements are of the order of 1 cm, speeds of 0.1 m/s, mounts of 1 mm. */
	for (int j = 0; j < N; j++) a[j] = tol * (j < 7 ? 1e-2 : j < 14 ? 1e-1 : 1e-3);
	void *mem = CVodeCreate(method, ctx);
	SUNMatrix J = NULL;
	SUNLinearSolver L = NULL;
	SUNNonlinearSolver F = NULL;
	int bad = CVodeInit(mem, f, 0, y) | CVodeSVtolerances(mem, tol, tolerance) | CVodeSetUserData(mem, &p) |
		CVodeSetMaxNumSteps(mem, 100000) | CVodeSetMaxStep(mem, 5e-3);
	CVodeSetErrFile(mem, NULL);
	if (method == CV_BDF) {
		J = SUNDenseMatrix(N, N, ctx);
		L = SUNLinSol_Dense(y, J, ctx);
		bad |= CVodeSetLinearSolver(mem, L, J);
	} else {
		F = SUNNonlinSol_FixedPoint(y, 0, ctx);
		bad |= CVodeSetNonlinearSolver(mem, F);
	}
	int64_t steps = llround(r->duration / sample), skip = llround(r->settle / sample);
	core_begin(m, c, sample);
	struct view v;
	double t = 0, z[4], dy[18];
	for (int64_t n = 0; n < steps && !bad; n++) {
		if (n == skip) core_start(m);
		if (n > 0) bad = CVode(mem, (double)n * sample, y, &t, CV_NORMAL) < 0;
		road_at(r, (double)n * sample, z);
		rhs(c, mount, z, N_VGetArrayPointer(y), dy, &v);
		core_add(m, c, &v);
	}
	N_VDestroy(y);
	N_VDestroy(tolerance);
	CVodeFree(&mem);
	if (L) SUNLinSolFree(L);
	if (J) SUNMatDestroy(J);
	if (F) SUNNonlinSolFree(F);
	SUNContext_Free(&ctx);
	return bad;
}

static int bdf(const struct car *c, int mount, const struct road *r, double tol, double sample, struct core *m) {
	return run(CV_BDF, c, mount, r, tol, sample, m);
}

static int adams(const struct car *c, int mount, const struct road *r, double tol, double sample, struct core *m) {
	return run(CV_ADAMS, c, mount, r, tol, sample, m);
}

int main(int argc, char **argv) {
	const double tol[] = {1e-1, 3e-2, 1e-2, 3e-3, 1e-3, 3e-4, 1e-4, 0}, samples[] = {1e-3, 2e-3, -1};
	if (argc < 2) return 2;
	try_all("cvode-bdf", bdf, argv[1], tol, samples, 3);
	try_all("cvode-adams", adams, argv[1], tol, samples, 3);
	return 0;
}
