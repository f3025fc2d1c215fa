#include "tests/corpus/mutate.h"

#include <algorithm>
#include <cmath>

#include "engine/board/edit.h"
#include "engine/circuit/wiring.h"
#include "engine/explain/trial.h"
#include "engine/parts/part_type.h"

namespace tiepoint::corpus {
namespace {

bool is_supply(const Part& p) { return type_of(p).reference_lead >= 0; }
bool is_wire(const Part& p) { return p.kind->conductor; }
bool is_kind(const Part& p, std::string_view key) { return p.kind->key == key; }
bool is_flexible(const Part& p) { return p.kind->footprint.seat == Seat::kFlexible; }

class Spoiler {
 public:
  Spoiler(Board& board, FindingKind kind, Random& random) : board_(board), wiring_(wire_up(board)), kind_(kind), random_(random) {}

  std::optional<Fault> run() {
    std::vector<int> order;
    for (size_t p = 0; p < board_.parts.size(); ++p) order.push_back(int(p));
    random_.shuffle(order);
    for (const int p : order) {
      const Board before = board_;
      edits_.clear();
      if (std::optional<Fault> fault = try_part(p)) {
        fault->edits = edits_;
        if (fault->kind == kind_) return fault;
      }
      board_ = before;
    }
    return std::nullopt;
  }

 private:
  const Part& part(int p) const { return board_.parts[size_t(p)]; }
  StripIndex strip(int p, int lead) const { return wiring_.strip_of_lead[size_t(p)][size_t(lead)]; }
  StripIndex strip(Hole h) const { return strip_of(board_, wiring_, h); }
  NetIndex net(StripIndex s) const { return wiring_.net_of_strip[size_t(s)]; }
  const Layout& kind_of_board() const { return layout(board_.breadboards[0].layout); }
  HolePlace place(Hole h) const { return place_of(kind_of_board(), h.index); }
  Hole at(const HolePlace& where) const {
    const int index = index_of(kind_of_board(), where);
    return index < 0 ? Hole{} : Hole{0, uint16_t(index)};
  }
  bool apply_edit(const Edit& edit, std::string* name = nullptr) {
    const Result<Applied> applied = apply(board_, edit);
    if (!applied) return false;
    if (name) *name = applied->part;
    edits_.push_back(edit);
    return true;
  }
  bool on_strip(const Part& p, int index, StripIndex s) const {
    for (size_t k = 0; k < p.leads.size(); ++k)
      if (strip(index, int(k)) == s) return true;
    return false;
  }
  Fault fault(FindingKind kind, int p, int lead = -1) const { return {.kind = kind, .part = part(p).name, .lead = lead}; }

  // Nets of a supply's leads.
  bool on_supply(NetIndex n, int lead) const {
    for (size_t p = 0; p < board_.parts.size(); ++p)
      if (is_supply(board_.parts[p]) && net(strip(int(p), lead)) == n) return true;
    return false;
  }

  std::optional<Fault> try_part(int p) {
    switch (kind_) {
      case FindingKind::kLeadInAir: return lift(p);
      case FindingKind::kSameStrip: return into_own_strip(p);
      case FindingKind::kNextStrip: return beside(p);
      case FindingKind::kCentreGap: return across(p);
      case FindingKind::kRailUnfed: case FindingKind::kRailSplit: return random_.chance(0.5) ? other_rail(p) : take_wire(p);
      case FindingKind::kRailsMixed: return other_rail(p);
      case FindingKind::kButtonTurned: return turn_button(p);
      case FindingKind::kButtonOnePair: case FindingKind::kSwitchEnds: return other_end(p);
      case FindingKind::kWireMissing: case FindingKind::kReturnMissing: case FindingKind::kFeedMissing: return take_wire(p);
      case FindingKind::kSupplyShorted: return short_supply(p);
      case FindingKind::kPressShorts: return press_short(p);
      case FindingKind::kLoadBypassed: return bypass(p, "led", kind_);
      case FindingKind::kResistorBypassed: return bypass(p, "resistor", kind_);
      case FindingKind::kSwitchBypassed: return bypass(p, "push-button", kind_);
      case FindingKind::kSupplyOff: return switch_off(p);
      case FindingKind::kSupplySwapped: return swap_supply(p);
      case FindingKind::kSuppliesFight: return second_supply(p);
      case FindingKind::kSupplyTooLow: case FindingKind::kSupplyTooHigh: return other_cells(p);
      case FindingKind::kLedReversed: return turn(p, "led");
      case FindingKind::kDiodeReversed: return turn(p, "diode");
      case FindingKind::kCapacitorReversed: return turn(p, "electrolytic-capacitor");
      case FindingKind::kLedUnlimited: return wire_for_resistor(p);
      case FindingKind::kResistorTooLarge: return misread(p, random_.chance(0.5) ? 100 : 1000);
      case FindingKind::kResistorTooSmall: return misread(p, random_.chance(0.7) ? 0.1 : 0.01);
      case FindingKind::kPartOverVoltage: return lower_rating(p);
      default: return std::nullopt;
    }
  }

