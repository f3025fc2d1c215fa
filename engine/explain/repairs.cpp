#include "engine/explain/repairs.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/parts/part_type.h"

namespace tiepoint {
namespace {

// Effort of the movements: 1 is a lead one hole beside its strip, the commonest slip on a breadboard. Common practice, no source;
// figures below about 1 stand for mistakes that are seen at once when they are there.
namespace effort {
constexpr double kPlugIn = 0.35, kPlugIntoRail = 0.3, kSwitchOn = 0.3;
constexpr double kTurn = 0.8, kTurnCapacitor = 0.6, kSwapSupply = 0.8, kSwapSupplyOnItsRails = 1.6, kSwapSupplyOnWrongRails = 0.4;
constexpr double kOtherEnd = 1.05;
constexpr double kColumn = 1.0, kSecondColumn = 0.85, kEachColumn = 0.45, kGap = 1.0, kGapAndColumn = 1.8;
constexpr double kWorkingWire = 0.55, kWorkingPart = 0.3;  // on top, for what has a function where it is
constexpr double kRailHalf = 1.05, kRailHalfAlone = 0.9, kRailSign = 0.7, kRailSide = 1.1, kRailBoth = 1.7;
constexpr double kFromMinus = 0.15, kAgainstColours = 1;  // on top: most loads return to minus; a wire between two rails of a colour is meant
constexpr double kOneEndWrong = 0.2;
constexpr double kUntangle = 0.0005, kUntangleMost = 0.04;  // per square of a hole's distance that a wire gets shorter
constexpr double kOutOfStrip = 1.0, kOutOfStripStep = 0.01;
constexpr double kShift = 1.15, kTurnRigid = 1.0;
constexpr double kRemove = 1.3, kRemoveBridge = 0.9, kLatest = 0.0005;  // of two wires the one that came later goes first
constexpr double kWire = 1.7, kWireToSupply = 1.5, kWireRails = 1.2, kWireHalves = 0.95, kWireStep = 0.004;
constexpr double kResistor = 1.5, kFarFromIt = 0.3;
constexpr double kFar = 2.4;
constexpr double kNeedless = 0.5, kAsGood = 0.1;
}  // namespace effort

// Flaws that the first of two movements may add: a lead alone in its strip; a load that now stands the wrong way round.
constexpr double kNewEnd = 1, kTurnedRound = 7;
constexpr int kMostColumns = 2;  // a lead this many columns off still counts as a slip

class Finder {
 public:
  Finder(const Scene& scene, Judge& judge, const std::vector<FlawAt>& flaws, bool sideways)
      : scene_(scene), board_(*scene.board), wiring_(*scene.wiring), judge_(judge), flaws_(flaws), sideways_(sideways) {}

  std::vector<Candidate> run() {
    base_cost_ = judge_.cost({});
    function_.assign(scene_.parts.size(), -1);
    mark_suspects();
    std::vector<char> sound(scene_.links.size(), 0);
    for (size_t l = 0; l < scene_.links.size(); ++l) sound[l] = judge_.sound(int(l)) && !suspect_[size_t(scene_.links[l].part)];
    sound_ = std::move(sound);
    judge_.trust(sound_);
    for (size_t p = 0; p < scene_.parts.size(); ++p) try_part(int(p));
    try_wires();
    judge_.trust({});
    std::stable_sort(out_.begin(), out_.end(), [](const Candidate& a, const Candidate& b) { return a.score() < b.score(); });
    return std::move(out_);
  }

