#include "engine/explain/condition.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <numeric>

#include "engine/explain/repairs.h"
#include "engine/explain/scene.h"
#include "engine/explain/trial.h"
#include "engine/parts/contacts.h"
#include "engine/parts/specimen.h"
#include "engine/solver/simulation.h"

namespace tiepoint {
namespace {

constexpr double kLow = 0.2, kAllButEmpty = 0.05;      // share of a battery's charge
constexpr double kHotBattery = 45;                     // [C] clearly warm to the hand
constexpr double kMetalDrop = 0.3;                     // [V] more than any whole wire or closed contact drops here
constexpr double kMetalOhms = 3;                       // [ohm] more than any whole wire or rail has, the meter's own leads among it
constexpr double kAboveForward = 1.6, kAndMore = 0.5;  // times, and [V]: more than any whole junction lets stand across it
constexpr double kSameReading = 0.05;                  // share by which two readings may differ and tell the same
constexpr double kBeyondTolerance = 0.10;              // besides the last band's, before a resistor is called another one
constexpr double kWeakBattery = 0.8;                   // of the printed voltage, at no great current

Finding make(FindingKind kind, const Board& board, size_t part) {
  Finding f = make_finding(kind);
  f.places.push_back({.part = board.parts[part].id});
  tell(f, "part", board.parts[part].name);
  return f;
}
std::string_view unit_of(char letter) { return letter == 'A' ? "A" : letter == 'V' ? "V" : "W"; }

void replace(Finding& f, const Part& part) {
  f.repair = {Edit{ReplacePart{part.name}}};
  f.effort = 1;
}

// One that died says so itself: it is scorched, dark or burst.
void add_dead(const Observed& bench, std::vector<Finding>& out) {
  for (size_t p = 0; p < bench.board.parts.size(); ++p) {
    const Part& part = bench.board.parts[p];
    const bool melted =
        p < bench.readings.parts.size() && bench.readings.parts[p].state == State::kMelted && !type_of(part).touches;
    if (!melted && (!part.defect || part.defect.hidden)) continue;
    Finding f = make(FindingKind::kPartDead, bench.board, p);
    if (part.defect.unit) {
      tell(f, "value", part.defect.bore, unit_of(part.defect.unit));
      tell(f, "rating", part.defect.rating, unit_of(part.defect.unit));
      tell(f, "seconds", part.defect.seconds, "s");
    }
    replace(f, part);
    out.push_back(std::move(f));
  }
}

void add_batteries(const Observed& bench, std::vector<Finding>& out) {
  for (size_t p = 0; p < bench.board.parts.size() && p < bench.readings.parts.size(); ++p) {
    const Part& part = bench.board.parts[p];
    const PartReading& r = bench.readings.parts[p];
    if (!type_of(part).capacity) continue;
    if (has_reading(r.temperature) && r.temperature >= kHotBattery) {
      Finding f = make(FindingKind::kBatteryHot, bench.board, p);
      tell(f, "value", r.temperature, "°C");
      tell(f, "current", r.current, "A");
      f.repair = {Edit{SwitchSupply{part.name, false}}};
      f.effort = 1;
      out.push_back(std::move(f));
    }
    const double charge = has_reading(r.charge) ? r.charge : value_of(part, "charge", 1);
    if (charge >= kLow || r.state == State::kOff) continue;
    Finding f = make(FindingKind::kBatteryLow, bench.board, p);
    if (charge >= kAllButEmpty) f.severity = Severity::kWarning;
    tell(f, "value", r.voltage, "V");
    tell(f, "rating", type_of(part).ratings(part).voltage, "V");
    tell(f, "percent", std::round(100 * charge), "");
    if (value_of(part, "charge", 1) < 1)
      f.repair = {Edit{SetValue{part.name, "charge", 1}}};
    else
      f.repair = {Edit{ReplacePart{part.name}}};
    f.effort = 1;
    out.push_back(std::move(f));
  }
}

struct Probed {
  size_t meter;      // index into board.parts
  StripIndex a, b;
  double shown;      // infinite: over range
  std::string_view unit;
};

// Where the meters on the bench lie, and what they show.
std::vector<Probed> probed(const Observed& bench) {
  std::vector<Probed> out;
  for (size_t p = 0; p < bench.board.parts.size() && p < bench.readings.parts.size(); ++p) {
    const PartReading& r = bench.readings.parts[p];
    const double shown = r.state == State::kOverRange ? std::numeric_limits<double>::infinity() : r.shown;
    if (!type_of(bench.board.parts[p]).touches || bench.board.parts[p].leads.size() != 2 || !has_reading(shown)) continue;
    const std::span<const StripIndex> strips = bench.wiring.strip_of_lead[p];
    out.push_back({p, strips[0], strips[1], shown, r.shown_unit});
  }
  return out;
}

// The lead that a two-ended part counts as its other end: a button's legs are joined in pairs.
int second_end(const Part& part) { return part.leads.size() == 4 ? 2 : 1; }

// Is there a way between the ends of this part past it, through whatever part? Then less resistance than its own proves nothing.
bool has_way_past(const Board& board, const Wiring& wiring, size_t p) {
  std::vector<NetIndex> piece(size_t(wiring.net_count));
  std::iota(piece.begin(), piece.end(), 0);
  const auto net = [&](size_t part, int lead) { return piece[size_t(wiring.net_of_strip[size_t(wiring.strip_of_lead[part][size_t(lead)])])]; };
  for (size_t other = 0; other < board.parts.size(); ++other) {
    if (other == p || type_of(board.parts[other]).touches) continue;
    for (int lead = 1; lead < int(board.parts[other].leads.size()); ++lead)
      if (const NetIndex a = net(other, 0), b = net(other, lead); a != b) std::replace(piece.begin(), piece.end(), b, a);
  }
  return net(p, 0) == net(p, second_end(board.parts[p]));
}

// "∞ Ω" over range.
void tell_measured(Finding& f, double shown, std::string_view unit) {
  std::isinf(shown) ? tell(f, "measured", "∞ " + std::string(unit)) : tell(f, "measured", shown, unit);
}

// What a meter from lead 0 to lead 1 shows that no whole part of this kind would; false when it could well be.
bool convicts(const Board& good, size_t p, double shown, std::string_view unit, const Scene& scene) {
  const Part& part = good.parts[p];
  const PartType& type = type_of(part);
  const ScenePart& at = scene.parts[p];
  if (unit == "Ω" && type.conductor) return shown > kMetalOhms;
  if (unit == "Ω") {
    const int index = value_index(*part.kind, "resistance");
    if (index < 0 || at.role != Role::kResistor) return false;
    const double printed = part.values[size_t(index)];
    if (shown > printed * (1.2 + kBeyondTolerance)) return true;
    return shown < printed * (0.8 - kBeyondTolerance) && !has_way_past(good, *scene.wiring, p);
  }
  if (unit != "V" || std::isinf(shown)) return false;
  if (type.conductor) return std::fabs(shown) > kMetalDrop;
  if (at.role == Role::kSupply) {
    const double printed = type.ratings ? type.ratings(part).voltage : kNoReading;
    return at.on && has_reading(printed) && type.capacity && shown < kWeakBattery * printed;
  }
  for (int l = at.first_link; l < at.first_link + at.link_count; ++l) {
    const SceneLink& link = scene.links[size_t(l)];
    const bool ends = link.a == at.first_lead && link.b == at.first_lead + second_end(part);
    if (!ends && !(link.link == Link::kContact && part.leads.size() == 4))
      continue;  // a button's contact lies between its inner pieces
    if (link.link == Link::kJunction) return shown > kAboveForward * link.value + kAndMore;
    if (link.link == Link::kContact) {
      const SceneControl& control = scene.controls[size_t(link.control)];
      return (link.closed_at >> control.now & 1u) != 0 && std::fabs(shown) > kMetalDrop;
    }
  }
  return false;
}

// Do the probes lie on both ends of this part? Then what they show, counted from its first end.
bool lies_across(const Observed& bench, size_t p, const Probed& probe, double* shown) {
  const std::span<const StripIndex> strips = bench.wiring.strip_of_lead[p];
  if (strips.size() < 2) return false;
  const StripIndex a = strips[0], b = strips[size_t(second_end(bench.board.parts[p]))];
  if (a == b) return false;
  *shown = probe.a == a && probe.b == b ? probe.shown : probe.a == b && probe.b == a ? -probe.shown : kNoReading;
  return has_reading(*shown);
}

// Both probes in one rail, and between them what no one piece of metal shows: it is broken. A wire across joins the halves again.
void add_broken_rail(const Observed& bench, const Board& good, const Probed& probe, std::vector<Finding>& out) {
  const StripPlace at = place_of_strip(good, bench.wiring, probe.a);
  const bool metal = probe.unit == "V" ? !(std::fabs(probe.shown) > kMetalDrop) : probe.unit != "Ω" || !(probe.shown > kMetalOhms);
  if (!at.rail || at.half >= 0 || probe.a != probe.b || metal) return;
  Finding f = make_finding(FindingKind::kRailCracked);
  const std::vector<Hole>& ends = bench.board.parts[probe.meter].leads;
  for (const Hole hole : ends) f.places.push_back({.hole = hole, .strip = probe.a});
  tell(f, "rail", place_name(good, bench.wiring, probe.a));
  tell_measured(f, std::fabs(probe.shown), probe.unit);
  Board known = good;
  known.breadboards[size_t(at.breadboard)].cracks[size_t(at.which)] = Crack::kFound;
  const Wiring halves = wire_up(known);
  const Candidate wire{.movement = Movement::kAddWire,
                       .from = strip_of_rail(known, halves, at.breadboard, at.which, 0),
                       .to = strip_of_rail(known, halves, at.breadboard, at.which, 1)};
  std::vector<Breadboard> breadboards = bench.board.breadboards;
  breadboards[size_t(at.breadboard)].cracks[size_t(at.which)] = Crack::kFound;
  f.repair = {Edit{SetBreadboards{std::move(breadboards)}}};
  for (Edit& edit : edits_for(make_scene(known, halves), wire, taken_holes(known))) {
    const std::vector<Hole>& across = std::get<PlacePart>(edit.act).part.leads;
    tell(f, "hole", known.name_of(across[0]));
    tell(f, "target", known.name_of(across[1]));
    f.repair.push_back(std::move(edit));
  }
  f.effort = 1;
  out.push_back(std::move(f));
}

// What the meters of a bench with good parts would show now; no reading where that is not known.
class Sound {
 public:
  Sound(const Observed& bench, const Board& good, const Scene& scene) {
    if (scene.may_beat || bench.readings.error) return;
    const Circuit circuit = extract(good, bench.wiring);
    readings_ = take_readings(good, bench.wiring, circuit, solve_operating_point(circuit));
    known_ = !readings_.error;
  }
  bool known() const { return known_; }
  const PartReading& part(size_t p) const { return readings_.parts[p]; }
  // Does a good bench show the same there? Then it proves nothing.
  bool shows_it_too(const Probed& probe) const {
    return known_ && !std::isinf(probe.shown) && has_reading(part(probe.meter).shown) &&
           std::fabs(part(probe.meter).shown - probe.shown) <= kSameReading * std::fabs(probe.shown);
  }