  std::optional<Fault> lift(int p) {
    if (!is_flexible(part(p)) && !is_supply(part(p))) return std::nullopt;
    const int lead = random_.below(2);
    if (!apply_edit(Edit{SeatLead{part(p).name, lead, Hole{}}})) return std::nullopt;
    return fault(FindingKind::kLeadInAir, p, lead);
  }

  // Seats a lead in the hole, or in another free hole of the same strip; the class follows from where it was and is.
  bool seat(int p, int lead, Hole wanted) {
    if (apply_edit(Edit{SeatLead{part(p).name, lead, wanted}})) return true;
    std::vector<Hole> holes = board_.clip_of(wanted);
    random_.shuffle(holes);
    for (const Hole h : holes)
      if (apply_edit(Edit{SeatLead{part(p).name, lead, h}})) return true;
    return false;
  }

  FindingKind class_of_move(int p, int lead, StripIndex from, StripIndex to) const {
    for (size_t k = 0; k < part(p).leads.size(); ++k)
      if (int(k) != lead && strip(part(p).leads[k]) == to) return FindingKind::kSameStrip;
    for (size_t s = 0; s < board_.parts.size(); ++s) {
      const PartType& type = type_of(board_.parts[s]);
      if (type.group != "switches" || int(s) == p) continue;
      if (on_strip(board_.parts[s], int(s), from) && on_strip(board_.parts[s], int(s), to) && net(from) != net(to))
        return type.leads[0].joined >= 0 ? FindingKind::kButtonOnePair : FindingKind::kSwitchEnds;
    }
    const HolePlace a = place(board_.clip_of(hole_of(from)).front()), b = place(board_.clip_of(hole_of(to)).front());
    return (a.row >= 5) != (b.row >= 5) ? FindingKind::kCentreGap : FindingKind::kNextStrip;
  }
  Hole hole_of(StripIndex s) const { return holes_of(board_, wiring_, s).front(); }

  std::optional<Fault> move_lead(int p, int lead, int columns, bool across) {
    HolePlace where = place(part(p).leads[size_t(lead)]);
    if (where.on_rail) return std::nullopt;
    where.column += columns;
    if (across) where.row = 9 - where.row;
    const Hole to = at(where);
    if (!to.valid()) return std::nullopt;
    const StripIndex from = strip(p, lead);
    if (!seat(p, lead, to)) return std::nullopt;
    return fault(class_of_move(p, lead, from, strip(to)), p, lead);
  }

  std::optional<Fault> beside(int p) {
    const int step = random_.chance(0.5) ? 1 : -1;
    if (part(p).kind->footprint.seat == Seat::kRigid) {
      HolePlace where = place(part(p).leads[0]);
      where.column += step;
      const Hole to = at(where);
      if (!to.valid() || !apply_edit(Edit{MovePart{part(p).name, {to}, part(p).turn, part(p).mat, {}}})) return std::nullopt;
      return fault(FindingKind::kNextStrip, p);
    }
    if (!is_flexible(part(p))) return std::nullopt;
    return move_lead(p, random_.below(2), step, false);
  }

  std::optional<Fault> across(int p) {
    if (!is_flexible(part(p))) return std::nullopt;
    return move_lead(p, random_.below(2), 0, true);
  }

  std::optional<Fault> into_own_strip(int p) {
    if (!is_flexible(part(p))) return std::nullopt;
    const int lead = random_.below(2);
    if (place(part(p).leads[size_t(lead)]).on_rail || place(part(p).leads[size_t(1 - lead)]).on_rail) return std::nullopt;
    if (!seat(p, lead, part(p).leads[size_t(1 - lead)])) return std::nullopt;
    return fault(FindingKind::kSameStrip, p);  // which of the two leads slipped cannot be seen
  }