 private:
  // Parts with a flaw and the wires near them: all wires on a net of theirs; of a supply's net, which wires join all over the
  // board, only those in the strip itself, unless the flaw may lie anywhere on that net.
  void mark_suspects() {
    const size_t nets = size_t(judge_.net_count());
    suspect_.assign(scene_.parts.size(), 0);
    net_suspect_.assign(nets, 0);
    net_fed_.assign(nets, 0);
    strip_leads_.resize(size_t(wiring_.strip_count));
    strip_suspect_.assign(size_t(wiring_.strip_count), 0);
    for (int strip = 0; strip < wiring_.strip_count; ++strip) strip_leads_[size_t(strip)] = judge_.leads_on_strip(strip);
    net_of_lead_.resize(size_t(scene_.lead_count));
    for (int lead = 0; lead < scene_.lead_count; ++lead) net_of_lead_[size_t(lead)] = judge_.net_of_terminal(lead);
    for (size_t p = 0; p < scene_.parts.size(); ++p)
      if (scene_.parts[p].role == Role::kSupply)
        for (int k = 0; k < 2; ++k) net_fed_[size_t(net_of_lead_[size_t(scene_.parts[p].first_lead + k)])] = 1;
    std::vector<char> net_wide(nets, 0);
    for (const FlawAt& flaw : flaws_) {
      suspect_[size_t(flaw.part)] = 1;
      const bool wide = flaw.flaw == Flaw::kOneNet || flaw.flaw == Flaw::kShort || flaw.flaw == Flaw::kPressShort ||
                        flaw.flaw == Flaw::kFight || flaw.flaw == Flaw::kUnlimited || sideways_;
      const ScenePart& part = scene_.parts[size_t(flaw.part)];
      for (int k = 0; k < part.lead_count; ++k) {
        const size_t net = size_t(net_of_lead_[size_t(part.first_lead + k)]);
        net_suspect_[net] = 1;
        if (wide || !net_fed_[net]) net_wide[net] = 1;
        strip_suspect_[size_t(strip_of_lead(part.first_lead + k))] = 1;
      }
    }
    // Where current comes the wrong way, the mistake may lie at the other end of a neighbour.
    for (const FlawAt& flaw : flaws_) {
      if (flaw.flaw != Flaw::kBackward && flaw.flaw != Flaw::kStuck) continue;
      const ScenePart& part = scene_.parts[size_t(flaw.part)];
      for (int k = 0; k < part.lead_count; ++k) {
        const int net = net_of_lead_[size_t(part.first_lead + k)];
        if (net_fed_[size_t(net)]) continue;
        for (int lead = 0; lead < scene_.lead_count; ++lead) {
          const ScenePart& other = scene_.parts[size_t(scene_.part_of_lead[size_t(lead)])];
          if (net_of_lead_[size_t(lead)] != net || other.role == Role::kWire) continue;
          for (int j = 0; j < other.lead_count; ++j) strip_suspect_[size_t(strip_of_lead(other.first_lead + j))] = 1;
        }
      }
    }
    for (int lead = 0; lead < scene_.lead_count; ++lead) {
      const int part = scene_.part_of_lead[size_t(lead)];
      if (scene_.parts[size_t(part)].role != Role::kWire) continue;
      if (net_wide[size_t(net_of_lead_[size_t(lead)])] || strip_suspect_[size_t(strip_of_lead(lead))] || crosses_rails(part)) suspect_[size_t(part)] = 1;
    }
    for (size_t p = 0; p < scene_.parts.size(); ++p)
      if (scene_.parts[p].role == Role::kSwitch && beside_trouble(scene_.parts[p])) suspect_[p] = 1;
    for (int lead = 0; lead < scene_.lead_count; ++lead)
      if (net_wide[size_t(net_of_lead_[size_t(lead)])]) strip_suspect_[size_t(strip_of_lead(lead))] = 1;
  }

  // Does one of its legs stand in the strip beside one where something is amiss? Then it may be the switch that stands a column off.
  bool beside_trouble(const ScenePart& part) const {
    for (int k = 0; k < part.lead_count; ++k) {
      const StripPlace at = place_of_strip(board_, wiring_, strip_of_lead(part.first_lead + k));
      if (at.breadboard < 0 || at.rail) continue;
      for (const int step : {-1, 1}) {
        const StripIndex s = strip_at_column(board_, wiring_, at.breadboard, at.column + step, at.lower);
        if (s >= 0 && strip_suspect_[size_t(s)]) return true;
      }
    }
    return false;
  }

