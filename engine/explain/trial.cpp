#include "engine/explain/trial.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/solver/simulation.h"

namespace tiepoint {
namespace {

// Weights: how badly a learner would take it; only their order matters.
constexpr double kNeverOnWeight = 6, kFaintWeight = 3, kBrightWeight = 4, kHotWeight = 3, kVoltageWeight = 3, kReversedWeight = 4,
                 kOverloadWeight = 3, kLimitWeight = 4, kChargedWeight = 4, kNoEffectWeight = 4, kNoSolutionWeight = 20;
constexpr double kVisible = 0.25;  // a change of brightness by this part of it is one that nobody overlooks (own choice)

int rank_of_load(State state) {
  switch (state) {
    case State::kLit: case State::kOn: case State::kCarrying: return 2;
    case State::kTooBright: case State::kTooHot: case State::kOverloaded: return 3;
    case State::kFaint: return 1;
    default: return 0;
  }
}

// What a supply and the resistances on the way leave for a junction at most. The way is the one of least resistance from either end to
// whatever may drive it: a supply's pole or a pin of a chip or transistor. Ways side by side may carry twice that.
constexpr double kSideBySide = 2;
std::vector<double> bound_currents(const Board& board, const Wiring& wiring) {
  const Scene scene = make_scene(board, wiring);
  const size_t terminals = size_t(scene.lead_count + scene.inner_count), strips = size_t(wiring.strip_count);
  struct Way { size_t a, b; double ohms; size_t link; };
  std::vector<Way> ways;
  constexpr size_t kNoLink = size_t(-1);
  for (int t = 0; t < scene.lead_count; ++t) ways.push_back({size_t(t), terminals + size_t(scene.strip_of_lead[size_t(t)]), 0, kNoLink});
  for (const Scene::Metal& metal : scene.metal) ways.push_back({size_t(metal.a), size_t(metal.b), 0, kNoLink});
  double supply = 0;
  std::vector<char> drives(terminals + strips, 0);
  for (size_t l = 0; l < scene.links.size(); ++l) {
    const SceneLink& link = scene.links[l];
    if (link.link == Link::kSource) supply += link.value;
    if (link.link == Link::kSource || link.link == Link::kActive || link.link == Link::kStore) drives[size_t(link.a)] = drives[size_t(link.b)] = 1;
    ways.push_back({size_t(link.a), size_t(link.b), link.link == Link::kOhmic ? link.value : 0, l});
  }
  // Least resistance from every point to a driving one, not through the link `without` (Bellman and Ford: boards are small).
  const auto least = [&](size_t from, size_t without) {
    std::vector<double> ohms(terminals + strips, std::numeric_limits<double>::infinity());
    ohms[from] = 0;
    for (bool more = true; more;) {
      more = false;
      for (const Way& way : ways) {
        if (way.link == without) continue;
        const auto relax = [&](size_t x, size_t y) {
          if (ohms[x] + way.ohms < ohms[y] - 1e-9) ohms[y] = ohms[x] + way.ohms, more = true;
        };
        relax(way.a, way.b), relax(way.b, way.a);
      }
    }
    double best = std::numeric_limits<double>::infinity();
    for (size_t t = 0; t < ohms.size(); ++t)
      if (drives[t]) best = std::min(best, ohms[t]);
    return best;
  };
  std::vector<double> out(board.parts.size(), std::numeric_limits<double>::infinity());
  for (size_t l = 0; l < scene.links.size(); ++l) {
    const SceneLink& link = scene.links[l];
    if (link.link != Link::kJunction || scene.parts[size_t(link.part)].role != Role::kLoad) continue;
    const double ohms = least(size_t(link.a), l) + least(size_t(link.b), l);
    const double most = kSideBySide * std::max(0.0, supply - link.value) / std::max(ohms, 1e-3);
    double& part = out[size_t(link.part)];
    part = part == std::numeric_limits<double>::infinity() ? most : std::max(part, most);
  }
  return out;
}

struct Bearing { Strain strain; double weight, value, rating; };

// What a state says about the part, if it is a strain.
bool bearing_of(const Part& part, const PartReading& r, Bearing& out) {
  const PartType& type = type_of(part);
  const Ratings ratings = type.ratings ? type.ratings(part) : Ratings{};
  const double current = std::abs(r.current);
  switch (r.state) {
    case State::kTooBright: out = {Strain::kTooBright, kBrightWeight, current, ratings.current}; return true;
    case State::kTooHot:
      if (has_reading(ratings.power)) out = {Strain::kTooHot, kHotWeight, std::abs(r.power), ratings.power};
      else out = {Strain::kTooHot, kHotWeight, current, ratings.current};
      return true;
    case State::kOverVoltage: out = {Strain::kOverVoltage, kVoltageWeight, std::abs(r.voltage), ratings.voltage}; return true;
    case State::kReversed:
      if (type.group != "storage") return false;
      out = {Strain::kReversed, kReversedWeight, std::abs(r.voltage), ratings.reverse_voltage};
      return true;
    case State::kOverloaded: out = {Strain::kOverloaded, kOverloadWeight, current, ratings.current}; return true;
    case State::kAtLimit: out = {Strain::kAtLimit, kLimitWeight, current, ratings.current}; return true;
    case State::kBeingCharged: out = {Strain::kBeingCharged, kChargedWeight, current, 0}; return true;
    default: return false;
  }
}

void strains_of_part(const Board& board, const Trial& trial, size_t p, std::vector<StrainAt>& out) {
  StrainAt worst{.strain = Strain::kFaint, .part = int(p)};
  int best = 0;
  double best_current = 0;
  int best_at = 0;
  for (size_t k = 0; k < trial.readings.size(); ++k) {
    if (trial.readings[k].error) continue;
    const PartReading& r = trial.readings[k].parts[p];
    Bearing bearing;
    if (bearing_of(board.parts[p], r, bearing) &&
        (bearing.weight > worst.weight || (bearing.weight == worst.weight && bearing.value > worst.value)))
      worst = {bearing.strain, int(p), int(k), bearing.weight, bearing.value, bearing.rating};
    const int rank = rank_of_load(r.state);
    const double current = has_reading(r.current) ? r.current : 0;
    if (rank > best || current > best_current) best = std::max(best, rank), best_current = std::max(best_current, current), best_at = int(k);
  }
  if (worst.weight > 0) out.push_back(worst);
  constexpr double kVisibleLed = 1e-3;  // [A] led.cpp: a twentieth of full brightness
  if (is_load(board.parts[p]) && best < 2 && !trial.most_current.empty() && trial.most_current[p] < kVisibleLed)
    out.push_back({Strain::kFaint, int(p), best_at, kFaintWeight, trial.most_current[p], kNoReading});
  if (is_load(board.parts[p]) && best < 2 && !trial.may_beat)
    out.push_back({best == 1 ? Strain::kFaint : Strain::kNeverOn, int(p), best_at, best == 1 ? kFaintWeight : kNeverOnWeight, best_current, kNoReading});
}

bool same_to_the_eye(const Board& board, const Readings& a, const Readings& b) {
  for (size_t p = 0; p < board.parts.size(); ++p) {
    if (!is_load(board.parts[p])) continue;
    const PartReading &x = a.parts[p], &y = b.parts[p];
    if (works(x) != works(y)) return false;
    if (works(x) && std::abs(x.brightness - y.brightness) > kVisible * std::max(x.brightness, y.brightness)) return false;
  }
  return true;
}

// Switches that change nothing, wherever two of the settings differ in that switch alone.
void idle_switches(const Board& board, const Trial& trial, std::vector<StrainAt>& out) {
  if (std::none_of(board.parts.begin(), board.parts.end(), is_load)) return;
  for (size_t c = 0; c < trial.part_of_control.size(); ++c) {
    const int part = trial.part_of_control[c];
    if (type_of(board.parts[size_t(part)]).reference_lead >= 0) continue;
    bool asked = false, effect = false;
    for (size_t i = 0; i < trial.positions.size() && !effect; ++i)
      for (size_t j = i + 1; j < trial.positions.size() && !effect; ++j) {
        const std::vector<int>&a = trial.positions[i].at, &b = trial.positions[j].at;
        size_t differ = 0;
        for (size_t k = 0; k < a.size(); ++k) differ += a[k] != b[k];
        if (differ != 1 || a[c] == b[c]) continue;
        if (trial.readings[i].error || trial.readings[j].error) continue;
        asked = true;
        effect = !same_to_the_eye(board, trial.readings[i], trial.readings[j]);
      }
    if (asked && !effect) out.push_back({Strain::kNoEffect, part, 0, kNoEffectWeight, 0, 0});
  }
}

}  // namespace

bool is_load(const Part& part) {
  const PartType& type = type_of(part);
  return (type.group == "light" && type.body != Body::kAxialDiode) || type.group == "motion" || type.group == "sound";
}

bool works(const PartReading& reading) { return rank_of_load(reading.state) >= 2; }

std::vector<Positions> positions_to_try(const Scene& scene, int most) {
  const size_t count = scene.controls.size();
  size_t product = 1;
  for (const SceneControl& c : scene.controls) product = std::min<size_t>(product * size_t(c.positions), 1u << 20);
  std::vector<Positions> out;
  Positions rest;
  for (const SceneControl& c : scene.controls) rest.at.push_back(c.momentary ? 0 : c.now);
  if (product <= size_t(most)) {
    Positions now{std::vector<int>(count, 0)};
    for (size_t k = 0; k < product; ++k) {
      out.push_back(now);
      for (size_t c = 0; c < count && ++now.at[c] == scene.controls[c].positions; ++c) now.at[c] = 0;
    }
    return out;
  }
  out.push_back(rest);
  Positions all = rest;
  for (size_t c = 0; c < count; ++c) all.at[c] = (rest.at[c] + 1) % scene.controls[c].positions;
  out.push_back(all);
  for (size_t c = 0; c < count && int(out.size()) < most; ++c) {
    Positions one = rest;
    one.at[c] = all.at[c];
    out.push_back(one);
  }
  return out;
}

Trial try_positions(Board board, const Wiring& wiring, Circuit circuit, const Scene& scene, std::vector<Positions> positions) {
  Trial trial;
  trial.positions = std::move(positions);
  for (const SceneControl& control : scene.controls) trial.part_of_control.push_back(control.part);
  trial.may_beat = scene.may_beat;
  if (trial.may_beat) trial.most_current = bound_currents(board, wiring);
  for (const Positions& setting : trial.positions) {
    for (size_t c = 0; c < scene.controls.size(); ++c) {
      const SceneControl& control = scene.controls[c];
      double& value = board.parts[size_t(control.part)].values[size_t(control.value)];
      if (value == setting.at[c]) continue;
      value = setting.at[c];
      if (!refresh_values(circuit, board, control.part)) circuit = extract(board, wiring);
    }
    trial.readings.push_back(take_readings(board, wiring, circuit, solve_operating_point(circuit)));
  }
  return trial;
}

Trial try_board(const Board& board, int most) {
  const Wiring wiring = wire_up(board);
  const Scene scene = make_scene(board, wiring);
  return try_positions(board, wiring, extract(board, wiring), scene, positions_to_try(scene, most));
}

std::vector<StrainAt> strains(const Board& board, const Trial& trial) {
  std::vector<StrainAt> out;
  for (size_t k = 0; k < trial.readings.size(); ++k)
    if (trial.readings[k].error) {
      out.push_back({Strain::kNoSolution, -1, int(k), kNoSolutionWeight, 0, 0});
      break;
    }
  for (size_t p = 0; p < board.parts.size(); ++p) strains_of_part(board, trial, p, out);
  if (!trial.may_beat) idle_switches(board, trial, out);
  return out;
}

int always_on(const Board& board, const Trial& trial) {
  if (trial.readings.size() < 2) return 0;
  int count = 0;
  for (size_t p = 0; p < board.parts.size(); ++p)
    count += is_load(board.parts[p]) && std::all_of(trial.readings.begin(), trial.readings.end(), [&](const Readings& r) {
      return !r.error && works(r.parts[p]);
    });
  return count;
}

int put_out_by_a_press(const Board& board, const Scene& scene, const Trial& trial) {
  const auto only_pressed = [&](const Positions& rest, const Positions& pressed) {
    for (size_t c = 0; c < scene.controls.size(); ++c)
      if (scene.controls[c].momentary ? rest.at[c] != 0 : rest.at[c] != pressed.at[c]) return false;
    return true;
  };
  std::vector<char> put_out(board.parts.size(), 0);
  for (size_t r = 0; r < trial.readings.size(); ++r)
    for (size_t k = 0; k < trial.readings.size(); ++k) {
      if (k == r || trial.readings[r].error || trial.readings[k].error || !only_pressed(trial.positions[r], trial.positions[k])) continue;
      for (size_t p = 0; p < board.parts.size(); ++p)
        if (is_load(board.parts[p]) && works(trial.readings[r].parts[p]) && !works(trial.readings[k].parts[p])) put_out[p] = 1;
    }
  return int(std::count(put_out.begin(), put_out.end(), 1));
}

double total(const std::vector<StrainAt>& list) {
  double sum = 0;
  for (const StrainAt& s : list) sum += s.weight;
  return sum;
}

}  // namespace tiepoint
