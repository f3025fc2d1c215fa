#include "engine/explain/scene.h"

#include <cmath>

#include "engine/devices/model.h"
#include "engine/parts/part_type.h"

namespace tiepoint {
namespace {

constexpr double kMetalResistance = 0.5;    // [ohm] below: metal, when it is not a resistor from the box
constexpr double kLeakResistance = 0.9e6;   // [ohm] above: leakage or an open contact, when it is not a resistor from the box
constexpr double kWellOn = 0.010;           // [A] where a junction's voltage is taken

Role role_of(const PartType& type) {
  if (type.conductor) return Role::kWire;
  if (type.touches) return Role::kInstrument;
  if (type.reference_lead >= 0) return Role::kSupply;
  if (type.group == "resistors") return Role::kResistor;
  if (type.group == "switches") return Role::kSwitch;
  if (type.group == "storage") return Role::kCapacitor;
  if (type.group == "light") return type.body == Body::kAxialDiode ? Role::kDiode : Role::kLoad;
  if (type.group == "motion" || type.group == "sound") return Role::kLoad;
  if (type.group == "transistors" || type.group == "chips") return Role::kActive;
  return Role::kOther;
}

// The voltage a junction takes at a good ten milliamperes [V]:  n VT ln(I / IS) + I RS.
double on_voltage(std::span<const double> p) { return p[1] * p[3] * std::log(kWellOn / p[0]) + kWellOn * p[2]; }

class Builder {
 public:
  explicit Builder(Scene& scene) : scene_(scene), board_(*scene.board) {}

  void add(int index) {
    const Part& part = board_.parts[size_t(index)];
    const PartType& type = type_of(part);
    ScenePart& out = scene_.parts[size_t(index)];
    out.first_link = int(scene_.links.size());
    out.role = role_of(type);
    scene_.supplies += out.role == Role::kSupply;
    scene_.loads += out.role == Role::kLoad;
    part_ = index;
    inner_ = scene_.inner_count;
    scene_.inner_count += type.inner_nodes;
    for (size_t a = 0; a < type.leads.size(); ++a)
      for (size_t b = a + 1; b < type.leads.size(); ++b)
        if (type.leads[a].joined >= 0 && type.leads[a].joined == type.leads[b].joined) join(int(a), int(b));
    if (type.conductor) {
      for (size_t lead = 1; lead < type.leads.size(); ++lead) join(0, int(lead));
    } else {
      list_.clear();
      type.elements(board_, part, list_);
      if (out.role == Role::kSwitch) add_contacts(part, type);
      for (size_t e = 0; e < list_.entries.size(); ++e) out.role == Role::kInstrument ? add_input(int(e)) : add_element(out, int(e));
      if (out.role == Role::kSupply) {
        const int on = value_index(type, "on");
        out.on = on < 0 || part.values[size_t(on)] != 0;
      }
    }
    out.link_count = int(scene_.links.size()) - out.first_link;
  }

 private:
  int terminal(int local) const {
    const ScenePart& part = scene_.parts[size_t(part_)];
    return local < part.lead_count ? part.first_lead + local : scene_.lead_count + inner_ + local - part.lead_count;
  }
  void join(int a, int b) { scene_.metal.push_back({terminal(a), terminal(b), part_}); }