  // From a plus rail to a minus rail: the colours say that this can hardly be meant, wherever the trouble shows.
  bool crosses_rails(int wire) const {
    const StripPlace a = place_of_strip(board_, wiring_, strip_of_lead(scene_.lead_index(wire, 0))), b = place_of_strip(board_, wiring_, strip_of_lead(scene_.lead_index(wire, 1)));
    return a.rail && b.rail && is_plus(a.which) != is_plus(b.which);
  }

  void consider(Candidate candidate) {
    const double bound = base_cost_ + (!sideways_ ? -0.01 : out_of_bridge(candidate) ? kNewEnd : candidate.movement == Movement::kSwapSupply ? kTurnedRound : 0.01);
    candidate.cost = judge_.cost(candidate.change, nullptr, bound);
    if (candidate.cost >= bound) return;
    if (candidate.movement == Movement::kSeat && scene_.parts[size_t(candidate.part)].role == Role::kWire && !in_air(candidate) &&
        cost_without(candidate.part) <= candidate.cost + effort::kAsGood)
      candidate.effort += effort::kNeedless;
    out_.push_back(std::move(candidate));
  }
  bool in_air(const Candidate& c) const { return c.from >= wiring_.clip_count; }
  bool in_air(const ScenePart& part) const {
    for (int k = 0; k < part.lead_count; ++k)
      if (strip_of_lead(part.first_lead + k) >= wiring_.clip_count) return true;
    return false;
  }

  // Flaws that would be left if this wire were not there at all: what moves a wire that the board does without has to say why it was
  // put in.
  double cost_without(int wire) {
    if (without_.empty()) without_.assign(scene_.parts.size(), -1);
    double& cost = without_[size_t(wire)];
    if (cost < 0) {
      Change change;
      change.remove = wire;
      cost = judge_.cost(change);
    }
    return cost;
  }

  StripIndex strip_of_lead(int terminal) const { return scene_.strip_of_lead[size_t(terminal)]; }

  void seat(int part, int lead, StripIndex to, double size) {
    const int terminal = scene_.lead_index(part, lead);
    const StripIndex from = strip_of_lead(terminal);
    if (to < 0 || to == from || (strip_leads_[size_t(to)] == 0 && !(sideways_ && bridged(part)))) return;
    const bool other_end = scene_.parts[size_t(part)].role != Role::kSwitch && switch_between(scene_, from, to) >= 0;
    if (other_end) size = std::min(size, effort::kOtherEnd);
    if (!other_end && !(size == effort::kRailSign && fed(to)) && from < wiring_.clip_count && has_function(part))
      size += scene_.parts[size_t(part)].role == Role::kWire ? effort::kWorkingWire : effort::kWorkingPart;
    if (scene_.parts[size_t(part)].role == Role::kWire) size += untangled(part, lead, from, to) - effort::kLatest * part;
    Candidate c{.movement = Movement::kSeat, .part = part, .lead = lead, .from = from, .to = to, .effort = size};
    c.change.moves.push_back({terminal, to});
    consider(std::move(c));
  }

  bool bridged(int part) const {
    return std::any_of(flaws_.begin(), flaws_.end(), [&](const FlawAt& f) { return f.part == part && f.flaw == Flaw::kOneNet; });
  }
  // A lead out of the strip that bridges its part: a first step, when what belongs there is missing as well.
  bool out_of_bridge(const Candidate& c) const { return c.movement == Movement::kSeat && bridged(c.part); }

  // Between movements that are equally likely the one that leaves the wires straighter: squares, so that of two crossed wires either
  // is better moved to where they no longer cross.
  double untangled(int part, int lead, StripIndex from, StripIndex to) const {
    const StripPlace a = place_of_strip(board_, wiring_, from), b = place_of_strip(board_, wiring_, to),
                     other = place_of_strip(board_, wiring_, strip_of_lead(scene_.lead_index(part, 1 - lead)));
    if (a.rail || b.rail || other.rail || a.breadboard < 0 || b.breadboard != a.breadboard || other.breadboard != a.breadboard) return 0;
    const auto square = [&](int column) { return double(column - other.column) * (column - other.column); };
    return std::clamp(effort::kUntangle * (square(b.column) - square(a.column)), -effort::kUntangleMost, effort::kUntangleMost);
  }

