#include "engine/solver/island.h"

#include <algorithm>
#include <cmath>

namespace tiepoint {
namespace {

// [S] added to node diagonals of nonlinear islands in the matrix alone, never in the equations: it keeps a node between
// blocking junctions solvable and changes no converged result.
constexpr double kMatrixFloor = 1e-15;

struct LocalArrays {
  double f[kMaxLocal], q[kMaxLocal], df[kMaxLocal * kMaxLocal], dq[kMaxLocal * kMaxLocal];
  Local clear(int m) {
    if (m == 2) return clear_few<2>();  // by far most members: no call for a handful of numbers
    if (m == 3) return clear_few<3>();
    std::fill(f, f + m, 0.0), std::fill(q, q + m, 0.0);
    std::fill(df, df + m * m, 0.0), std::fill(dq, dq + m * m, 0.0);
    return {f, q, df, dq};
  }

 private:
  template <int M>
  Local clear_few() {
    for (int k = 0; k < M; ++k) f[k] = q[k] = 0;
    for (int k = 0; k < M * M; ++k) df[k] = dq[k] = 0;
    return {f, q, df, dq};
  }
};

bool any(const double* a, int count) {
  return std::any_of(a, a + count, [](double v) { return v != 0; });
}

}  // namespace

void Island::refresh(const Parameters& p, double since_time) {
  if (gathered_ == p.revision() && since == since_time && !has_modes) return;
  parameters = &p;
  gathered_ = p.revision();
  since = since_time;
  charging_.clear(), block_slopes_.clear(), block_charge_slopes_.clear();
  conductances_.clear(), capacitances_.clear(), blocks_.clear(), block_df_.clear(), block_dq_.clear(), sources_.clear();
  base_f_.assign(matrix.size(), 0), base_q_.assign(matrix.size(), 0), base_.resize(matrix.size());
  base_a_ = factored_a = std::numeric_limits<double>::quiet_NaN();
  stores = false;
  ask_sources();
  stiffness.assign(total, 0), charge_stiffness.assign(total, 0);
  LocalArrays local;
  static constexpr double zero[kMaxLocal] = {};
  for (size_t i = 0; i < members.size(); ++i) {
    Member& member = members[i];
    if (member.model->linear) {
      gather_linear(member, int(i));
    } else if (member.model->stores) {
      const int m = member.m;
      member.model->evaluate(values(member), zero, instant(member), local.clear(m));
      member.charges = any(local.dq, m * m);
      if (member.charges) {
        stores = true, charging_.push_back(int(i));
      } else {
        double *const q_here = &local_[member.local] + m, *const dq_here = q_here + m + m * m;
        for (int k = 0; k < m; ++k) q_here[k] = 0;
        for (int k = 0; k < m * m; ++k) dq_here[k] = 0;
      }
    }
  }
  for (Knot& knot : knots) {
    knot.scale = 0;
    for (const int i : knot.members) {
      const Member& member = members[i];
      member.model->evaluate(values(member), zero, instant(member), local.clear(member.m));
      for (int column = 0; column < member.m; ++column)
        knot.scale = std::max(knot.scale, std::fabs(charge_on(knot, member, local.dq + column, member.m)));
    }
    knot.charged = knot.scale > 0;
  }
}

void Island::gather_linear(const Member& member, int index) {
  LocalArrays local;
  static constexpr double zero[kMaxLocal] = {};
  const int m = member.m;
  member.model->evaluate(values(member), zero, instant(member), local.clear(m));
  const bool charges = member.model->stores && any(local.dq, m * m);
  stores = stores || charges;
  if (member.model->supplies) sources_.push_back(index);
  const int* const slot = &matrix_slots[member.slots];
  if (m == 2) {
    const int a = maps[member.map], b = maps[member.map + 1];
    if (local.df[0] != 0) conductances_.push_back({a, b, local.df[0]});
    if (local.dq[0] != 0) capacitances_.push_back({a, b, local.dq[0]});
    const auto note = [&](Row<double>& largest, Row<double>& base, const double* d) {
      largest[a] = std::max({largest[a], std::fabs(d[0]), std::fabs(d[1])});
      largest[b] = std::max({largest[b], std::fabs(d[2]), std::fabs(d[3])});
      for (int k = 0; k < 4; ++k) base[slot[k]] += d[k];
    };
    note(stiffness, base_f_, local.df);
    if (charges) note(charge_stiffness, base_q_, local.dq);
    return;
  }
  blocks_.push_back({index, int(block_df_.size())});
  block_df_.insert(block_df_.end(), local.df, local.df + m * m);
  block_dq_.insert(block_dq_.end(), local.dq, local.dq + m * m);
  for (int k = 0; k < m * m; ++k) {
    const int row = maps[member.map + k / m], column = maps[member.map + k % m];
    if (row >= size) continue;
    if (local.df[k] != 0) block_slopes_.push_back({row, column, local.df[k]});
    if (local.dq[k] != 0 && column < size) block_charge_slopes_.push_back({row, column, local.dq[k]});
  }
  for (int row = 0; row < m; ++row) {
    const int at = maps[member.map + row];
    for (int column = 0; column < m; ++column) {
      stiffness[at] = std::max(stiffness[at], std::fabs(local.df[row * m + column]));
      if (charges) charge_stiffness[at] = std::max(charge_stiffness[at], std::fabs(local.dq[row * m + column]));
    }
  }
  for (int k = 0; k < m * m; ++k) base_f_[slot[k]] += local.df[k];
  if (charges)
    for (int k = 0; k < m * m; ++k) base_q_[slot[k]] += local.dq[k];
}

void Island::prepare(double at_time, std::span<const double> held_voltage, double scale) {
  time = at_time;
  source_scale = scale;
  for (size_t k = 0; k < held.size(); ++k) x[size + k] = held_voltage[held[k]];
  std::fill(source_f_.begin(), source_f_.end(), 0.0);
  LocalArrays local;
  static constexpr double zero[kMaxLocal] = {};
  for (const int i : sources_) {
    const Member& member = members[i];
    member.model->evaluate(values(member), zero, instant(member), local.clear(member.m));
    for (int k = 0; k < member.m; ++k) source_f_[maps[member.map + k]] += local.f[k];
  }
}

void Island::linear_rows(bool judged) {
  const double* const at = x.data();
  double *const rows_f = f.data(), *const rows_q = q.data(), *const rows_mag = mag.data();
  for (int i = 0; i < total; ++i) rows_f[i] = source_f_[i], rows_q[i] = 0;
  if (judged) {
    for (int i = 0; i < total; ++i) rows_mag[i] = std::fabs(rows_f[i]);
    for (const Branch& b : conductances_) {
      const double current = b.slope * (at[b.a] - at[b.b]), size_of = std::fabs(current);
      rows_f[b.a] += current, rows_f[b.b] -= current;
      rows_mag[b.a] = std::max(rows_mag[b.a], size_of), rows_mag[b.b] = std::max(rows_mag[b.b], size_of);
    }
  } else {
    for (const Branch& b : conductances_) {
      const double current = b.slope * (at[b.a] - at[b.b]);
      rows_f[b.a] += current, rows_f[b.b] -= current;
    }
  }
  for (const Branch& b : capacitances_) {
    const double charge = b.slope * (at[b.a] - at[b.b]);
    rows_q[b.a] += charge, rows_q[b.b] -= charge;
  }
  for (const Block& block : blocks_) {
    const Member& member = members[block.member];
    const int m = member.m;
    const int* map = &maps[member.map];
    const double *df = &block_df_[block.first], *dq = &block_dq_[block.first];
    for (int row = 0; row < m; ++row, df += m, dq += m) {
      double sum_f = 0, sum_q = 0, largest = 0;
      for (int column = 0; column < m; ++column) {
        const double v = x[map[column]];
        const double term = df[column] * v;
        sum_f += term, sum_q += dq[column] * v;
        largest = std::max(largest, std::fabs(term));
      }
      f[map[row]] += sum_f, q[map[row]] += sum_q;
      mag[map[row]] = std::max(mag[map[row]], largest);
    }
  }
}

void Island::add_linear(double a) {
  if (a != base_a_) {
    for (size_t k = 0; k < base_.size(); ++k) base_[k] = base_f_[k] + a * base_q_[k];
    if (!linear)
      for (const int slot : diagonal_) base_[slot] += kMatrixFloor;
    base_a_ = a;
  }
  copy_row(base_.data(), base_.size(), matrix.data());
}

// A nonlinear member is evaluated where it is, unless limiting held it back, and continued from there to x by the tangent. M:
// its unknowns, so that the loops over the most frequent kinds are straight code; 0: any number.
template <int M>
bool Island::evaluate_one(const Member& member, const Instant& at_time, double a, bool with_matrix, bool judged) {
  const int m = M > 0 ? M : member.m;
  const Model& law = *member.model;
  double wanted[M > 0 ? M : kMaxLocal];
  const int* const map = &maps[member.map];
  double* const at = &last_x_[member.last];
  for (int k = 0; k < m; ++k) wanted[k] = x[map[k]];
  bool held_back = false;
  if (const auto limit = strides && law.stride ? law.stride : law.limit) {
    double proposed[M > 0 ? M : kMaxLocal];
    for (int k = 0; k < m; ++k) proposed[k] = wanted[k];
    held_back = limit(member.values, at, proposed);
    for (int k = 0; k < m; ++k) at[k] = proposed[k];
  } else {
    for (int k = 0; k < m; ++k) at[k] = wanted[k];
  }
  double* const local_f = &local_[member.local];
  double *const local_q = local_f + m, *const df = local_q + m, *const dq = df + m * m;
  const bool charges = member.charges;
  for (int k = 0; k < m; ++k) local_f[k] = 0;
  for (int k = 0; k < m * m; ++k) df[k] = 0;
  if (charges) {
    for (int k = 0; k < m; ++k) local_q[k] = 0;
    for (int k = 0; k < m * m; ++k) dq[k] = 0;
  }
  law.evaluate(member.values, at, at_time, {local_f, local_q, df, dq});
  for (int row = 0; row < m; ++row) {
    double current = local_f[row];
    if (held_back)
      for (int column = 0; column < m; ++column) current += df[row * m + column] * (wanted[column] - at[column]);
    f[map[row]] += current;
    if (charges) {
      double charge = local_q[row];
      if (held_back)
        for (int column = 0; column < m; ++column) charge += dq[row * m + column] * (wanted[column] - at[column]);
      q[map[row]] += charge;
    }
    if (judged) mag[map[row]] = std::max(mag[map[row]], std::fabs(current));
  }
  if (with_matrix) {
    double* const to = matrix.data();
    const int* const slot = &matrix_slots[member.slots];
    if (a != 0 && charges)
      for (int k = 0; k < m * m; ++k) to[slot[k]] += df[k] + a * dq[k];
    else
      for (int k = 0; k < m * m; ++k) to[slot[k]] += df[k];
  }
  return held_back;
}

bool Island::evaluate_nonlinear(double a, bool with_matrix, bool judged) {
  bool limited = false;
  Instant at = {time, since, source_scale, 0, 0};
  for (const int i : nonlinear_) {
    const Member& member = members[i];
    at.mode = member.mode, at.mode_since = member.mode_since;
    const bool held_back = member.m == 2   ? evaluate_one<2>(member, at, a, with_matrix, judged)
                           : member.m == 3 ? evaluate_one<3>(member, at, a, with_matrix, judged)
                                           : evaluate_one<0>(member, at, a, with_matrix, judged);
    limited = limited || held_back;
  }
  return limited;
}

bool Island::evaluate(double a, bool with_matrix, bool judged) {
  linear_rows(judged);
  if (with_matrix) add_linear(a);
  return evaluate_nonlinear(a, with_matrix, judged);
}

void Island::evaluate_exactly() {
  last_from_x();
  linear_rows(true);
  evaluate_nonlinear(0, false, true);
}

template <int M>
void Island::evaluate_one_aside(const Member& member) {
  constexpr int kMost = M > 0 ? M : kMaxLocal;
  const int m = M > 0 ? M : member.m;
  double at[kMost], own_f[kMost], own_q[kMost], df[kMost * kMost], dq[kMost * kMost];
  const int* map = &maps[member.map];
  for (int k = 0; k < m; ++k) at[k] = x[map[k]], own_f[k] = own_q[k] = 0;
  std::fill(df, df + m * m, 0.0);
  if (member.model->stores) std::fill(dq, dq + m * m, 0.0);
  member.model->evaluate(values(member), at, instant(member), {own_f, own_q, df, dq});
  for (int k = 0; k < m; ++k) f[map[k]] += own_f[k];
  if (member.model->stores)
    for (int k = 0; k < m; ++k) q[map[k]] += own_q[k];
}

void Island::evaluate_aside() {
  copy_row(source_f_.data(), source_f_.size(), f.data());
  if (!charging_.empty()) std::fill(q.begin(), q.end(), 0.0);
  for (const Branch& b : conductances_) {
    const double current = b.slope * (x[b.a] - x[b.b]);
    f[b.a] += current, f[b.b] -= current;
  }
  for (const Slope& slope : block_slopes_) f[slope.row] += slope.value * x[slope.column];
  for (const int i : nonlinear_) {
    const Member& member = members[i];
    if (member.m == 2)
      evaluate_one_aside<2>(member);
    else if (member.m == 3)
      evaluate_one_aside<3>(member);
    else
      evaluate_one_aside<0>(member);
  }
}

void Island::linearise(double a) {
  last_from_x();
  evaluate(a, true, false);
  curved_slopes_.clear();
  for (const int i : charging_) {
    const Member& member = members[i];
    const int* map = &maps[member.map];
    const double* dq = &local_[member.local] + 2 * member.m + member.m * member.m;
    for (int row = 0; row < member.m; ++row)
      for (int column = 0; column < member.m; ++column, ++dq)
        if (*dq != 0 && map[row] < size && map[column] < size) curved_slopes_.push_back({map[row], map[column], *dq});
  }
}

void Island::matrix_of_tangents(double a) {
  add_linear(a);
  for (const int i : nonlinear_) {
    const Member& member = members[i];
    const int m = member.m;
    const double *df = &local_[member.local] + 2 * m, *dq = df + m * m;
    const int* slot = &matrix_slots[member.slots];
    for (int k = 0; k < m * m; ++k) matrix[slot[k]] += df[k] + a * dq[k];
  }
}

void Island::curved_charges(double* out) const {
  std::fill(out, out + size, 0.0);
  for (const int i : charging_) {
    const Member& member = members[i];
    const double* local_q = &local_[member.local] + member.m;
    for (int k = 0; k < member.m; ++k)
      if (const int row = maps[member.map + k]; row < size) out[row] += local_q[k];
  }
}

void Island::add_straight(const double* v, double* out) const {
  for (const Branch& b : capacitances_) {
    const double charge = b.slope * ((b.a < size ? v[b.a] : 0.0) - (b.b < size ? v[b.b] : 0.0));
    if (b.a < size) out[b.a] += charge;
    if (b.b < size) out[b.b] -= charge;
  }
  for (const Slope& slope : block_charge_slopes_) out[slope.row] += slope.value * v[slope.column];
}

void Island::add_curved(const double* v, double* out) const {
  for (const Slope& slope : curved_slopes_) out[slope.row] += slope.value * v[slope.column];
}

template <int M>
void Island::follow_one(const Member& member) {
  const int m = M > 0 ? M : member.m;
  double way[M > 0 ? M : kMaxLocal];
  const int* map = &maps[member.map];
  const double* at = &last_x_[member.last];
  for (int k = 0; k < m; ++k) way[k] = x[map[k]] - at[k];
  const double* local_f = &local_[member.local];
  const double *local_q = local_f + m, *df = local_q + m, *dq = df + m * m;
  for (int row = 0; row < m; ++row) {
    double current = local_f[row], charge = local_q[row];
    for (int column = 0; column < m; ++column) {
      current += df[row * m + column] * way[column];
      charge += dq[row * m + column] * way[column];
    }
    f[map[row]] += current, q[map[row]] += charge;
  }
}

void Island::follow_tangents() {
  linear_rows(false);
  for (const int i : nonlinear_) {
    const Member& member = members[i];
    if (member.m == 2)
      follow_one<2>(member);
    else if (member.m == 3)
      follow_one<3>(member);
    else
      follow_one<0>(member);
  }
}

// What a member has of q, one value for each of its rows `step` apart, on the terminals that lie in a knot. Summed here, what is on both
// plates of a capacitor inside is nothing to the last bit.
double Island::charge_on(const Knot& knot, const Member& member, const double* q, int step) const {
  const int charge_row = member.model->charge_row;
  const bool own_row = charge_row >= 0 && charge_row < member.m;
  double sum = 0;
  for (int terminal = 0; terminal < member.terminals; ++terminal) {
    if (!std::binary_search(knot.rows.begin(), knot.rows.end(), maps[member.map + terminal])) continue;
    sum += own_row ? (terminal == 1 ? -q[charge_row * step] : q[charge_row * step]) : q[terminal * step];
  }
  return sum;
}

// The currents into a knot sum to zero whatever its voltage, so one of its equations says nothing. It gives way to the charge
// on the knot (settled), or to "0 V" where no capacitor leads out of it. No leak is added anywhere.
void Island::tie_knots(bool settled, double* r, bool with_matrix) {
  LocalArrays local;
  double at[kMaxLocal];
  for (const Knot& knot : knots) {
    if (knot.charged && !settled) continue;
    const int tied = knot.tied;
    if (with_matrix)
      for (const int slot : knot.slots) matrix[slot] = 0;
    if (!knot.charged) {
      r[tied] = x[tied];
      if (with_matrix) matrix[solver.slot(tied, tied)] = 1;
      continue;
    }
    double charge = -knot.target;
    for (const int i : knot.members) {
      const Member& member = members[i];
      const int m = member.m;
      local_x(member, x.data(), at);
      member.model->evaluate(values(member), at, instant(member), local.clear(m));
      charge += charge_on(knot, member, local.q, 1);
      if (!with_matrix) continue;
      for (int column = 0; column < m; ++column)
        if (const int to = maps[member.map + column]; to < size)
          matrix[solver.slot(tied, to)] += charge_on(knot, member, local.dq + column, m) / knot.scale;
    }
    r[tied] = charge / knot.scale;
  }
}

void Island::remember_knot_charges() {
  std::vector<double> r(size_t(size), 0.0);
  for (Knot& knot : knots) knot.target = 0;
  tie_knots(true, r.data(), false);
  for (Knot& knot : knots) knot.target = r[knot.tied] * knot.scale;
}

void Island::initial_charges(double* rows, bool into_knots) {
  std::fill(rows, rows + size, 0.0);
  if (!given_charges_) {
    for (Knot& knot : knots) knot.target = into_knots ? 0 : knot.target;
    return;
  }
  double local[kMaxLocal];
  std::vector<double> at_nodes(size_t(total), 0.0);  // charge at terminals, also of members that keep it in a row of their own
  for (const Member& member : members) {
    if (!member.model->initial) continue;
    std::fill(local, local + member.m, 0.0);
    member.model->initial(values(member), local);
    for (int k = 0; k < member.m; ++k)
      if (maps[member.map + k] < size) rows[maps[member.map + k]] += local[k];
    const int own = member.model->charge_row >= 0 && member.model->charge_row < member.m ? member.model->charge_row : -1;
    for (int k = 0; k < member.terminals; ++k)
      at_nodes[maps[member.map + k]] += own < 0 ? local[k] : (k == 0 ? local[own] : -local[own]);
  }
  if (!into_knots) return;
  for (Knot& knot : knots) {
    knot.target = 0;
    for (const int row : knot.rows) knot.target += at_nodes[row];
  }
}

void Island::charge_rate(const double* x_rate, double* rate) {
  std::fill(rate, rate + total, 0.0);
  for (const Branch& b : capacitances_) {
    const double current = b.slope * (x_rate[b.a] - x_rate[b.b]);
    rate[b.a] += current, rate[b.b] -= current;
  }
  double local[kMaxLocal];
  for (const Block& block : blocks_) {
    const Member& member = members[block.member];
    const int m = member.m;
    for (int row = 0; row < m; ++row)
      for (int column = 0; column < m; ++column)
        rate[maps[member.map + row]] += block_dq_[block.first + row * m + column] * x_rate[maps[member.map + column]];
  }
  for (const int i : nonlinear_) {
    const Member& member = members[i];
    if (!member.model->stores) continue;
    member_charge_rate(member, x.data(), x_rate, local);
    for (int k = 0; k < member.m; ++k) rate[maps[member.map + k]] += local[k];
  }
}

void Island::evaluate_member(const Member& member, const double* from, double* f_out, double* q_out) const {
  double at[kMaxLocal];
  local_x(member, from, at);
  evaluate_local(member, at, f_out, q_out);
}

void Island::evaluate_local(const Member& member, const double* at, double* f_out, double* q_out) const {
  LocalArrays local;
  member.model->evaluate(values(member), at, instant(member), local.clear(member.m));
  std::copy(local.f, local.f + member.m, f_out);
  std::copy(local.q, local.q + member.m, q_out);
}

void Island::terminal_currents(const Member& member, const double* from, double* f_out) const {
  const Model& law = *member.model;
  const int* const map = maps.data() + member.map;
  const double* const last = last_x_.data() + member.last;  // none where all is linear
  bool known = !law.linear && !law.timed && !law.supplies && law.events == 0 && !law.lasts;
  for (int k = 0; k < member.m && known; ++k) known = last[k] == from[map[k]];
  if (known) {
    copy_row(local_.data() + member.local, size_t(member.m), f_out);
  } else if (member.m == 2) {
    const double at[2] = {from[map[0]], from[map[1]]};
    double charge[2] = {}, df[4] = {}, dq[4] = {};
    f_out[0] = f_out[1] = 0;
    law.evaluate(values(member), at, instant(member), {f_out, charge, df, dq});
  } else {
    double charge[kMaxLocal];
    evaluate_member(member, from, f_out, charge);
  }
}

void Island::member_charge_rate(const Member& member, const double* from, const double* x_rate, double* rate) const {
  LocalArrays local;
  double at[kMaxLocal], moving_x[kMaxLocal];
  const int m = member.m;
  local_x(member, from, at);
  local_x(member, x_rate, moving_x);
  member.model->evaluate(values(member), at, instant(member), local.clear(m));
  for (int row = 0; row < m; ++row) {
    rate[row] = 0;
    for (int column = 0; column < m; ++column) rate[row] += local.dq[row * m + column] * moving_x[column];
  }
}

void Island::last_from_x() {
  for (const int i : nonlinear_) local_x(members[i], x.data(), &last_x_[members[i].last]);
}

void Island::linear_matrices(std::vector<double>* g, std::vector<double>* c) const {
  g->assign(size_t(size) * size, 0), c->assign(size_t(size) * size, 0);
  for (int row = 0; row < size; ++row)
    for (int column = 0; column < size; ++column) {
      const int slot = solver.slot(row, column);
      if (slot < 0) continue;
      (*g)[row * size + column] = base_f_[slot], (*c)[row * size + column] = base_q_[slot];
    }
}

void Island::ask_sources() {
  moving_ = false, longest_step_ = std::numeric_limits<double>::infinity();
  const auto ask = [&](const Model& m, std::span<const double> p) {
    moving_ = moving_ || (m.moving && m.moving(p, since));
    if (m.longest_step) longest_step_ = std::min(longest_step_, m.longest_step(p));
  };
  for (const int i : in_time_) ask(*members[i].model, values(members[i]));
  for (const int e : held_sources) ask(model(ElementKind::kVoltageSource), parameters->of(e));
}

double Island::mode_end(const Member& member, std::span<const double> p) {
  return member.model->lasts ? member.mode_since + member.model->lasts(p, member.mode)
                             : std::numeric_limits<double>::infinity();
}

double Island::next_corner() const {
  double next = std::numeric_limits<double>::infinity();
  for (const int i : in_time_) {
    const Member& member = members[i];
    if (member.model->next_corner) next = std::min(next, member.model->next_corner(values(member), since));
    next = std::min(next, mode_end(member, values(member)));
  }
  for (const int e : held_sources)
    next = std::min(next, model(ElementKind::kVoltageSource).next_corner(parameters->of(e), since));
  return next;
}

}  // namespace tiepoint