 private:
  Readings readings_;
  bool known_ = false;
};

// What the probes prove.
void add_proven(const Observed& bench, const Board& good, const Scene& scene, const Sound& sound, std::vector<Finding>& out) {
  for (const Probed& probe : probed(bench)) {
    if (sound.shows_it_too(probe)) continue;
    add_broken_rail(bench, good, probe, out);
    for (size_t p = 0; p < good.parts.size(); ++p) {
      double shown = kNoReading;
      if (type_of(good.parts[p]).touches || (bench.board.parts[p].defect && !bench.board.parts[p].defect.hidden)) continue;
      if (!lies_across(bench, p, probe, &shown)) continue;
      if (probe.unit == "Ω") shown = std::fabs(shown);
      if (!convicts(good, p, shown, probe.unit, scene)) continue;
      Finding f = make(FindingKind::kPartDead, good, p);
      tell_measured(f, shown, probe.unit);
      replace(f, good.parts[p]);
      out.push_back(std::move(f));
    }
  }
}

// What does not work as it would with good parts.
void add_unexpected(const Observed& bench, const Board& good, const Sound& sound, std::vector<Finding>& out) {
  for (size_t p = 0; p < good.parts.size() && sound.known(); ++p) {
    if (!is_load(good.parts[p]) || (bench.board.parts[p].defect && !bench.board.parts[p].defect.hidden)) continue;
    if (works(sound.part(p)) == works(bench.readings.parts[p])) continue;
    Finding f = make(FindingKind::kNotAsExpected, good, p);
    tell(f, "value", bench.readings.parts[p].current, "A");
    tell(f, "wanted", sound.part(p).current, "A");
    f.silenced.push_back(good.parts[p].id);
    out.push_back(std::move(f));
  }
}

// `plain`: nothing else is known to be wrong. Else a dark lamp proves nothing; what a meter shows still does.
void add_unseen(const Observed& bench, bool plain, std::vector<Finding>& out) {
  const Board good = with_good_parts(bench.board);
  const Scene scene = make_scene(good, bench.wiring);
  const Sound sound(bench, good, scene);
  std::vector<Finding> found;
  add_proven(bench, good, scene, sound, found);
  if (found.empty() && plain) add_unexpected(bench, good, sound, found);
  std::move(found.begin(), found.end(), std::back_inserter(out));
}

}  // namespace

Board with_good_parts(const Board& board) {
  Board good = as_it_looks(board, true);
  for (Part& part : good.parts)
    if (type_of(part).capacity)
      if (const int charge = value_index(*part.kind, "charge"); charge >= 0) part.values[size_t(charge)] = 1;
  return good;
}

std::vector<PartId> closed_reeds(const Board& board, const Readings& readings) {
  std::vector<PartId> out;
  if (readings.error || readings.parts.size() != board.parts.size()) return out;
  for (size_t p = 0; p < board.parts.size(); ++p) {
    const Part& part = board.parts[p];
    if (type_of(part).body != Body::kReedSwitch) continue;
    const double distance = part.values[size_t(value_index(*part.kind, "magnet"))];
    const State state = readings.parts[p].state;
    if (distance > kReedPullIn && distance <= kReedDropOut && (state == State::kClosed || state == State::kOverloaded)) out.push_back(part.id);
  }
  return out;
}

std::optional<Board> with_closed_reeds(const Board& board, const Readings& readings) {
  const std::vector<PartId> closed = closed_reeds(board, readings);
  if (closed.empty()) return std::nullopt;
  Board out = board;
  for (const PartId id : closed) {
    Part& part = out.parts[size_t(out.index_of(id))];
    part.values[size_t(value_index(*part.kind, "magnet"))] = kReedPullIn;
  }
  return out;
}

bool needs_good_parts(const Observed& bench) {
  if (has_secrets(bench.board)) return true;
  return std::any_of(bench.board.parts.begin(), bench.board.parts.end(),
                     [](const Part& p) { return type_of(p).capacity && value_of(p, "charge", 1) < kLow; });
}

void add_conditions(const Observed& bench, const FindingOptions& options, std::vector<Finding>& list) {
  std::vector<Finding> more;
  add_batteries(bench, more);
  add_dead(bench, more);
  const bool told = !more.empty();
  const bool broken_in_plan = any_fault(list);
  if (has_secrets(bench.board)) add_unseen(bench, !told && !broken_in_plan, more);
  if (more.empty()) return;
  const bool faulty = std::any_of(more.begin(), more.end(), [](const Finding& f) { return f.severity == Severity::kFault; });
  if (faulty) {
    // What says that all is well is no longer true; the indices of notes behind it move along.
    std::erase_if(list, [](const Finding& f) { return f.kind == FindingKind::kWorks; });
  }
  // A fault of the plan comes first: it is what killed the part, and would kill the next one. After it and what else it might
  // be, the parts.
  size_t at = 0;
  while (at < list.size() && list[at].severity != Severity::kNote) ++at;
  list.insert(list.begin() + long(at), more.begin(), more.end());
  if (int(list.size()) > options.most) list.resize(size_t(options.most));
}

}  // namespace tiepoint