  // A lead in another rail: the class follows from what feeds that one.
  std::optional<Fault> other_rail(int p) {
    if (is_supply(part(p))) return std::nullopt;
    std::vector<int> leads;
    for (size_t k = 0; k < part(p).leads.size(); ++k)
      if (part(p).leads[k].valid() && place(part(p).leads[k]).on_rail) leads.push_back(int(k));
    if (leads.empty()) return std::nullopt;
    const int lead = random_.pick(leads);
    const HolePlace was = place(part(p).leads[size_t(lead)]);
    HolePlace where = was;
    const int rail = int(was.rail);
    const auto plus = [](Rail r) { return r == Rail::kTopPlus || r == Rail::kBottomPlus; };
    if (kind_ == FindingKind::kRailsMixed) where.rail = static_cast<Rail>(rail ^ 1);
    else if (kind_ == FindingKind::kRailUnfed) where.rail = static_cast<Rail>((rail + 2) % 4);
    else where.rail_hole = kind_of_board().rail_holes + 1 - was.rail_hole;  // mirrored: the other half
    const Hole to = at(where);
    if (!to.valid() || strip(to) == strip(p, lead)) return std::nullopt;
    const NetIndex n = net(strip(to));
    const bool fed = on_supply(n, 0) || on_supply(n, 1);
    if (!seat(p, lead, to)) return std::nullopt;
    if (was.rail == where.rail) return fed ? std::nullopt : std::optional(fault(FindingKind::kRailSplit, p, lead));
    if (!fed) return fault(FindingKind::kRailUnfed, p, lead);
    if (plus(was.rail) != plus(where.rail)) return fault(FindingKind::kRailsMixed, p, lead);
    return std::nullopt;
  }

  std::optional<Fault> turn_button(int p) {
    if (!is_kind(part(p), "push-button") || !apply_edit(Edit{TurnPart{part(p).name, random_.chance(0.5) ? 1 : 3}})) return std::nullopt;
    return fault(FindingKind::kButtonTurned, p);
  }

  // A wire or part on one end of a switch goes to another end of it.
  std::optional<Fault> other_end(int p) {
    if (!is_flexible(part(p))) return std::nullopt;
    const int lead = random_.below(2);
    const StripIndex from = strip(p, lead);
    for (size_t s = 0; s < board_.parts.size(); ++s) {
      if (type_of(board_.parts[s]).group != "switches" || !on_strip(board_.parts[s], int(s), from)) continue;
      std::vector<Hole> ends = board_.parts[s].leads;
      random_.shuffle(ends);
      for (const Hole h : ends) {
        if (net(strip(h)) == net(from)) continue;
        if (!seat(p, lead, h)) continue;
        Fault f = fault(class_of_move(p, lead, from, strip(h)), p, lead);
        f.also = board_.parts[s].name;
        return f;
      }
    }
    return std::nullopt;
  }

  std::optional<Fault> take_wire(int p) {
    if (!is_wire(part(p))) return std::nullopt;
    const std::vector<Hole> ends = part(p).leads;
    const HolePlace a = place(ends[0]), b = place(ends[1]);
    if (!apply_edit(Edit{RemovePart{part(p).name}})) return std::nullopt;
    Fault f{.between = ends};
    const Wiring after = wire_up(board_);
    const auto supplied = [&](Hole h, int lead) {
      for (size_t q = 0; q < board_.parts.size(); ++q)
        if (is_supply(board_.parts[q]) && net_of(board_, after, board_.parts[q].leads[size_t(lead)]) == net_of(board_, after, h)) return true;
      return false;
    };
    if (a.on_rail && b.on_rail) f.kind = a.rail == b.rail ? FindingKind::kRailSplit : FindingKind::kRailUnfed;
    else if (supplied(ends[0], 1) || supplied(ends[1], 1)) f.kind = FindingKind::kReturnMissing;
    else if (supplied(ends[0], 0) || supplied(ends[1], 0)) f.kind = FindingKind::kFeedMissing;
    else f.kind = FindingKind::kWireMissing;
    return f;
  }

  // A new wire between two strips; its name.
  std::optional<std::string> add_wire(StripIndex a, StripIndex b) {
    std::vector<Hole> from = holes_of(board_, wiring_, a), to = holes_of(board_, wiring_, b);
    random_.shuffle(from);
    random_.shuffle(to);
    for (const Hole x : from)
      for (const Hole y : to) {
        Part wire = make_part(*catalogue().find("jumper-wire"));
        wire.leads = {x, y};
        if (std::string name; apply_edit(Edit{PlacePart{wire}}, &name)) return name;
      }
    return std::nullopt;
  }