  bool fed(StripIndex strip) const {
    for (int lead = 0; lead < scene_.lead_count; ++lead)
      if (strip_of_lead(lead) == strip) return net_fed_[size_t(net_of_lead_[size_t(lead)])] != 0;
    return false;
  }

  void try_part(int p) {
    const ScenePart& part = scene_.parts[size_t(p)];
    const PartType& type = type_of(board_.parts[size_t(p)]);
    if (part.role == Role::kInstrument) return;
    if (type.footprint.seat == Seat::kRigid) {
      if (suspect_[size_t(p)]) try_rigid(p);
    } else {
      for (int lead = 0; lead < part.lead_count; ++lead) try_lead(p, lead);
    }
    if (part.role == Role::kSupply && (has(Flaw::kBackward) || has(Flaw::kStuck) || chip_without_supply())) try_swap(p);
    if (part.role == Role::kWire && has(Flaw::kUnlimited)) {  // anywhere on the way of the current, next to what lacks it sooner
      Candidate r{.movement = Movement::kToResistor, .part = p, .effort = effort::kResistor + unlike_resistor(part) + (suspect_[size_t(p)] ? 0 : effort::kFarFromIt)};
      r.change.resistor_for = p;
      consider(std::move(r));
    }
    if (!suspect_[size_t(p)]) return;
    if (part.polar && part.lead_count == 2 && !in_air(part) && net_of_lead_[size_t(part.first_lead)] != net_of_lead_[size_t(part.first_lead + 1)]) {
      Candidate c{.movement = Movement::kTurn, .part = p, .steps = 2, .effort = part.role == Role::kCapacitor ? effort::kTurnCapacitor : effort::kTurn};
      if (part.role == Role::kCapacitor && only_minus_astray(part)) c.effort += effort::kOneEndWrong;
      swap_leads(part, c.change);
      consider(std::move(c));
    }
    if (part.role == Role::kSupply) {
      if (has(Flaw::kFight)) {  // the one that came later goes first
        Candidate r{.movement = Movement::kRemove, .part = p, .effort = effort::kRemove - effort::kLatest * p};
        r.change.remove = p;
        consider(std::move(r));
      }
      if (!part.on) {
        Candidate on{.movement = Movement::kSwitchOn, .part = p, .effort = effort::kSwitchOn};
        on.change.switch_on = p;
        consider(std::move(on));
      }
    }
    if (part.role == Role::kWire) {
      Candidate c{.movement = Movement::kRemove, .part = p, .effort = (bridges_part(part) ? effort::kRemoveBridge : effort::kRemove) - effort::kLatest * p};
      c.change.remove = p;
      consider(std::move(c));
    }
  }

  void swap_leads(const ScenePart& part, Change& change) const {
    change.moves.push_back({part.first_lead, strip_of_lead(part.first_lead + 1)});
    change.moves.push_back({part.first_lead + 1, strip_of_lead(part.first_lead)});
  }

  // Its minus lead on a supply's plus, its plus lead on no supply's minus: then that one end is wrong rather than both.
  bool only_minus_astray(const ScenePart& part) const {
    const int plus = net_of_lead_[size_t(part.first_lead)], minus = net_of_lead_[size_t(part.first_lead + 1)];
    bool astray = false;
    for (const ScenePart& supply : scene_.parts) {
      if (supply.role != Role::kSupply) continue;
      astray = astray || minus == net_of_lead_[size_t(supply.first_lead)];
      if (plus == net_of_lead_[size_t(supply.first_lead + 1)]) return false;
    }
    return astray;
  }

