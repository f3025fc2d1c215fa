#include "tests/bench/sheet.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <limits>
#include <utility>

#include "engine/devices/model.h"
#include "engine/devices/source.h"

namespace tiepoint::bench {
namespace {

double value_or(std::span<const double> p, size_t k, double otherwise) { return k < p.size() ? p[k] : otherwise; }

// exp that goes on straight where it would overflow, so that no iteration of a library ends in infinity.
double soft_exp(double x, double* slope) {
  if (x < 200) return *slope = std::exp(x);
  *slope = std::exp(200.0);
  return *slope * (1 + x - 200);
}

}  // namespace

Sheet::Sheet(const Circuit& circuit) {
  size_ = circuit.node_count - 1;
  for (const Element& e : circuit.elements) {
    const auto nodes = circuit.nodes(e);
    const auto p = circuit.values(e);
    const auto row = [&](int k) { return nodes[size_t(k)] - 1; };
    switch (e.kind) {
      case ElementKind::kResistor: resistors_.push_back({row(0), row(1), -1, 1 / p[0], 0, 0, {}}); break;
      case ElementKind::kCapacitor: capacitors_.push_back({row(0), row(1), -1, p[0], value_or(p, 1, 0), 0, {}}); break;
      case ElementKind::kInductor: coils_.push_back({row(0), row(1), size_++, p[0], value_or(p, 1, 0), value_or(p, 2, 0), {}}); break;
      case ElementKind::kVoltageSource: sources_.push_back({row(0), row(1), size_++, {p.begin(), p.end()}, {}}); break;
      case ElementKind::kDiode: diodes_.push_back({row(0), row(1), -1, p[0], value_or(p, 1, 1) * 0.025852, 0, {}}); break;
      case ElementKind::kNpn:
        transistors_.push_back({row(0), row(1), row(2), p[0], p[1], p[2], p[3], value_or(p, 4, 0), value_or(p, 5, 0), {}});
        break;
      default: std::fprintf(stderr, "bench: an element the reference does not know\n"), std::exit(2);
    }
  }
  for (Source& s : sources_) s.wave.resize(kDuty + 1, 0.0);
  find_slots();
}

void Sheet::find_slots() {
  std::vector<std::pair<int, int>> places;  // column, row
  const auto each = [&](auto&& use) {
    for (auto* list : {&resistors_, &capacitors_, &diodes_})
      for (Two& t : *list) {
        const int r[2] = {t.p, t.n};
        for (int k = 0; k < 4; ++k) t.slot[k] = use(r[k / 2], r[k % 2]);
      }
    for (Two& t : coils_)
      t.slot[0] = use(t.p, t.extra), t.slot[1] = use(t.n, t.extra), t.slot[2] = use(t.extra, t.p), t.slot[3] = use(t.extra, t.n),
      t.slot[4] = use(t.extra, t.extra);
    for (Source& s : sources_)
      s.slot[0] = use(s.p, s.extra), s.slot[1] = use(s.n, s.extra), s.slot[2] = use(s.extra, s.p), s.slot[3] = use(s.extra, s.n);
    for (Three& t : transistors_) {
      const int r[3] = {t.c, t.b, t.e};
      for (int k = 0; k < 9; ++k) t.slot[k] = use(r[k / 3], r[k % 3]);
    }
  };
  each([&](int row, int column) {
    if (row >= 0 && column >= 0) places.emplace_back(column, row);
    return 0;
  });
  for (int k = 0; k < size_; ++k) places.emplace_back(k, k);
  std::sort(places.begin(), places.end());
  places.erase(std::unique(places.begin(), places.end()), places.end());
  first_.assign(size_t(size_) + 1, 0);
  for (const auto& [column, row] : places) ++first_[size_t(column) + 1], row_.push_back(row);
  for (int k = 0; k < size_; ++k) first_[size_t(k) + 1] += first_[size_t(k)];
  const int nowhere = int(row_.size());
  each([&](int row, int column) {
    if (row < 0 || column < 0) return nowhere;
    return int(std::lower_bound(places.begin(), places.end(), std::pair(column, row)) - places.begin());
  });
}

void Sheet::residual(double t, double since, const double* y, const double* yp, double* r) const {
  std::fill(r, r + size_, 0.0);
  const auto at = [](const double* v, int row) { return row < 0 ? 0.0 : v[row]; };
  const auto flow = [&](int p, int n, double i) {
    if (p >= 0) r[p] += i;
    if (n >= 0) r[n] -= i;
  };
  for (const Two& e : resistors_) flow(e.p, e.n, e.a * (at(y, e.p) - at(y, e.n)));
  for (const Two& e : capacitors_) flow(e.p, e.n, e.a * (at(yp, e.p) - at(yp, e.n)));
  double slope;
  for (const Two& e : diodes_) flow(e.p, e.n, e.a * (soft_exp((at(y, e.p) - at(y, e.n)) / e.b, &slope) - 1));
  for (const Two& e : coils_) {
    flow(e.p, e.n, y[e.extra]);
    r[e.extra] = at(y, e.p) - at(y, e.n) - e.c * y[e.extra] - e.a * yp[e.extra];
  }
  for (const Source& s : sources_) {
    flow(s.p, s.n, y[s.extra]);
    r[s.extra] = at(y, s.p) - at(y, s.n) - waveform_value(s.wave, t, since);
  }
  for (const Three& q : transistors_) {
    const double f = q.is * (soft_exp((at(y, q.b) - at(y, q.e)) / q.vt, &slope) - 1);
    const double b = q.is * (soft_exp((at(y, q.b) - at(y, q.c)) / q.vt, &slope) - 1);
    flow(q.c, q.e, f - b);
    flow(q.b, q.c, b / q.br + q.cbc * (at(yp, q.b) - at(yp, q.c)));
    flow(q.b, q.e, f / q.bf + q.cbe * (at(yp, q.b) - at(yp, q.e)));
  }
}

void Sheet::jacobian(const double* y, double cj, double* value) const {
  std::fill(value, value + row_.size() + 1, 0.0);
  const auto at = [&](int row) { return row < 0 ? 0.0 : y[row]; };
  const auto branch = [&](const int* slot, double g) {
    value[slot[0]] += g, value[slot[1]] -= g, value[slot[2]] -= g, value[slot[3]] += g;
  };
  for (const Two& e : resistors_) branch(e.slot, e.a);
  for (const Two& e : capacitors_) branch(e.slot, cj * e.a);
  double slope;
  for (const Two& e : diodes_) {
    soft_exp((at(e.p) - at(e.n)) / e.b, &slope);
    branch(e.slot, e.a * slope / e.b);
  }
  for (const Two& e : coils_) {
    value[e.slot[0]] += 1, value[e.slot[1]] -= 1, value[e.slot[2]] += 1, value[e.slot[3]] -= 1;
    value[e.slot[4]] -= e.c + cj * e.a;
  }
  for (const Source& s : sources_) value[s.slot[0]] += 1, value[s.slot[1]] -= 1, value[s.slot[2]] += 1, value[s.slot[3]] -= 1;
  for (const Three& q : transistors_) {
    soft_exp((at(q.b) - at(q.e)) / q.vt, &slope);
    const double gf = q.is * slope / q.vt;
    soft_exp((at(q.b) - at(q.c)) / q.vt, &slope);
    const double gr = q.is * slope / q.vt;
    const double be = gf / q.bf + cj * q.cbe, bc = gr / q.br + cj * q.cbc;
    double m[9] = {};  // rows c, b, e
    m[0] += gr, m[1] += gf - gr, m[2] -= gf;
    m[6] -= gr, m[7] -= gf - gr, m[8] += gf;
    m[4] += bc, m[3] -= bc, m[1] -= bc, m[0] += bc;
    m[4] += be, m[5] -= be, m[7] -= be, m[8] += be;
    for (int k = 0; k < 9; ++k) value[q.slot[k]] += m[k];
  }
}

std::vector<double> Sheet::differential() const {
  std::vector<double> id(size_t(size_), 0.0);
  const auto mark = [&](int row) {
    if (row >= 0) id[size_t(row)] = 1;
  };
  for (const Two& e : capacitors_) mark(e.p), mark(e.n);
  for (const Two& e : coils_) mark(e.extra);
  for (const Three& q : transistors_)
    if (q.cbe > 0 || q.cbc > 0) mark(q.b), mark(q.c);
  return id;
}

void Sheet::start(double* y) const {
  std::fill(y, y + size_, 0.0);
  for (const Two& e : capacitors_)
    if (e.n < 0) y[e.p] = e.b;
  for (const Two& e : coils_) y[e.extra] = e.b;
  for (const Source& s : sources_)
    if (s.n < 0) y[s.p] = waveform_value(s.wave, 0, 0);
}

double Sheet::next_corner(double t) const {
  double next = std::numeric_limits<double>::infinity();
  for (const Source& s : sources_) next = std::min(next, model(ElementKind::kVoltageSource).next_corner(s.wave, t));
  return next;
}

}  // namespace tiepoint::bench
