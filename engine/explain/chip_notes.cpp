// Notes about chips: what a maker's sheet asks for and a board may well do without for a while.
#include <algorithm>

#include "engine/explain/condition.h"
#include "engine/explain/repairs.h"
#include "engine/explain/scene.h"
#include "engine/parts/specimen.h"

namespace tiepoint {
namespace {

constexpr double kDecoupling = 100e-9;  // [F] what makers' sheets ask for at each chip (common practice)
constexpr size_t kTried = 24;           // places looked at for a new capacitor

class Notes {
 public:
  explicit Notes(const Observed& bench)
      : bench_(bench),
        board_(with_good_parts(bench.board)),
        scene_(make_scene(board_, bench.wiring)),
        taken_(taken_holes(board_)) {}

  std::vector<Finding> run() {
    for (size_t p = 0; p < board_.parts.size(); ++p) {
      if (type_of(board_.parts[p]).group != "chips") continue;
      const int plus = first_lead(p, {"vcc", "vdd", "v+"}), minus = first_lead(p, {"gnd", "gnd-1", "vss", "v-"});
      if (plus < 0 || minus < 0) continue;
      const bool powered = !alone(p, plus) && !alone(p, minus);
      if (!powered) unpowered(p, plus, minus);
      if (powered && board_.parts[p].leads.size() > 3 && !steadied(p, plus, minus)) undecoupled(p, plus, minus);
      if (powered) floating_inputs(p, minus);
    }
    return std::move(out_);
  }

 private:
  int first_lead(size_t p, std::initializer_list<std::string_view> names) const {
    for (const std::string_view name : names)
      if (const int lead = lead_index(*board_.parts[p].kind, name); lead >= 0) return lead;
    return -1;
  }
  StripIndex strip(size_t p, int lead) const { return bench_.wiring.strip_of_lead[p][size_t(lead)]; }
  NetIndex net(size_t p, int lead) const { return bench_.wiring.net_of_strip[size_t(strip(p, lead))]; }

  // Does this lead meet no other part's lead anywhere on its net? Probes do not count.
  bool alone(size_t p, int lead) const {
    for (const StripIndex s : bench_.wiring.strips_of_net[size_t(net(p, lead))])
      for (const LeadRef ref : bench_.wiring.leads_on_strip[size_t(s)])
        if (size_t(ref.part) != p && scene_.parts[size_t(ref.part)].role != Role::kInstrument) return false;
    return true;
  }
  bool steadied(size_t p, int plus, int minus) const {
    const NetIndex a = net(p, plus), b = net(p, minus);
    for (size_t c = 0; c < board_.parts.size(); ++c) {
      if (scene_.parts[c].role != Role::kCapacitor) continue;
      const NetIndex x = net(c, 0), y = net(c, 1);
      if ((x == a && y == b) || (x == b && y == a)) return true;
    }
    return false;
  }

  Finding make(FindingKind kind, size_t p) const {
    Finding f = make_finding(kind);
    f.severity = Severity::kNote;
    tell(f, "part", board_.parts[p].name);
    return f;
  }
  Place place(size_t p, int lead) const {
    return {.part = board_.parts[p].id, .lead = lead, .hole = board_.parts[p].leads[size_t(lead)], .strip = strip(p, lead)};
  }
  void name_lead(Finding& f, size_t p, int lead) const {
    f.places.push_back(place(p, lead));
    tell(f, "lead", std::string(board_.parts[p].kind->leads[size_t(lead)].name));
    tell(f, "hole", board_.name_of(board_.parts[p].leads[size_t(lead)]));
  }

  // The strip of the first supply's plus or minus; -1: there is none.
  StripIndex supply_strip(bool plus) const {
    for (size_t s = 0; s < board_.parts.size(); ++s)
      if (scene_.parts[s].role == Role::kSupply && strip(s, plus ? 0 : 1) < bench_.wiring.clip_count)
        return strip(s, plus ? 0 : 1);
    return -1;
  }
  std::vector<Edit> wire(StripIndex from, StripIndex to) const {
    if (from < 0 || to < 0) return {};
    return edits_for(scene_, {.movement = Movement::kAddWire, .from = from, .to = to}, taken_);
  }