  // Does the wire run from one end of a part to its other end?
  bool bridges_part(const ScenePart& wire) const {
    const StripIndex a = strip_of_lead(wire.first_lead), b = strip_of_lead(wire.first_lead + 1);
    for (const ScenePart& part : scene_.parts) {
      if (part.role == Role::kWire || part.role == Role::kSupply) continue;
      bool at_a = false, at_b = false;
      for (int k = 0; k < part.lead_count; ++k) {
        at_a = at_a || strip_of_lead(part.first_lead + k) == a;
        at_b = at_b || strip_of_lead(part.first_lead + k) == b;
      }
      if (at_a && at_b && a != b) return true;
    }
    return false;
  }

  // Does the part do something where it is? A wire: would the board be worse without it?
  bool has_function(int p) {
    if (function_[size_t(p)] < 0) {
      bool works = false;
      if (scene_.parts[size_t(p)].role == Role::kWire) {
        Change without;
        without.remove = p;
        works = judge_.cost(without) > base_cost_ + 2;
      } else {
        works = std::none_of(flaws_.begin(), flaws_.end(), [&](const FlawAt& f) { return f.part == p; });
      }
      function_[size_t(p)] = works;
    }
    return function_[size_t(p)] != 0;
  }

  // A wire that stands where a resistor could: between two strips, as far apart as a resistor's leads reach.
  double unlike_resistor(const ScenePart& part) const {
    const StripPlace a = place_of_strip(board_, wiring_, strip_of_lead(part.first_lead));
    const StripPlace b = place_of_strip(board_, wiring_, strip_of_lead(part.first_lead + 1));
    if (a.rail && b.rail) return 0.3;
    if (a.rail || b.rail) return 0.1;
    for (const FlawAt& flaw : flaws_)  // next to the part that lacks it
      if (flaw.flaw == Flaw::kUnlimited)
        for (int k = 0; k < scene_.parts[size_t(flaw.part)].lead_count; ++k)
          for (int end = 0; end < 2; ++end)
            if (strip_of_lead(scene_.parts[size_t(flaw.part)].first_lead + k) == strip_of_lead(part.first_lead + end)) return -0.1;
    return std::abs(a.column - b.column) < 4 ? 0.05 : 0;
  }

  // The colours of the rails tell which way round the supply was meant.
  void try_swap(int p) {
    const ScenePart& part = scene_.parts[size_t(p)];
    double size = effort::kSwapSupply;
    int right = 0, wrong = 0;
    for (int lead = 0; lead < 2; ++lead) {
      const StripPlace at = place_of_strip(board_, wiring_, strip_of_lead(part.first_lead + lead));
      if (at.rail) ++(is_plus(at.which) == (lead == 0) ? right : wrong);
    }
    if (right > wrong) size = effort::kSwapSupplyOnItsRails;
    if (wrong > right) size = effort::kSwapSupplyOnWrongRails;
    Candidate c{.movement = Movement::kSwapSupply, .part = p, .effort = size};
    swap_leads(part, c.change);
    judge_.trust({});  // this one turns everything round
    consider(std::move(c));
    judge_.trust(sound_);
  }

  bool chip_without_supply() const {
    return std::any_of(flaws_.begin(), flaws_.end(), [&](const FlawAt& f) {
      return f.flaw == Flaw::kDead && f.link >= 0 && scene_.links[size_t(f.link)].link == Link::kActive;
    });
  }

  bool has(Flaw flaw) const {
    return std::any_of(flaws_.begin(), flaws_.end(), [&](const FlawAt& f) { return f.flaw == flaw; });
  }