  // Which resistors of a switch are its contacts: those that change between closed and open as a control moves.
  void add_contacts(const Part& part, const PartType& type) {
    contact_.assign(list_.entries.size(), false);
    for (size_t v = 0; v < type.values.size(); ++v) {
      const ValueSpec& spec = type.values[v];
      if (spec.use == Use::kValue) continue;
      const int control = int(scene_.controls.size());
      const int positions = int(spec.maximum) + 1;
      scene_.controls.push_back({part_, int(v), positions, int(part.values[v]), spec.use == Use::kMomentary});
      std::vector<uint32_t> closed(list_.entries.size(), 0);
      Part moved = part;
      for (int k = 0; k < positions && k < 32; ++k) {
        moved.values[v] = k;
        ElementList at_k;
        type.elements(board_, moved, at_k);
        for (size_t e = 0; e < at_k.entries.size(); ++e)
          if (at_k.entries[e].kind == ElementKind::kResistor && at_k.values(at_k.entries[e])[0] < kMetalResistance)
            closed[e] |= 1u << k;
      }
      const uint32_t all = positions >= 32 ? ~0u : (1u << positions) - 1;
      for (size_t e = 0; e < closed.size(); ++e) {
        if (closed[e] == 0 || closed[e] == all) continue;
        contact_[e] = true;
        const std::span<const int> ends = list_.ends(list_.entries[e]);
        scene_.links.push_back({.link = Link::kContact, .a = terminal(ends[0]), .b = terminal(ends[1]), .part = part_,
                                .control = control, .closed_at = closed[e]});
      }
    }
  }

  // Of an instrument only the way for current that it is put in: fuse and shunt of a meter that measures amperes. All else hardly
  // counts beside the circuit, and nothing about an instrument is a fault of the board.
  void add_input(int e) {
    const ElementList::Entry& entry = list_.entries[size_t(e)];
    const std::span<const double> p = list_.values(entry);
    if ((entry.kind != ElementKind::kResistor && entry.kind != ElementKind::kFuse) || p[0] > kLeakResistance) return;
    const std::span<const int> ends = list_.ends(entry);
    scene_.links.push_back({.link = Link::kOhmic, .a = terminal(ends[0]), .b = terminal(ends[1]), .value = p[0], .part = part_});
  }

  void add_element(ScenePart& out, int e) {
    const ElementList::Entry& entry = list_.entries[size_t(e)];
    const std::span<const int> ends = list_.ends(entry);
    const std::span<const double> p = list_.values(entry);
    SceneLink link{.a = terminal(ends[0]), .b = ends.size() > 1 ? terminal(ends[1]) : terminal(ends[0]), .part = part_};
    switch (entry.kind) {
      case ElementKind::kResistor:
        if (out.role == Role::kSwitch && contact_[size_t(e)]) return;
        if (out.role != Role::kResistor && p[0] < kMetalResistance) return join(ends[0], ends[1]);
        if (out.role != Role::kResistor && p[0] > kLeakResistance) return;
        link.value = p[0];
        break;
      case ElementKind::kCapacitor:
        link.link = Link::kStore;
        link.one_way = out.role == Role::kCapacitor && type_of(board_.parts[size_t(part_)]).ratings &&
                       has_reading(type_of(board_.parts[size_t(part_)]).ratings(board_.parts[size_t(part_)]).reverse_voltage);
        out.polar = link.one_way;
        break;
      case ElementKind::kInductor:
        break;
      case ElementKind::kVoltageSource:
      case ElementKind::kLimitedSupply:
        if (out.role != Role::kSupply) return active(ends);
        link.link = Link::kSource;
        link.value = supply_voltage();
        break;
      case ElementKind::kDiode:
        link.link = Link::kJunction;
        link.value = on_voltage(p);
        link.sensitive = out.role == Role::kLoad;
        link.one_way = out.role == Role::kLoad || (out.role == Role::kDiode && !has_breakdown_use());
        out.polar = true;
        break;
      case ElementKind::kNpn:
        return transistor(ends, false);
      case ElementKind::kPnp:
        return transistor(ends, true);
      default:
        return active(ends);
    }
    scene_.links.push_back(link);
  }

  // A supply's voltage whether or not it is switched on now.
  double supply_voltage() const {
    const Part& part = board_.parts[size_t(part_)];
    const PartType& type = type_of(part);
    const double rated = type.ratings ? type.ratings(part).voltage : kNoReading;
    return has_reading(rated) ? rated : 0;
  }
  // Zener diodes are meant to stand backwards.
  bool has_breakdown_use() const { return value_index(*board_.parts[size_t(part_)].kind, "zener") >= 0; }

