// From a movement that helps to the name of the trouble, and to the edits that carry the movement out.
#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

#include "engine/explain/repairs.h"
#include "engine/parts/part_type.h"

namespace tiepoint {
namespace {

constexpr double kStandardResistor = 330;  // [ohm] right for one LED on 3 to 9 V

bool has_flaw(const std::vector<FlawAt>& flaws, Flaw flaw, int part = -1) {
  return std::any_of(flaws.begin(), flaws.end(), [&](const FlawAt& f) { return f.flaw == flaw && (part < 0 || f.part == part); });
}

bool on_strip(const Scene& scene, StripIndex strip, int part, int except_lead) {
  const ScenePart& p = scene.parts[size_t(part)];
  for (int lead = 0; lead < p.lead_count; ++lead)
    if (p.first_lead + lead != except_lead && scene.strip_of_lead[size_t(p.first_lead + lead)] == strip) return true;
  return false;
}

FindingKind name_seat(const Scene& scene, Judge& judge, const Candidate& c) {
  const ScenePart& part = scene.parts[size_t(c.part)];
  const StripPlace from = place_of_strip(*scene.board, *scene.wiring, c.from), to = place_of_strip(*scene.board, *scene.wiring, c.to);
  if (from.breadboard < 0) return FindingKind::kLeadInAir;
  if (part.lead_count == 2 && scene.strip_of_lead[size_t(part.first_lead)] == scene.strip_of_lead[size_t(part.first_lead + 1)])
    return FindingKind::kSameStrip;
  if (from.rail && to.rail) {
    if (from.which == to.which) return FindingKind::kRailSplit;
    judge.cost({});
    const int net = judge.net_of_strip(c.from);
    bool fed = false;
    for (const ScenePart& supply : scene.parts)
      if (supply.role == Role::kSupply)
        for (int k = 0; k < 2; ++k) fed = fed || judge.net_of_terminal(supply.first_lead + k) == net;
    if (part.role != Role::kSupply && !fed) return FindingKind::kRailUnfed;
    return is_plus(from.which) != is_plus(to.which) ? FindingKind::kRailsMixed : FindingKind::kRailUnfed;
  }
  if (from.rail != to.rail) return FindingKind::kWireAstray;
  if (const int s = switch_between(scene, c.from, c.to); s >= 0 && s != c.part)
    return type_of(scene.board->parts[size_t(s)]).leads[0].joined >= 0 ? FindingKind::kButtonOnePair : FindingKind::kSwitchEnds;
  return from.lower != to.lower ? FindingKind::kCentreGap : FindingKind::kNextStrip;
}

FindingKind name_turn(const Scene& scene, const Candidate& c) {
  switch (scene.parts[size_t(c.part)].role) {
    case Role::kLoad: return FindingKind::kLedReversed;
    case Role::kCapacitor: return FindingKind::kCapacitorReversed;
    case Role::kSwitch: return FindingKind::kButtonTurned;
    case Role::kActive:
      return scene.board->parts[size_t(c.part)].leads.size() > 3 ? FindingKind::kChipTurned : FindingKind::kTransistorTurned;
    default: return FindingKind::kDiodeReversed;
  }
}

// A wire that should go: named by what it bridges.
FindingKind name_removal(const Scene& scene, const Candidate& c, const std::vector<FlawAt>& flaws) {
  if (scene.parts[size_t(c.part)].role == Role::kSupply) return FindingKind::kSuppliesFight;
  if (has_flaw(flaws, Flaw::kShort)) return FindingKind::kSupplyShorted;
  // Without its resistor a branch may short the supply when a button is pressed: the resistor is the cause.
  const bool resistor = std::any_of(flaws.begin(), flaws.end(), [&](const FlawAt& f) {
    return f.flaw == Flaw::kOneNet && scene.parts[size_t(f.part)].role == Role::kResistor;
  });
  if (has_flaw(flaws, Flaw::kPressShort) && !(resistor && has_flaw(flaws, Flaw::kUnlimited))) return FindingKind::kPressShorts;
  const bool idle = has_flaw(flaws, Flaw::kIdleWire, c.part) || has_flaw(flaws, Flaw::kLooseEnd, c.part) || has_flaw(flaws, Flaw::kSpareWire, c.part);
  FindingKind kind = idle ? FindingKind::kWireIdle : FindingKind::kWireAmiss;
  for (const FlawAt& flaw : flaws) {
    if (flaw.flaw != Flaw::kOneNet) continue;
    switch (scene.parts[size_t(flaw.part)].role) {
      case Role::kLoad: return FindingKind::kLoadBypassed;
      case Role::kResistor: kind = FindingKind::kResistorBypassed; break;
      case Role::kSwitch: kind = FindingKind::kSwitchBypassed; break;
      default: kind = FindingKind::kPartBypassed; break;
    }
  }
  return kind;
}

FindingKind name_wire(const Scene& scene, Judge& judge, const Candidate& c) {
  const StripPlace a = place_of_strip(*scene.board, *scene.wiring, c.from), b = place_of_strip(*scene.board, *scene.wiring, c.to);
  if (a.rail && b.rail && a.breadboard == b.breadboard && is_plus(a.which) == is_plus(b.which))
    return a.which == b.which ? FindingKind::kRailSplit : FindingKind::kRailUnfed;
  judge.cost({});
  const int na = judge.net_of_strip(c.from), nb = judge.net_of_strip(c.to);
  for (const ScenePart& supply : scene.parts) {
    if (supply.role != Role::kSupply) continue;
    const int plus = judge.net_of_terminal(supply.first_lead), minus = judge.net_of_terminal(supply.first_lead + 1);
    if (na == minus || nb == minus) return FindingKind::kReturnMissing;
    if (na == plus || nb == plus) return FindingKind::kFeedMissing;
  }
  return FindingKind::kWireMissing;
}

double distance(const Board& board, Hole a, Hole b) {
  const MatPoint pa = board.mat_of(a), pb = board.mat_of(b);
  return std::hypot(pa.x - pb.x, pa.y - pb.y);
}

std::vector<Hole> free_holes(const Scene& scene, StripIndex strip, const Taken& taken) {
  std::vector<Hole> out;
  for (const Hole hole : holes_of(*scene.board, *scene.wiring, strip))
    if (!taken(hole)) out.push_back(hole);
  return out;
}

// Holes for a new two-lead part from strip a to strip b that fit, the shortest way first. The shortest nearly always fits.
bool place_between(const Scene& scene, Part& part, StripIndex a, StripIndex b, const Taken& taken) {
  const std::vector<Hole> from = free_holes(scene, a, taken), to = free_holes(scene, b, taken);
  struct Pair { double size; Hole a, b; };
  std::vector<Pair> pairs;
  pairs.reserve(from.size() * to.size());
  for (const Hole x : from)
    for (const Hole y : to) pairs.push_back({distance(*scene.board, x, y), x, y});
  const auto shorter = [](const Pair& l, const Pair& r) { return std::tie(l.size, l.a, l.b) < std::tie(r.size, r.a, r.b); };
  constexpr size_t kTries = 40;
  for (size_t k = 0; k < std::min(kTries, pairs.size()); ++k) {
    const auto at = pairs.begin() + long(k);
    std::iter_swap(at, std::min_element(at, pairs.end(), shorter));
    part.leads = {at->a, at->b};
    if (check_seat(*scene.board, part)) return true;
  }
  return false;
}

std::vector<Edit> wire_edits(const Scene& scene, const Candidate& c, const Taken& taken) {
  const PartKind* wire = catalogue().find("jumper-wire");
  Part part = make_part(*wire);
  if (!place_between(scene, part, c.from, c.to, taken)) return {};
  return {Edit{PlacePart{part}}};
}

// Takes the wire out and puts a resistor where it was, or wherever one fits between the same two strips.
std::vector<Edit> resistor_edits(const Scene& scene, const Candidate& c) {
  const Part& wire = scene.board->parts[size_t(c.part)];
  Board without = *scene.board;
  without.parts.erase(without.parts.begin() + c.part);
  Part resistor = make_part(*catalogue().find("resistor"));
  resistor.values[size_t(value_index(*resistor.kind, "resistance"))] = kStandardResistor;
  resistor.leads = wire.leads;
  if (!check_seat(without, resistor)) {
    const Wiring wiring = wire_up(without);
    Scene rest;
    rest.board = &without, rest.wiring = &wiring;
    const int first = scene.parts[size_t(c.part)].first_lead;
    if (!place_between(rest, resistor, scene.strip_of_lead[size_t(first)], scene.strip_of_lead[size_t(first) + 1], taken_holes(without))) return {};
  }
  return {Edit{RemovePart{wire.name}}, Edit{PlacePart{resistor}}};
}

}  // namespace

int switch_between(const Scene& scene, StripIndex from, StripIndex to) {
  for (size_t p = 0; p < scene.parts.size(); ++p)
    if (scene.parts[p].role == Role::kSwitch && on_strip(scene, from, int(p), -1) && on_strip(scene, to, int(p), -1)) return int(p);
  return -1;
}

Hole free_hole(const Scene& scene, int index, int lead, StripIndex strip) {
  Part part = scene.board->parts[size_t(index)];
  const Hole now = part.leads[size_t(lead)];
  Hole anchor = now;
  for (size_t k = 0; k < part.leads.size() && !anchor.valid(); ++k) anchor = part.leads[k];
  Hole best;
  double nearest = std::numeric_limits<double>::infinity();
  for (const Hole hole : holes_of(*scene.board, *scene.wiring, strip)) {
    const double size = anchor.valid() ? distance(*scene.board, hole, anchor) : 0;
    if (size >= nearest) continue;
    part.leads[size_t(lead)] = hole;
    if (!check_seat(*scene.board, part)) continue;
    best = hole;
    nearest = size;
  }
  return best;
}

Taken taken_holes(const Board& board) {
  Taken taken;
  for (const Breadboard& b : board.breadboards) taken.holes.emplace_back(size_t(layout(b.layout).hole_count()), 0);
  for (const Part& part : board.parts) {
    for (const Hole hole : part.leads)
      if (board.has(hole)) taken.holes[hole.breadboard][hole.index] = 1;
    for (const Hole hole : covered_holes(board, part)) taken.holes[hole.breadboard][hole.index] = 1;
  }
  return taken;
}

std::vector<Edit> edits_for(const Scene& scene, const Candidate& c, const Taken& taken) {
  const Board& board = *scene.board;
  const auto& part = [&]() -> const Part& { return board.parts[size_t(c.part)]; };
  switch (c.movement) {
    case Movement::kSeat: {
      const Hole hole = free_hole(scene, c.part, c.lead, c.to);
      if (!hole.valid()) return {};
      return {Edit{SeatLead{part().name, c.lead, hole}}};
    }
    case Movement::kShift: {
      const MatPoint at = board.mat_of(part().leads[0]);
      MovePart move{part().name, {board.hole_at({int(at.x) + c.steps, int(at.y)})}, part().turn, part().mat, {}};
      const Edit edit{move};
      if (!check(board, edit)) return {};
      return {edit};
    }
    case Movement::kTurn: {
      const Edit edit{TurnPart{part().name, c.steps}};
      if (!check(board, edit)) return {};
      return {edit};
    }
    case Movement::kSwapSupply: {
      const std::vector<Hole>& leads = part().leads;
      return {Edit{SeatLead{part().name, 0, Hole{}}}, Edit{SeatLead{part().name, 1, leads[0]}}, Edit{SeatLead{part().name, 0, leads[1]}}};
    }
    case Movement::kSwitchOn: return {Edit{SwitchSupply{part().name, true}}};
    case Movement::kRemove: return {Edit{RemovePart{part().name}}};
    case Movement::kAddWire: return wire_edits(scene, c, taken);
    case Movement::kToResistor: return resistor_edits(scene, c);
  }
  return {};
}

FindingKind name_trouble(const Scene& scene, Judge& judge, const Candidate& c, const std::vector<FlawAt>& flaws) {
  switch (c.movement) {
    case Movement::kSeat: return name_seat(scene, judge, c);
    case Movement::kShift: return FindingKind::kNextStrip;
    case Movement::kTurn: return name_turn(scene, c);
    case Movement::kSwapSupply: return FindingKind::kSupplySwapped;
    case Movement::kSwitchOn: return FindingKind::kSupplyOff;
    case Movement::kRemove: return name_removal(scene, c, flaws);
    case Movement::kAddWire: return name_wire(scene, judge, c);
    case Movement::kToResistor:
      for (const FlawAt& flaw : flaws)
        if (flaw.flaw == Flaw::kUnlimited && scene.parts[size_t(flaw.part)].role == Role::kActive) return FindingKind::kBaseUnlimited;
      return FindingKind::kLedUnlimited;
  }
  return FindingKind::kUnfinished;
}

}  // namespace tiepoint