  void try_lead(int p, int lead) {
    const ScenePart& part = scene_.parts[size_t(p)];
    const int terminal = part.first_lead + lead;
    const StripIndex from = strip_of_lead(terminal);
    const StripPlace at = place_of_strip(board_, wiring_, from);
    const bool own = suspect_[size_t(p)] != 0;
    const auto worth = [&](StripIndex to) { return to >= 0 && (own || strip_suspect_[size_t(to)]); };
    if (at.breadboard < 0) {
      for (StripIndex to = 0; to < wiring_.clip_count; ++to)
        if (strip_leads_[size_t(to)] > 0) seat(p, lead, to, place_of_strip(board_, wiring_, to).rail ? effort::kPlugIntoRail : effort::kPlugIn);
      return;
    }
    if (at.rail) {
      for (int rail = 0; rail < 4; ++rail)
        for (int half = 0; half < (at.half >= 0 ? 2 : 1); ++half) {
          const Rail which = static_cast<Rail>(rail);
          const StripIndex to = strip_of_rail(board_, wiring_, at.breadboard, which, at.half >= 0 ? half : -1);
          if (!worth(to)) continue;
          const bool side = is_top(which) != is_top(at.which), sign = is_plus(which) != is_plus(at.which);
          double size = side && sign ? effort::kRailBoth : side ? effort::kRailSide : sign ? effort::kRailSign : effort::kRailHalf;
          if (sign && is_plus(which)) size += effort::kFromMinus;
          if (sign && other_end_on(p, lead, is_plus(at.which))) size += effort::kAgainstColours;
          if (at.half >= 0 && half != at.half && (side || sign)) size += 0.5;
          if (which == at.which && strip_leads_[size_t(from)] == 1) size = effort::kRailHalfAlone;
          seat(p, lead, to, size);
        }
      return;
    }
    const bool one_strip = own && part.lead_count == 2 && strip_of_lead(part.first_lead) == strip_of_lead(part.first_lead + 1);
    const int most = one_strip ? int(std::min(63.0, type_of(board_.parts[size_t(p)]).footprint.reach_max)) : kMostColumns;
    for (int step = -most; step <= most; ++step) {
      const StripIndex same = strip_at_column(board_, wiring_, at.breadboard, at.column + step, at.lower);
      const StripIndex across = strip_at_column(board_, wiring_, at.breadboard, at.column + step, !at.lower);
      const int size = std::abs(step);
      if (step != 0 && worth(same))
        seat(p, lead, same, one_strip ? effort::kOutOfStrip + effort::kOutOfStripStep * size : effort::kColumn + (size > 1 ? effort::kSecondColumn + effort::kEachColumn * (size - 2) : 0));
      if (worth(across) && (size <= 1 || one_strip))
        seat(p, lead, across, one_strip ? effort::kOutOfStrip + 0.1 + effort::kOutOfStripStep * size : size == 0 ? effort::kGap : effort::kGapAndColumn);
    }
    if (own && part.role == Role::kWire)
      for (int rail = 0; rail < 4; ++rail)
        for (int half = 0; half < (board_.breadboards[size_t(at.breadboard)].cuts().has(static_cast<Rail>(rail)) ? 2 : 1); ++half)
          seat(p, lead, strip_of_rail(board_, wiring_, at.breadboard, static_cast<Rail>(rail), half), effort::kFar);
  }

  // Is the other end of this wire in a rail of this sign?
  bool other_end_on(int p, int lead, bool plus) const {
    if (scene_.parts[size_t(p)].role != Role::kWire) return false;
    const StripPlace at = place_of_strip(board_, wiring_, strip_of_lead(scene_.lead_index(p, 1 - lead)));
    return at.rail && is_plus(at.which) == plus;
  }

  // Rigid parts move whole: one column to either side, or turned.
  void try_rigid(int p) {
    const Part& part = board_.parts[size_t(p)];
    if (part.leads.empty() || !part.leads[0].valid()) return;
    for (int step : {-1, 1, -2, 2}) {
      const MatPoint at = board_.mat_of(part.leads[0]);
      const Hole anchor = board_.hole_at({int(at.x) + step, int(at.y)});
      if (!anchor.valid()) continue;
      const Result<std::vector<Hole>> holes = rigid_holes(board_, *part.kind, anchor, part.turn);
      if (!holes) continue;
      rigid(p, Movement::kShift, step, *holes, effort::kShift + effort::kEachColumn * (std::abs(step) - 1));
    }
    const bool same_turned = scene_.parts[size_t(p)].role == Role::kSwitch && part.kind->leads[0].joined >= 0;  // a button, half round
    for (int quarters : {1, 2, 3}) {
      if (quarters == 2 && same_turned) continue;
      Board turned = board_;
      if (!apply(turned, Edit{TurnPart{part.name, quarters}})) continue;
      rigid(p, Movement::kTurn, quarters, turned.parts[size_t(p)].leads, effort::kTurnRigid + (quarters == 2 ? 0.05 : 0.0) + (quarters == 3 ? 0.01 : 0.0));
    }
  }

