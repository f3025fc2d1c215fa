#include "tests/bench/libraries.h"

#include <Eigen/Dense>
#include <ida/ida.h>
#include <kinsol/kinsol.h>
#include <klu.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <sunmatrix/sunmatrix_sparse.h>

#include <algorithm>
#include <cmath>

namespace tiepoint::bench {
namespace {

struct Equations {
  const Sheet* sheet;
  double since = 0;
  std::vector<double> values;   // of the Jacobian, by columns
  std::vector<double> nothing;  // y' of a settled state
};

// The values by columns into a matrix of the library.
void hand_over(const Sheet& sheet, const std::vector<double>& values, SUNMatrix to) {
  const int n = sheet.size();
  if (SUNMatGetID(to) == SUNMATRIX_DENSE) {
    SUNMatZero(to);
    for (int column = 0; column < n; ++column) {
      double* at = SUNDenseMatrix_Column(to, column);
      for (int p = sheet.first()[size_t(column)]; p < sheet.first()[size_t(column) + 1]; ++p) at[sheet.row()[size_t(p)]] = values[size_t(p)];
    }
    return;
  }
  std::copy(sheet.first().begin(), sheet.first().end(), SUNSparseMatrix_IndexPointers(to));
  std::copy(sheet.row().begin(), sheet.row().end(), SUNSparseMatrix_IndexValues(to));
  std::copy(values.begin(), values.end() - 1, SUNSparseMatrix_Data(to));
}

int ida_residual(realtype t, N_Vector y, N_Vector yp, N_Vector r, void* user) {
  const auto& e = *static_cast<Equations*>(user);
  e.sheet->residual(t, e.since, N_VGetArrayPointer(y), N_VGetArrayPointer(yp), N_VGetArrayPointer(r));
  return 0;
}

int ida_jacobian(realtype, realtype cj, N_Vector y, N_Vector, N_Vector, SUNMatrix to, void* user, N_Vector, N_Vector, N_Vector) {
  auto& e = *static_cast<Equations*>(user);
  e.sheet->jacobian(N_VGetArrayPointer(y), cj, e.values.data());
  hand_over(*e.sheet, e.values, to);
  return 0;
}

int kinsol_residual(N_Vector y, N_Vector r, void* user) {
  const auto& e = *static_cast<Equations*>(user);
  e.sheet->residual(0, 0, N_VGetArrayPointer(y), e.nothing.data(), N_VGetArrayPointer(r));
  return 0;
}

int kinsol_jacobian(N_Vector y, N_Vector, SUNMatrix to, void* user, N_Vector, N_Vector) {
  auto& e = *static_cast<Equations*>(user);
  e.sheet->jacobian(N_VGetArrayPointer(y), 0, e.values.data());
  hand_over(*e.sheet, e.values, to);
  return 0;
}

void quiet(int, const char*, const char*, char*, void*) {}

SUNMatrix new_matrix(const Sheet& sheet, Linear linear, SUNContext context) {
  const auto n = sunindextype(sheet.size());
  return linear == Linear::kDense ? SUNDenseMatrix(n, n, context)
                                  : SUNSparseMatrix(n, n, sunindextype(sheet.row().size()), CSC_MAT, context);
}

SUNLinearSolver new_solver(Linear linear, N_Vector y, SUNMatrix matrix, SUNContext context) {
  return linear == Linear::kDense ? SUNLinSol_Dense(y, matrix, context) : SUNLinSol_KLU(y, matrix, context);
}

// The rates of the algebraic unknowns, from the derivative of their equations: without them IDA's first step fails where a
// source is moving.
void complete_rates(Equations& e, const std::vector<double>& differential, double t, const double* y, double* yp) {
  const Sheet& sheet = *e.sheet;
  const int n = sheet.size();
  std::vector<int> at(size_t(n), -1);
  int count = 0;
  for (int k = 0; k < n; ++k)
    if (differential[size_t(k)] == 0) at[size_t(k)] = count++;
  if (count == 0) return;
  std::vector<double> now(size_t(n), 0.0), soon(size_t(n), 0.0);
  const double delta = 1e-9;
  sheet.residual(t, e.since, y, yp, now.data());
  sheet.residual(t + delta, e.since, y, yp, soon.data());
  sheet.jacobian(y, 0, e.values.data());
  Eigen::MatrixXd a = Eigen::MatrixXd::Zero(count, count);
  Eigen::VectorXd b(count);
  for (int k = 0; k < n; ++k)
    if (at[size_t(k)] >= 0) b[at[size_t(k)]] = -(soon[size_t(k)] - now[size_t(k)]) / delta;
  for (int column = 0; column < n; ++column)
    for (int p = sheet.first()[size_t(column)]; p < sheet.first()[size_t(column) + 1]; ++p) {
      const int row = at[size_t(sheet.row()[size_t(p)])];
      if (row < 0) continue;
      if (at[size_t(column)] >= 0) a(row, at[size_t(column)]) += e.values[size_t(p)];
      else b[row] -= e.values[size_t(p)] * yp[column];
    }
  const Eigen::VectorXd rates = a.partialPivLu().solve(b);
  for (int k = 0; k < n; ++k)
    if (at[size_t(k)] >= 0) yp[k] = rates[at[size_t(k)]];
}

}  // namespace

std::vector<double> run_ida(const Case& c, Linear linear, double tolerance) {
  const Sheet sheet(c.circuit);
  Equations equations = {&sheet, 0, std::vector<double>(sheet.row().size() + 1), {}};
  SUNContext context;
  SUNContext_Create(nullptr, &context);
  const auto n = sunindextype(sheet.size());
  N_Vector y = N_VNew_Serial(n, context), yp = N_VNew_Serial(n, context), id = N_VNew_Serial(n, context);
  N_VConst(0, yp);
  sheet.start(N_VGetArrayPointer(y));
  const std::vector<double> differential = sheet.differential();
  std::copy(differential.begin(), differential.end(), N_VGetArrayPointer(id));
  void* ida = IDACreate(context);
  SUNMatrix matrix = new_matrix(sheet, linear, context);
  SUNLinearSolver solver = new_solver(linear, y, matrix, context);
  IDAInit(ida, ida_residual, 0, y, yp);
  IDASetErrHandlerFn(ida, quiet, nullptr);
  IDASStolerances(ida, tolerance, tolerance * 1e-2);
  IDASetUserData(ida, &equations);
  IDASetMaxNumSteps(ida, 10000000);
  IDASetLinearSolver(ida, solver, matrix);
  IDASetJacFn(ida, ida_jacobian);
  IDASetId(ida, id);

  std::vector<double> out;
  out.reserve(size_t(c.samples) * c.probes.size());
  const auto store = [&] {
    for (const int probe : c.probes) out.push_back(N_VGetArrayPointer(y)[sheet.row_of_node(probe)]);
  };
  double begin = 0, corner = sheet.next_corner(0);
  bool ok = true, restart = true;
  for (int k = 0; k < c.samples && ok;) {
    const double sample = c.sample(k);
    if (restart) {
      equations.since = begin;
      if (begin > 0) N_VConst(0, yp), IDAReInit(ida, begin, y, yp);
      ok = IDACalcIC(ida, IDA_YA_YDP_INIT, begin + 1e-3 * (std::min(corner, c.end) - begin)) == IDA_SUCCESS;
      if (ok) {
        IDAGetConsistentIC(ida, y, yp);
        complete_rates(equations, differential, begin, N_VGetArrayPointer(y), N_VGetArrayPointer(yp));
        ok = IDAReInit(ida, begin, y, yp) == IDA_SUCCESS;
      }
      if (std::isfinite(corner)) IDASetStopTime(ida, corner);
      restart = false;
      if (!ok) break;
    }
    const bool to_corner = corner <= sample * (1 + 1e-12);
    const double target = to_corner ? corner : sample;
    realtype reached = begin;
    ok = IDASolve(ida, target, &reached, y, yp, IDA_NORMAL) >= 0;
    if (to_corner) {
      begin = corner, corner = sheet.next_corner(corner);
      restart = true;
      if (std::fabs(begin - sample) > 1e-12 * sample) continue;
    }
    if (ok) store(), ++k;
  }
  IDAFree(&ida);
  SUNLinSolFree(solver);
  SUNMatDestroy(matrix);
  for (N_Vector v : {y, yp, id}) N_VDestroy(v);
  SUNContext_Free(&context);
  if (!ok) out.clear();
  return out;
}

std::vector<double> run_kinsol(const Circuit& circuit, double* residual) {
  const Sheet sheet(circuit);
  Equations equations = {&sheet, 0, std::vector<double>(sheet.row().size() + 1), std::vector<double>(size_t(sheet.size()), 0.0)};
  SUNContext context;
  SUNContext_Create(nullptr, &context);
  const auto n = sunindextype(sheet.size());
  N_Vector y = N_VNew_Serial(n, context), one = N_VNew_Serial(n, context);
  N_VConst(0, y);
  N_VConst(1, one);
  void* kinsol = KINCreate(context);
  SUNMatrix matrix = new_matrix(sheet, Linear::kKlu, context);
  SUNLinearSolver solver = new_solver(Linear::kKlu, y, matrix, context);
  KINInit(kinsol, kinsol_residual, y);
  KINSetErrHandlerFn(kinsol, quiet, nullptr);
  KINSetUserData(kinsol, &equations);
  KINSetLinearSolver(kinsol, solver, matrix);
  KINSetJacFn(kinsol, kinsol_jacobian);
  KINSetFuncNormTol(kinsol, 1e-12);
  KINSetScaledStepTol(kinsol, 1e-14);
  KINSetMaxSetupCalls(kinsol, 1);
  KINSetNumMaxIters(kinsol, 500);
  KINSetMaxNewtonStep(kinsol, 1e30);  // or it gives up where an exponential asks for large steps
  const int flag = KINSol(kinsol, y, KIN_LINESEARCH, one, one);
  std::vector<double> out, r(size_t(sheet.size()));
  sheet.residual(0, 0, N_VGetArrayPointer(y), equations.nothing.data(), r.data());
  *residual = 0;
  for (int k = 0; k < circuit.node_count - 1; ++k) *residual = std::max(*residual, std::fabs(r[size_t(k)]));
  if (flag >= 0) {
    out.push_back(0);
    for (int k = 0; k < circuit.node_count - 1; ++k) out.push_back(N_VGetArrayPointer(y)[k]);
  }
  KINFree(&kinsol);
  SUNLinSolFree(solver);
  SUNMatDestroy(matrix);
  N_VDestroy(y), N_VDestroy(one);
  SUNContext_Free(&context);
  return out;
}

struct Klu::State {
  Pattern pattern;
  klu_common common;
  klu_symbolic* symbolic;
  klu_numeric* numeric;
};

Klu::Klu(const Pattern& pattern) : state_(new State{pattern, {}, nullptr, nullptr}) {
  State& s = *state_;
  klu_defaults(&s.common);
  s.common.scale = 0;
  s.symbolic = klu_analyze(s.pattern.size, s.pattern.first.data(), s.pattern.row.data(), &s.common);
  s.numeric = klu_factor(s.pattern.first.data(), s.pattern.row.data(), s.pattern.value.data(), s.symbolic, &s.common);
}

Klu::~Klu() {
  klu_free_numeric(&state_->numeric, &state_->common);
  klu_free_symbolic(&state_->symbolic, &state_->common);
  delete state_;
}

bool Klu::refactor(const double* value) {
  State& s = *state_;
  return klu_refactor(s.pattern.first.data(), s.pattern.row.data(), const_cast<double*>(value), s.symbolic, s.numeric, &s.common) != 0;
}

void Klu::solve(double* b) { klu_solve(state_->symbolic, state_->numeric, state_->pattern.size, 1, b, &state_->common); }

}  // namespace tiepoint::bench
