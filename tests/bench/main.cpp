// Speed of the engine beside general-purpose libraries:  bench [--json] [--only GROUP] [--quick]
// Without the libraries (in WebAssembly) it times the engine alone; tests/bench/run puts both together.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <ctime>
#include <functional>
#include <string>
#include <vector>

#include "engine/solver/simulation.h"
#include "engine/solver/sparse_lu.h"
#include "tests/bench/cases.h"
#ifdef __EMSCRIPTEN__
#include <emscripten.h>
#endif
#ifdef TIEPOINT_LIBRARIES
#include "tests/bench/libraries.h"
#endif

namespace tiepoint::bench {
namespace {

bool quick = false;

// Time of the processor, so that other programs on the machine count little: under Node that of all its threads, which beside the one that
// works have little to do once the code is warm. [s]
double now() {
#ifdef __EMSCRIPTEN__
  return EM_ASM_DOUBLE({ const used = process.cpuUsage(); return used.user + used.system; }) * 1e-6;
#else
  timespec t;
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
  return double(t.tv_sec) + 1e-9 * double(t.tv_nsec);
#endif
}

double seconds(const std::function<void()>& work) {
  const double start = now();
  work();
  return now() - start;
}

// An engine of WebAssembly compiles what has run for a while once more, for speed; what lasts is measured, in every build alike.
constexpr double kWarmUp = 0.25;  // [s]

// Medians of several jobs, timed in turn so that a busy machine falls on all alike. [s] each.
std::vector<double> medians(const std::vector<std::function<void()>>& jobs) {
  std::vector<std::vector<double>> times(jobs.size());
  std::vector<int> repeats;
  for (const auto& job : jobs) {
    double once = seconds(job);
    for (double run = once; run < kWarmUp;) {
      const double t = seconds(job);
      run += t, once = std::min(once, t);
    }
    repeats.push_back(std::max(1, int(0.01 / std::max(once, 1e-9))));
  }
  double total = 0;
  for (int round = 0; round < (quick ? 3 : 11) && (round < 3 || total < 4); ++round)
    for (size_t k = 0; k < jobs.size(); ++k) {
      const double t = seconds([&] {
        for (int i = 0; i < repeats[k]; ++i) jobs[k]();
      });
      total += t;
      times[k].push_back(t / repeats[k]);
    }
  std::vector<double> out;
  for (auto& list : times) {
    std::nth_element(list.begin(), list.begin() + long(list.size() / 2), list.end());
    out.push_back(list[list.size() / 2]);
  }
  return out;
}

struct Row {
  std::string group, name;
  double ours = 0;  // in `unit`
  std::string unit;
  double theirs = 0;  // the better of the libraries, 0: none
  std::string with;   // which
  double error = 0, their_error = 0;
  double wanted = 0;  // theirs / ours at least; 0: no wish
};
std::vector<Row> rows;

void keep(Row row) {
  if (row.theirs > 0)
    std::fprintf(stderr, "  %-12s %-22s %10.4g %-4s  %-9s %10.4g  ratio %6.2f\n", row.group.c_str(), row.name.c_str(), row.ours,
                 row.unit.c_str(), row.with.c_str(), row.theirs, row.theirs / row.ours);
  else
    std::fprintf(stderr, "  %-12s %-22s %10.4g %-4s\n", row.group.c_str(), row.name.c_str(), row.ours, row.unit.c_str());
  rows.push_back(std::move(row));
}

// --- Transients
// -----------------------------------------------------------------------------------------------------------------

std::vector<double> run_engine(const Case& c, double tolerance) {
  // No longest step: that of a Session is there for the eye, and the libraries have none.
  Simulation simulation(c.circuit, {.relative_tolerance = tolerance, .longest_step = c.end});
  simulation.start_from_initial_conditions();
  const size_t probes = c.probes.size();
  std::vector<double> out(size_t(c.samples) * probes);
  std::vector<size_t> told(probes, 0);
  std::vector<WatchedPair> pairs;
  for (const int probe : c.probes) pairs.push_back({probe, 0});
  simulation.watch(pairs, [&](int pair, double time,
                              double voltage, const WatchedSpan&) {  // of the ends of the steps, which are told too, only those that are samples
    size_t& k = told[size_t(pair)];
    if (k < size_t(c.samples) && std::fabs(time - c.sample(int(k))) < 1e-9 * c.end) out[k++ * probes + size_t(pair)] = voltage;
  });
  simulation.sample(c.end / c.samples, c.end / c.samples, true);
  if (simulation.advance(c.end, {.max_steps = 10000000}) < c.end) return {};
  for (const size_t count : told)
    if (count != size_t(c.samples)) return {};
  return out;
}

// Root of the mean square over samples and probes, each probe beside its largest magnitude.
double error_of(const std::vector<double>& got, const std::vector<double>& right, size_t probes) {
  if (got.size() != right.size() || got.empty()) return HUGE_VAL;
  double sum = 0;
  for (size_t p = 0; p < probes; ++p) {
    double largest = 0;
    for (size_t k = p; k < right.size(); k += probes) largest = std::max(largest, std::fabs(right[k]));
    for (size_t k = p; k < right.size(); k += probes) sum += std::pow((got[k] - right[k]) / largest, 2);
  }
  return std::sqrt(sum / double(right.size()));
}

const std::vector<double> kTolerances = {3e-2, 1e-2, 5e-3, 2e-3, 1e-3, 5e-4, 2e-4, 1e-4, 5e-5, 2e-5,
                                         1e-5, 5e-6, 2e-6, 1e-6, 3e-7, 1e-7, 3e-8, 1e-8, 1e-9};

struct Setting {
  double tolerance = 0, error = HUGE_VAL, time = HUGE_VAL;
};

// The fastest tolerance whose error is within the target.
Setting fastest(const std::function<std::vector<double>(double)>& run, const std::vector<double>& right, size_t probes,
                double target) {
  Setting best;
  for (const double tolerance : kTolerances) {
    std::vector<double> got;
    // The least of some runs: the first ones of WebAssembly are not yet compiled well, and would choose another tolerance than natively.
    double time = seconds([&] { got = run(tolerance); });
    double spent = time;
    for (int k = 1; k < 2 || (k < 8 && spent < 0.05); ++k) {
      const double again = seconds([&] { got = run(tolerance); });
      time = std::min(time, again), spent += again;
    }
    const double error = error_of(got, right, probes);
    if (error <= target && time < best.time) best = {tolerance, error, time};
    if (error < target / 30 || (best.time < HUGE_VAL && time > 3 * best.time)) break;
  }
  return best;
}

void transient_rows() {
  for (const Case& c : transients()) {
#ifdef TIEPOINT_LIBRARIES
    const std::vector<double> right = run_ida(c, Linear::kKlu, 1e-10);
    const double agree = error_of(run_engine(c, 1e-8), right, c.probes.size());
    std::fprintf(stderr, "  %s: the engine at its tightest is within %.2g of IDA at its tightest\n", c.name.c_str(), agree);
#else
    const std::vector<double> right = run_engine(c, 1e-8);
#endif
    for (const double target : {1e-3, 1e-4}) {
      char name[64];
      std::snprintf(name, sizeof name, "%s, %.0e", c.name.c_str(), target);
      const Setting own = fastest([&](double t) { return run_engine(c, t); }, right, c.probes.size(), target);
      Row row = {.group = "transient", .name = name, .unit = "ms", .error = own.error, .wanted = 3};
      std::vector<std::function<void()>> jobs = {[&] { run_engine(c, own.tolerance); }};
#ifdef TIEPOINT_LIBRARIES
      const Setting dense = fastest([&](double t) { return run_ida(c, Linear::kDense, t); }, right, c.probes.size(), target);
      const Setting klu = fastest([&](double t) { return run_ida(c, Linear::kKlu, t); }, right, c.probes.size(), target);
      const bool by_klu = klu.time < dense.time;
      const Setting& their = by_klu ? klu : dense;
      row.with = by_klu ? "IDA+KLU" : "IDA dense", row.their_error = their.error;
      jobs.push_back([&] { run_ida(c, by_klu ? Linear::kKlu : Linear::kDense, their.tolerance); });
#endif
      const std::vector<double> times = medians(jobs);
      row.ours = own.time < HUGE_VAL ? times[0] * 1e3 : HUGE_VAL;
      if (times.size() > 1) row.theirs = times[1] * 1e3;
      keep(row);
    }
  }
}

// --- Operating points
// -----------------------------------------------------------------------------------------------------------

void point_rows() {
  const int count = quick ? 100 : 1000;
  std::vector<Circuit> boards;
  for (int k = 0; k < count; ++k) boards.push_back(random_board(unsigned(k)));
  double worst = 0, their_worst = 0;
  int failed = 0, their_failed = 0;
  double nodes = 0;
  std::vector<Circuit> both;  // that every solver solves
  for (const Circuit& c : boards) {
    const Solution s = solve_operating_point(c);
    bool ok = s.ok();
    failed += !s.ok();
    if (s.ok()) worst = std::max(worst, s.statistics.residual);
#ifdef TIEPOINT_LIBRARIES
    double residual;
    if (run_kinsol(c, &residual).empty())
      ++their_failed, ok = false;
    else
      their_worst = std::max(their_worst, residual);
#endif
    nodes += c.node_count;
    if (ok) both.push_back(c);
  }
  std::fprintf(
      stderr,
      "  operating points: %zu of %d boards solved by all (%d not by the engine, %d not by KINSOL), %.1f nodes on average\n",
      both.size(), count, failed, their_failed, nodes / count);
  std::vector<std::function<void()>> jobs = {[&] {
    for (const Circuit& c : both) solve_operating_point(c);
  }};
#ifdef TIEPOINT_LIBRARIES
  jobs.push_back([&] {
    double residual;
    for (const Circuit& c : both) run_kinsol(c, &residual);
  });
#endif
  const std::vector<double> times = medians(jobs);
  Row row = {.group = "point",
             .name = "small boards",
             .ours = times[0] / double(both.size()) * 1e6,
             .unit = "us",
             .error = worst,
             .their_error = their_worst,
             .wanted = 6};
  if (times.size() > 1) row.theirs = times[1] / double(both.size()) * 1e6, row.with = "KINSOL+KLU";
  keep(row);
}

// --- Linear algebra
// --------------------------------------------------------------------------------------------------------------

void algebra_rows() {
  std::vector<std::pair<std::string, Pattern>> patterns;
  for (const int n : {20, 200, 2000, 20000}) patterns.emplace_back("ladder " + std::to_string(n), ladder_matrix(n));
  for (const int n : {5, 14, 32, 100, 141}) patterns.emplace_back("mesh " + std::to_string(n * n), mesh_matrix(n));
  for (const auto& entry : patterns) {
    const Pattern& pattern = entry.second;  // no structured binding: clang 14 lets no lambda take one
    SparseLu lu;
    lu.analyse(pattern.size, pattern.first, pattern.row);
    lu.factor(pattern.value.data());
    std::vector<double> b(size_t(pattern.size)), c(b.size());
    std::vector<std::function<void()>> jobs = {[&] {
      lu.refactor(pattern.value.data());
      std::fill(b.begin(), b.end(), 1.0);
      lu.solve(b.data());
    }};
#ifdef TIEPOINT_LIBRARIES
    Klu klu(pattern);
    jobs.push_back([&] {
      klu.refactor(pattern.value.data());
      std::fill(c.begin(), c.end(), 1.0);
      klu.solve(c.data());
    });
#endif
    const std::vector<double> times = medians(jobs);
    Row row = {.group = "algebra", .name = entry.first, .ours = times[0] * 1e6, .unit = "us", .wanted = 1};
    if (times.size() > 1) {
      row.theirs = times[1] * 1e6, row.with = "KLU";
      for (size_t k = 0; k < b.size(); ++k)
        row.error = std::max(row.error, std::fabs(b[k] - c[k]) / std::max(1.0, std::fabs(c[k])));
    }
    keep(row);
  }
}

// --- Growth
// ----------------------------------------------------------------------------------------------------------------------

void growth_rows() {
  const auto exponent = [](const std::string& name, const std::vector<std::pair<double, double>>& points) {
    // Least squares over the logarithms.
    double sx = 0, sy = 0, sxx = 0, sxy = 0;
    for (const auto& [n, t] : points) {
      const double x = std::log(n), y = std::log(t);
      sx += x, sy += y, sxx += x * x, sxy += x * y;
    }
    const double count = double(points.size());
    keep({.group = "growth",
          .name = name,
          .ours = (count * sxy - sx * sy) / (count * sxx - sx * sx),
          .unit = "exp",
          .wanted = 1.05});
  };
  std::vector<std::pair<double, double>> points;
  for (const int n : {10, 100, 1000, 10000}) {
    const Circuit c = led_ladder(n);
    if (!solve_operating_point(c).ok()) std::fprintf(stderr, "  LED ladder %d: NOT SOLVED\n", n);
    Simulation simulation(c);
    const double t = medians({[&] { simulation.settle(); }})[0];
    points.emplace_back(n, t);
    keep({.group = "growth", .name = "LED ladder " + std::to_string(n), .ours = t * 1e3, .unit = "ms"});
  }
  exponent("LED ladder", points);
  points.clear();
  for (const int n : {10, 100, 1000, 10000}) {
    const Case c = rc_ladder(n);
    const double t = medians({[&] { run_engine(c, 1e-3); }})[0];
    points.emplace_back(n, t);
    keep({.group = "growth", .name = c.name, .ours = t * 1e3, .unit = "ms"});
  }
  exponent("RC ladder", points);
}

void print(bool json) {
  if (json) std::printf("[\n");
  for (size_t k = 0; k < rows.size(); ++k) {
    const Row& r = rows[k];
    const double ratio = r.theirs > 0 ? r.theirs / r.ours : 0;
    if (json) {
      std::printf(
          "  {\"group\": \"%s\", \"name\": \"%s\", \"ours\": %.6g, \"unit\": \"%s\", \"theirs\": %.6g, \"with\": \"%s\", "
          "\"ratio\": %.4g, \"wanted\": %g, "
          "\"error\": %.3g, \"their_error\": %.3g}%s\n",
          r.group.c_str(), r.name.c_str(), r.ours, r.unit.c_str(), r.theirs, r.with.c_str(), ratio, r.wanted, r.error,
          r.their_error, k + 1 < rows.size() ? "," : "");
    } else {
      if (k == 0)
        std::printf("%-10s %-24s %12s %-4s %12s %-10s %8s %8s %9s %9s\n", "group", "what", "engine", "", "library", "", "ratio",
                    "wanted", "error", "theirs");
      std::printf("%-10s %-24s %12.5g %-4s ", r.group.c_str(), r.name.c_str(), r.ours, r.unit.c_str());
      if (ratio > 0)
        std::printf("%12.5g %-10s %8.2f %8.3g %9.2g %9.2g\n", r.theirs, r.with.c_str(), ratio, r.wanted, r.error,
                    r.their_error);
      else
        std::printf("%12s %-10s %8s %8.3g\n", "", "", "", r.wanted);
    }
  }
  if (json) std::printf("]\n");
  double sum = 0;
  int count = 0;
  for (const Row& r : rows)
    if (r.group == "transient" && r.theirs > 0) sum += std::log(r.theirs / r.ours), ++count;
  if (count > 0 && !json) std::printf("transients: geometric mean of the ratios %.2f (10 wanted)\n", std::exp(sum / count));
}

}  // namespace
}  // namespace tiepoint::bench

int main(int argc, char** argv) {
  using namespace tiepoint::bench;
  bool json = false;
  std::string only;
  for (int k = 1; k < argc; ++k) {
    if (!std::strcmp(argv[k], "--json"))
      json = true;
    else if (!std::strcmp(argv[k], "--quick"))
      quick = true;
    else if (!std::strcmp(argv[k], "--only") && k + 1 < argc)
      only = argv[++k];
    else
      return std::fprintf(stderr, "usage: bench [--json] [--quick] [--only transient|point|algebra|growth]\n"), 2;
  }
  const auto wanted = [&](const char* group) { return only.empty() || only == group; };
  if (wanted("transient")) transient_rows();
  if (wanted("point")) point_rows();
  if (wanted("algebra")) algebra_rows();
  if (wanted("growth")) growth_rows();
  print(json);
}