  std::optional<Fault> short_supply(int p) {
    if (!is_supply(part(p))) return std::nullopt;
    const NetIndex plus = net(strip(p, 0)), minus = net(strip(p, 1));
    std::vector<StripIndex> a, b;
    for (const StripIndex s : wiring_.strips_of_net[size_t(plus)]) a.push_back(s);
    for (const StripIndex s : wiring_.strips_of_net[size_t(minus)]) b.push_back(s);
    const std::optional<std::string> wire = add_wire(random_.pick(a), random_.pick(b));
    if (!wire) return std::nullopt;
    return Fault{.kind = FindingKind::kSupplyShorted, .part = *wire};
  }

  // The far side of a button whose other side is on one pole of the supply is wired to the other pole.
  std::optional<Fault> press_short(int p) {
    if (!is_kind(part(p), "push-button")) return std::nullopt;
    for (int side : {0, 2})
      for (int pole : {0, 1}) {
        if (!on_supply(net(strip(p, side)), pole)) continue;
        const int far = side == 0 ? 2 : 0;
        if (on_supply(net(strip(p, far)), 0) || on_supply(net(strip(p, far)), 1)) continue;
        for (size_t q = 0; q < board_.parts.size(); ++q) {
          if (!is_supply(board_.parts[q])) continue;
          std::vector<StripIndex> strips;
          for (const StripIndex s : wiring_.strips_of_net[size_t(net(strip(int(q), 1 - pole)))]) strips.push_back(s);
          const auto wire = add_wire(strip(p, far), random_.pick(strips));
          if (!wire) continue;
          const FindingKind kind = by_consequence(FindingKind::kPressShorts);
          return Fault{.kind = kind, .part = *wire};
        }
      }
    return std::nullopt;
  }

  std::optional<Fault> bypass(int p, std::string_view key, FindingKind kind) {
    if (!is_kind(part(p), key)) return std::nullopt;
    const int far = key == "push-button" ? 2 : 1;
    if (net(strip(p, 0)) == net(strip(p, far))) return std::nullopt;
    const NetIndex na = net(strip(p, 0)), nb = net(strip(p, far));
    if ((on_supply(na, 0) && on_supply(nb, 1)) || (on_supply(na, 1) && on_supply(nb, 0))) return std::nullopt;
    const auto wire = add_wire(strip(p, 0), strip(p, far));
    if (!wire) return std::nullopt;
    // A wire across a resistor or button that stands beside a lamp is across the lamp as well: that is what one sees.
    for (size_t q = 0; q < board_.parts.size(); ++q) {
      if (!is_load(board_.parts[q]) || int(q) == p || q >= wiring_.strip_of_lead.size()) continue;
      const NetIndex qa = net(strip(int(q), 0)), qb = net(strip(int(q), 1));
      if ((qa == na && qb == nb) || (qa == nb && qb == na)) kind = FindingKind::kLoadBypassed;
    }
    if (kind == FindingKind::kResistorBypassed) kind = by_consequence(kind);
    return Fault{.kind = kind, .part = *wire, .also = part(p).name};
  }

  // A wire around a resistor may also short the supply when a button is pressed, and the other way round. The name follows from
  // what happens: too much for a lamp, or too much for the supply.
  FindingKind by_consequence(FindingKind otherwise) const {
    bool lamp = false, supply = false;
    for (const StrainAt& s : strains(board_, try_board(board_, 16))) {
      lamp = lamp || s.strain == Strain::kTooBright;
      supply = supply || s.strain == Strain::kAtLimit || (s.part >= 0 && is_supply(board_.parts[size_t(s.part)]));
    }
    return lamp ? FindingKind::kResistorBypassed : supply ? FindingKind::kPressShorts : otherwise;
  }

  std::optional<Fault> switch_off(int p) {
    if (!is_supply(part(p)) || !apply_edit(Edit{SwitchSupply{part(p).name, false}})) return std::nullopt;
    return fault(FindingKind::kSupplyOff, p);
  }

  std::optional<Fault> swap_supply(int p) {
    if (!is_supply(part(p))) return std::nullopt;
    const std::vector<Hole> leads = part(p).leads;
    const std::string name = part(p).name;
    if (!apply_edit(Edit{SeatLead{name, 0, Hole{}}}) || !apply_edit(Edit{SeatLead{name, 1, leads[0]}}) || !apply_edit(Edit{SeatLead{name, 0, leads[1]}}))
      return std::nullopt;
    return fault(FindingKind::kSupplySwapped, p);
  }