  void unpowered(size_t p, int plus, int minus) {
    Finding f = make(FindingKind::kChipUnpowered, p);
    for (const int lead : {plus, minus})
      if (alone(p, lead)) {
        name_lead(f, p, lead);
        if (f.repair.empty()) f.repair = wire(strip(p, lead), supply_strip(lead == plus));
      }
    f.effort = f.repair.empty() ? 0 : 1;
    out_.push_back(std::move(f));
  }

  void undecoupled(size_t p, int plus, int minus) {
    Finding f = make(FindingKind::kDecouplingMissing, p);
    name_lead(f, p, plus);
    f.places.push_back(place(p, minus));
    Part capacitor = make_part(*catalogue().find("ceramic-capacitor"));
    capacitor.values[size_t(value_index(*capacitor.kind, "capacitance"))] = kDecoupling;
    // The nearer to the pins the better: their own strips first, then whatever else is on the two nets.
    std::vector<Hole> from, to;
    holes(strip(p, plus), from), holes(strip(p, minus), to);
    for (const StripIndex s : bench_.wiring.strips_of_net[size_t(net(p, plus))]) holes(s, from);
    for (const StripIndex s : bench_.wiring.strips_of_net[size_t(net(p, minus))]) holes(s, to);
    size_t tried = 0;
    for (const Hole a : from)
      for (const Hole b : to) {
        const MatPoint x = board_.mat_of(a), y = board_.mat_of(b);
        const double size = (x.x - y.x) * (x.x - y.x) + (x.y - y.y) * (x.y - y.y);
        if (!f.repair.empty() || tried >= kTried ||
            size > capacitor.kind->footprint.reach_max * capacitor.kind->footprint.reach_max)
          continue;
        ++tried;
        capacitor.leads = {a, b};
        if (check_seat(board_, capacitor)) f.repair = {Edit{PlacePart{capacitor}}};
      }
    f.effort = f.repair.empty() ? 0 : 1;
    out_.push_back(std::move(f));
  }
  void holes(StripIndex s, std::vector<Hole>& list) const {
    for (const Hole hole : holes_of(board_, bench_.wiring, s))
      if (!taken_(hole)) list.push_back(hole);
  }

  // Of the parts of a chip that share a hub in the scene: an input that meets nothing. Where its output is used it may do
  // anything.
  void floating_inputs(size_t p, int minus) {
    const ScenePart& part = scene_.parts[p];
    const auto lead_of = [&](const SceneLink& link) { return link.a - part.first_lead; };
    const auto is_lead = [&](const SceneLink& link) {
      return link.a >= part.first_lead && link.a < part.first_lead + part.lead_count;
    };
    bool noted = false;
    for (int l = part.first_link; l < part.first_link + part.link_count; ++l) {
      const SceneLink& input = scene_.links[size_t(l)];
      if (!input.required || !is_lead(input) || !alone(p, lead_of(input))) continue;
      bool used = false;
      for (int k = part.first_link; k < part.first_link + part.link_count; ++k) {
        const SceneLink& other = scene_.links[size_t(k)];
        const int lead = lead_of(other);
        used = used || (other.b == input.b && is_lead(other) && !other.required && net(p, lead) != net(p, minus) &&
                        !alone(p, lead) && !supplies(p, lead));
      }
      if (!used && noted) continue;
      noted = noted || !used;
      Finding f = make(FindingKind::kInputFloating, p);
      if (used) f.severity = Severity::kWarning;
      name_lead(f, p, lead_of(input));
      if (!used) f.repair = wire(strip(p, lead_of(input)), strip(p, minus));
      f.effort = f.repair.empty() ? 0 : 1;
      out_.push_back(std::move(f));
    }
  }
  bool supplies(size_t p, int lead) const {
    const int plus = first_lead(p, {"vcc", "vdd", "v+"});
    return plus >= 0 && net(p, lead) == net(p, plus);
  }

  const Observed& bench_;
  const Board board_;
  const Scene scene_;
  const Taken taken_;
  std::vector<Finding> out_;
};

}  // namespace

void add_chip_notes(const Observed& bench, const FindingOptions& options, std::vector<Finding>& list) {
  if (std::none_of(bench.board.parts.begin(), bench.board.parts.end(),
                   [](const Part& part) { return type_of(part).group == "chips"; }))
    return;
  for (Finding& f : Notes(bench).run())
    if (int(list.size()) < options.most) list.push_back(std::move(f));
}

}  // namespace tiepoint