  // collector base emitter: the base is a junction, the channel opens as the base decides.
  void transistor(std::span<const int> ends, bool pnp) {
    const int collector = terminal(ends[0]), base = terminal(ends[1]), emitter = terminal(ends[2]);
    constexpr double kBaseVoltage = 0.7;
    scene_.links.push_back({.link = Link::kJunction, .a = pnp ? emitter : base, .b = pnp ? base : emitter, .value = kBaseVoltage,
                            .part = part_, .sensitive = true, .one_way = true});
    scene_.links.push_back({.link = Link::kActive, .a = pnp ? emitter : collector, .b = pnp ? collector : emitter, .part = part_});
  }
  void active(std::span<const int> ends) {
    for (size_t k = 1; k < ends.size(); ++k)
      scene_.links.push_back({.link = Link::kActive, .a = terminal(ends[0]), .b = terminal(ends[k]), .part = part_, .both_ways = true});
  }

  Scene& scene_;
  const Board& board_;
  ElementList list_;
  std::vector<bool> contact_;
  int part_ = 0, inner_ = 0;
};

}  // namespace

Scene make_scene(const Board& board, const Wiring& wiring) {
  Scene scene;
  scene.board = &board;
  scene.wiring = &wiring;
  scene.parts.resize(board.parts.size());
  for (size_t p = 0; p < board.parts.size(); ++p) {
    scene.parts[p].first_lead = scene.lead_count;
    scene.parts[p].lead_count = int(board.parts[p].leads.size());
    for (size_t lead = 0; lead < board.parts[p].leads.size(); ++lead) {
      scene.part_of_lead.push_back(int(p));
      scene.strip_of_lead.push_back(wiring.strip_of_lead[p][lead]);
    }
    scene.lead_count += scene.parts[p].lead_count;
  }
  Builder builder(scene);
  for (size_t p = 0; p < board.parts.size(); ++p) builder.add(int(p));
  return scene;
}

StripPlace place_of_strip(const Board& board, const Wiring& wiring, StripIndex strip) {
  StripPlace place;
  if (strip < 0 || strip >= wiring.clip_count) return place;
  size_t b = 0;
  while (b + 1 < board.breadboards.size() && strip >= wiring.first_strip[b + 1]) ++b;
  const Breadboard& breadboard = board.breadboards[b];
  const Layout& kind = layout(breadboard.layout);
  const int local = strip - wiring.first_strip[b];
  place.breadboard = int(b);
  if (local < 2 * kind.columns) {
    place.column = local / 2 + 1;
    place.lower = local % 2 != 0;
    return place;
  }
  const int rail = local - 2 * kind.columns;
  place.rail = true;
  place.which = static_cast<Rail>(breadboard.split_rails ? rail / 2 : rail);
  place.half = breadboard.split_rails ? rail % 2 : -1;
  return place;
}

StripIndex strip_at_column(const Board& board, const Wiring& wiring, int breadboard, int column, bool lower) {
  const Layout& kind = layout(board.breadboards[size_t(breadboard)].layout);
  if (column < 1 || column > kind.columns) return -1;
  return wiring.first_strip[size_t(breadboard)] + (column - 1) * 2 + (lower ? 1 : 0);
}

StripIndex strip_of_rail(const Board& board, const Wiring& wiring, int breadboard, Rail rail, int half) {
  const Breadboard& b = board.breadboards[size_t(breadboard)];
  const Layout& kind = layout(b.layout);
  if (kind.rail_holes == 0) return -1;
  const int first = wiring.first_strip[size_t(breadboard)] + 2 * kind.columns;
  return b.split_rails ? first + int(rail) * 2 + (half > 0 ? 1 : 0) : first + int(rail);
}

}  // namespace tiepoint
