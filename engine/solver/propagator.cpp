#include "engine/solver/propagator.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "engine/solver/dense_matrix.h"

namespace tiepoint {
namespace {

constexpr int kSquarings = 16;
constexpr size_t kKept = 8;              // powers
constexpr double kSameLength = 1e-10;    // relative
constexpr double kProportional = 1e-12;  // of the largest forcing

}  // namespace

bool Propagator::take(const Island& island) {
  ready_ = false;
  const int n = size_ = island.size;
  if (!island.linear || island.has_modes || !island.stores || n > kLargest) return false;
  for (const Knot& knot : island.knots)
    if (!knot.charged) return false;
  std::vector<double> g, c;
  island.linear_matrices(&g, &c);
  if (known_ && g == g_ && c == c_) return ready_ = true;
  known_ = false;
  powers_.clear();
  g_ = std::move(g), c_ = std::move(c);
  g_lu_.resize(n);
  if (g_lu_.factor(g_.data()) >= 0) return false;
  // A pivot that is only rounding noise lets factor() pass: the solution of a known right side tells.
  y_.assign(size_t(n), 1.0);
  std::vector<double> b(size_t(n), 0.0);
  for (int i = 0; i < n; ++i)
    for (int j = 0; j < n; ++j) b[size_t(i)] += g_[size_t(i * n + j)];
  g_lu_.solve(b.data());
  for (const double v : b)
    if (!(std::fabs(v - 1) < 1e-6)) return false;
  xa_.resize(size_t(n)), xb_.resize(size_t(n));
  return known_ = ready_ = true;
}

void Propagator::forcing(Island& island, std::vector<double>* f, std::vector<double>* q) const {
  std::fill(island.x.begin(), island.x.begin() + size_, 0.0);
  island.evaluate_exactly();
  f->assign(island.f.begin(), island.f.begin() + size_);
  q->assign(island.q.begin(), island.q.begin() + size_);
}

bool Propagator::begin(double time, double length, bool moving) {
  const int n = size_;
  began_ = time;
  std::fill(xb_.begin(), xb_.end(), 0.0);
  for (int i = 0; i < n; ++i) xa_[size_t(i)] = -f_[0][size_t(i)];
  if (moving) {
    double largest = 0;
    for (const auto& f : f_)
      for (const double v : f) largest = std::max(largest, std::fabs(v));
    for (size_t i = 0; i < size_t(n); ++i) {
      const auto bends = [i](const std::vector<double>* v, double size) {
        return !(std::fabs(v[1][i] - 0.5 * (v[0][i] + v[2][i])) <= kProportional * size);
      };
      if (bends(f_, largest) || bends(q_, std::fabs(q_[0][i]) + std::fabs(q_[2][i]))) return false;
      xb_[i] = -(f_[2][i] - f_[0][i]) / length;
      xa_[i] -= (q_[2][i] - q_[0][i]) / length;
    }
    g_lu_.solve(xb_.data());
    for (int i = 0; i < n; ++i)
      for (int j = 0; j < n; ++j) xa_[size_t(i)] -= c_[size_t(i * n + j)] * xb_[size_t(j)];
  }
  g_lu_.solve(xa_.data());
  return true;
}

// The loops of carry() over a handful of unknowns, without loops.
template <int N>
void Propagator::carry_few(const double* e, double since, double h, double* x) const {
  double y[N];
  for (int i = 0; i < N; ++i) y[i] = x[i] - (xa_[size_t(i)] + since * xb_[size_t(i)]);
  for (int i = 0; i < N; ++i, e += N) {
    double sum = h * xb_[size_t(i)];
    for (int j = 0; j < N; ++j) sum += e[j] * y[j];
    x[i] += sum;
  }
}

bool Propagator::carry(double* x, double time, double h) {
  const std::vector<double>* e = power(h);
  if (e == nullptr) return false;
  const int n = size_;
  const double since = time - began_;
  switch (n) {
    case 1: return carry_few<1>(e->data(), since, h, x), true;
    case 2: return carry_few<2>(e->data(), since, h, x), true;
    case 3: return carry_few<3>(e->data(), since, h, x), true;
    case 4: return carry_few<4>(e->data(), since, h, x), true;
  }
  for (int i = 0; i < n; ++i) y_[size_t(i)] = x[i] - (xa_[size_t(i)] + since * xb_[size_t(i)]);
  const double* row = e->data();
  for (int i = 0; i < n; ++i, row += n) {
    double sum = h * xb_[size_t(i)];
    for (int j = 0; j < n; ++j) sum += row[j] * y_[size_t(j)];
    x[i] += sum;
  }
  return true;
}

// With T = (C + d G)^-1 C and W = T - 1 = -(C + d G)^-1 d G, where T = 1 / (1 - z) for a motion exp(z t / d):
//   R = N / D,  N - D = W (T^2 - W T / 10 + W^2 / 60),  D = T^3 - 3/5 W T^2 + 3/20 W^2 T - W^3 / 60
const std::vector<double>* Propagator::power(double h) {
  for (const Power& p : powers_)
    if (std::fabs(p.h - h) <= kSameLength * h) return &p.e;
  const int n = size_;
  const double d = std::ldexp(h, -kSquarings);
  const DenseMatrix left = combine(c_, d, g_);
  DenseMatrix w, t, e;
  if (!divide(left, g_, n, &w) || !divide(left, c_, n, &t)) return nullptr;
  for (double& v : w) v *= -d;
  const DenseMatrix t2 = product(t, t, n), wt = product(w, t, n), w2 = product(w, w, n);
  const DenseMatrix above = product(w, combine(combine(t2, -0.1, wt), 1.0 / 60, w2), n);
  DenseMatrix below = combine(product(t2, t, n), -0.6, product(wt, t, n));
  below = combine(combine(below, 0.15, product(w2, t, n)), -1.0 / 60, product(w2, w, n));
  if (!divide(below, above, n, &e)) return nullptr;
  for (int k = 0; k < kSquarings; ++k) {
    const DenseMatrix square = product(e, e, n);
    for (size_t i = 0; i < e.size(); ++i) e[i] = 2 * e[i] + square[i];
  }
  for (const double v : e)
    if (!std::isfinite(v)) return nullptr;
  if (powers_.size() < kKept) {
    powers_.push_back({h, std::move(e)});
    return &powers_.back().e;
  }
  oldest_ = (oldest_ + 1) % kKept;
  powers_[oldest_] = {h, std::move(e)};
  return &powers_[oldest_].e;
}

}  // namespace tiepoint