  void rigid(int p, Movement movement, int steps, const std::vector<Hole>& holes, double size) {
    Candidate c{.movement = movement, .part = p, .steps = steps, .effort = size};
    for (size_t lead = 0; lead < holes.size(); ++lead)
      c.change.moves.push_back({scene_.lead_index(p, int(lead)), strip_of(board_, wiring_, holes[lead])});
    consider(std::move(c));
  }

  // New wires: from every net that a flawed part touches to every other net.
  void try_wires() {
    const int nets = int(net_suspect_.size());
    // Of a net with rails all of these, otherwise one strip.
    std::vector<std::vector<StripIndex>> strips_of_net{size_t(nets)};
    for (int lead = 0; lead < scene_.lead_count; ++lead) {
      const StripIndex strip = strip_of_lead(lead);
      if (strip >= wiring_.clip_count) continue;
      std::vector<StripIndex>& strips = strips_of_net[size_t(net_of_lead_[size_t(lead)])];
      const bool rail = place_of_strip(board_, wiring_, strip).rail;
      if (!strips.empty() && rail && !place_of_strip(board_, wiring_, strips[0]).rail) strips.clear();
      if (strips.empty() || (rail && std::find(strips.begin(), strips.end(), strip) == strips.end())) strips.push_back(strip);
    }
    for (int a = 0; a < nets; ++a)
      for (int b = a + 1; b < nets; ++b) {
        // One end at least is a place that no supply reaches by metal and that has to do with the trouble.
        const bool open = (net_suspect_[size_t(a)] && !net_fed_[size_t(a)]) || (net_suspect_[size_t(b)] && !net_fed_[size_t(b)]);
        if (!open || (net_fed_[size_t(a)] && net_fed_[size_t(b)])) continue;
        const bool fed = net_fed_[size_t(a)] || net_fed_[size_t(b)];
        Candidate c{.movement = Movement::kAddWire, .effort = std::numeric_limits<double>::infinity()};
        for (const StripIndex sa : strips_of_net[size_t(a)])
          for (const StripIndex sb : strips_of_net[size_t(b)])
            if (const double size = wire_effort(sa, sb, fed); size < c.effort) c.effort = size, c.from = c.change.join_a = sa, c.to = c.change.join_b = sb;
        if (c.from >= 0) consider(std::move(c));
      }
  }

  double wire_effort(StripIndex a, StripIndex b, bool fed) const {
    const StripPlace pa = place_of_strip(board_, wiring_, a), pb = place_of_strip(board_, wiring_, b);
    if (pa.rail && pb.rail && pa.breadboard == pb.breadboard) {
      if (pa.which == pb.which) return effort::kWireHalves;
      if (is_plus(pa.which) == is_plus(pb.which)) return effort::kWireRails;
      return effort::kFar;
    }
    // A supply's rail reaches everywhere; between two strips the way counts.
    return fed ? effort::kWireToSupply : effort::kWire + effort::kWireStep * std::abs(pa.column - pb.column);
  }

  const Scene& scene_;
  const Board& board_;
  const Wiring& wiring_;
  Judge& judge_;
  const std::vector<FlawAt>& flaws_;
  const bool sideways_;
  double base_cost_ = 0;
  std::vector<char> sound_, suspect_, net_suspect_, net_fed_, strip_suspect_;
  std::vector<int> strip_leads_, net_of_lead_, function_;
  std::vector<Candidate> out_;
  std::vector<double> without_;  // per part, -1: not asked yet
};

}  // namespace

std::vector<Candidate> find_repairs(const Scene& scene, Judge& judge, const std::vector<FlawAt>& flaws, bool sideways) {
  return Finder(scene, judge, flaws, sideways).run();
}

}  // namespace tiepoint