  // A second supply of another voltage on the same rails.
  std::optional<Fault> second_supply(int p) {
    if (!is_supply(part(p))) return std::nullopt;
    const bool battery = is_kind(part(p), "battery-pack");
    Part other = make_part(*catalogue().find(battery ? "usb-supply" : "battery-pack"));
    if (!battery) other.values[0] = random_.chance(0.5) ? 5 : 1;  // six cells or two
    std::vector<Hole> plus = board_.clip_of(part(p).leads[0]), minus = board_.clip_of(part(p).leads[1]);
    random_.shuffle(plus);
    random_.shuffle(minus);
    for (size_t k = 0; k < std::min(plus.size(), minus.size()); ++k) {
      other.leads = {plus[k], minus[k]};
      other.mat = {30, -20};
      if (std::string name; apply_edit(Edit{PlacePart{other}}, &name))
        return Fault{.kind = FindingKind::kSuppliesFight, .part = name, .also = part(p).name};
    }
    return std::nullopt;
  }

  std::optional<Fault> other_cells(int p) {
    if (!is_kind(part(p), "battery-pack")) return std::nullopt;
    const int now = int(part(p).values[0]);
    const int to = kind_ == FindingKind::kSupplyTooLow ? random_.below(now) : now + 1 + random_.below(5 - now);
    if (to == now || to > 5 || !apply_edit(Edit{SetValue{part(p).name, "cells", double(to)}})) return std::nullopt;
    return fault(kind_, p);
  }

  std::optional<Fault> turn(int p, std::string_view key) {
    if (!is_kind(part(p), key) || !apply_edit(Edit{TurnPart{part(p).name, 2}})) return std::nullopt;
    return fault(kind_, p);
  }

  std::optional<Fault> wire_for_resistor(int p) {
    if (!is_kind(part(p), "resistor")) return std::nullopt;
    const std::vector<Hole> ends = part(p).leads;
    if (!apply_edit(Edit{RemovePart{part(p).name}})) return std::nullopt;
    Part wire = make_part(*catalogue().find("jumper-wire"));
    wire.leads = ends;
    if (!apply_edit(Edit{PlacePart{wire}})) return std::nullopt;
    // The place of this fault is the LED that now has nothing before it.
    const Trial trial = try_board(board_, 16);
    for (const StrainAt& s : strains(board_, trial))
      if (s.strain == Strain::kTooBright) return Fault{.kind = FindingKind::kLedUnlimited, .part = board_.parts[size_t(s.part)].name};
    return std::nullopt;
  }

  std::optional<Fault> misread(int p, double factor) {
    if (!is_kind(part(p), "resistor")) return std::nullopt;
    const double to = part(p).values[0] * factor;
    if (to < 0.1 || !apply_edit(Edit{SetValue{part(p).name, "resistance", to}})) return std::nullopt;
    return fault(kind_, p);
  }

  std::optional<Fault> lower_rating(int p) {
    if (!is_kind(part(p), "electrolytic-capacitor") || !apply_edit(Edit{SetValue{part(p).name, "rating", 0}})) return std::nullopt;
    return fault(kind_, p);
  }

  Board& board_;
  const Wiring wiring_;
  const FindingKind kind_;
  Random& random_;
  std::vector<Edit> edits_;
};

}  // namespace

const std::vector<FindingKind>& fault_classes() {
  using K = FindingKind;
  static const std::vector<K> kClasses = {
      K::kLeadInAir,    K::kSameStrip,      K::kNextStrip,      K::kCentreGap,       K::kRailUnfed,        K::kRailSplit,
      K::kRailsMixed,   K::kButtonTurned,   K::kButtonOnePair,  K::kSwitchEnds,      K::kWireMissing,      K::kReturnMissing,
      K::kFeedMissing,  K::kSupplyShorted,  K::kPressShorts,    K::kLoadBypassed,    K::kResistorBypassed, K::kSwitchBypassed,
      K::kSupplyOff,    K::kSupplySwapped,  K::kSuppliesFight,  K::kSupplyTooLow,    K::kSupplyTooHigh,    K::kLedReversed,
      K::kDiodeReversed, K::kCapacitorReversed, K::kLedUnlimited, K::kResistorTooLarge, K::kResistorTooSmall, K::kPartOverVoltage};
  return kClasses;
}

std::optional<Fault> spoil(Board& board, FindingKind kind, Random& random) { return Spoiler(board, kind, random).run(); }

}  // namespace tiepoint::corpus
