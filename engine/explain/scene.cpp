#include "engine/explain/scene.h"

#include <cmath>
#include <numeric>

#include "engine/devices/contact.h"
#include "engine/devices/model.h"
#include "engine/parts/part_type.h"
#include "engine/parts/sensing_resistors.h"

namespace tiepoint {
namespace {

constexpr double kMetalResistance = 0.5;    // [ohm] below: metal, when it is not a resistor from the box
constexpr double kLeakResistance = 0.9e6;   // [ohm] above: leakage or an open contact, when it is not a resistor from the box
constexpr double kBaseVoltage = 0.7, kLightVoltage = 1.2;  // [V] about, of a base and of an optocoupler's light
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
  for (const ValueSpec& value : type.values)  // a tilt or reed switch among the sensors
    if (value.use != Use::kValue) return Role::kSwitch;
  return Role::kOther;
}

// Can a board with such an element go on changing by itself, so that its settled state tells little of what it does?
bool restless(ElementKind kind) {
  switch (kind) {
    case ElementKind::kTimer: case ElementKind::kRelay: case ElementKind::kServo: case ElementKind::kTimedSwitch:
    case ElementKind::kTriggeredSwitch: case ElementKind::kFlipFlop: case ElementKind::kCounter: case ElementKind::kShiftIn:
    case ElementKind::kShiftOut: case ElementKind::kDecade: case ElementKind::kOpAmp: case ElementKind::kComparator:
      return true;
    default: return false;
  }
}

// The voltage a junction takes at a good ten milliamperes [V]:  n VT ln(I / IS) + I RS.
double on_voltage(std::span<const double> p) { return p[1] * p[3] * std::log(kWellOn / p[0]) + kWellOn * p[2]; }

class Builder {
 public:
  explicit Builder(Scene& scene) : scene_(scene), board_(*scene.board) {}

  // Marks the parts that a meter tests on their own: joined to one of its probes by metal and links, and to no supply.
  void mark_tested() {
    if (testers_.empty()) return;
    const int terminals = scene_.lead_count + scene_.inner_count, strips = scene_.wiring->strip_count;
    std::vector<int> parent(size_t(terminals + strips));
    std::iota(parent.begin(), parent.end(), 0);
    const auto find = [&](int i) {
      while (parent[size_t(i)] != i) i = parent[size_t(i)] = parent[size_t(parent[size_t(i)])];
      return i;
    };
    const auto join = [&](int a, int b) { parent[size_t(find(a))] = find(b); };
    for (int t = 0; t < scene_.lead_count; ++t) join(t, terminals + scene_.strip_of_lead[size_t(t)]);
    for (const Scene::Metal& metal : scene_.metal) join(metal.a, metal.b);
    for (const SceneLink& link : scene_.links) join(link.a, link.b);
    std::vector<char> tested(parent.size(), 0);
    for (const int tester : testers_) tested[size_t(find(tester))] = 1;
    for (const SceneLink& link : scene_.links)
      if (link.link == Link::kSource) tested[size_t(find(link.a))] = 0;
    for (ScenePart& part : scene_.parts)
      part.tested = part.role != Role::kInstrument && part.lead_count > 0 && tested[size_t(find(part.first_lead))];
  }

  // A timer, a chip that remembers, or two transistors with a capacitor between them may beat.
  bool may_beat() const { return restless_ > 0 || (transistors_ > 1 && stores_ > 0); }

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

  // Which contacts of a switch a control moves between closed and open.
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
          if (at_k.entries[e].kind == ElementKind::kContact && at_k.values(at_k.entries[e])[kContactClosed] != 0)
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
    if (entry.kind == ElementKind::kMeter && p[1] > 0) testers_.push_back(terminal(list_.ends(entry)[0]));
    if ((entry.kind != ElementKind::kResistor && entry.kind != ElementKind::kFuse) || p[0] > kLeakResistance) return;
    const std::span<const int> ends = list_.ends(entry);
    scene_.links.push_back({.link = Link::kOhmic, .a = terminal(ends[0]), .b = terminal(ends[1]), .value = p[0], .part = part_});
  }

  void add_element(ScenePart& out, int e) {
    const ElementList::Entry& entry = list_.entries[size_t(e)];
    const std::span<const int> ends = list_.ends(entry);
    const std::span<const double> p = list_.values(entry);
    restless_ += restless(entry.kind);
    SceneLink link{.a = terminal(ends[0]), .b = ends.size() > 1 ? terminal(ends[1]) : terminal(ends[0]), .part = part_};
    switch (entry.kind) {
      case ElementKind::kResistor:
        if (out.role != Role::kResistor && p[0] < kMetalResistance) return join(ends[0], ends[1]);
        if (out.role != Role::kResistor && p[0] > kLeakResistance) return;
        link.value = p[0];
        break;
      case ElementKind::kContact:
        if (p[kContactClosed] != 0 && !(out.role == Role::kSwitch && contact_[size_t(e)])) join(ends[0], ends[1]);
        return;
      case ElementKind::kReed:  // between its two distances it may be either
        if (p[0] <= p[1]) join(ends[0], ends[1]);
        return;
      case ElementKind::kCapacitor:
        link.link = Link::kStore;
        ++stores_;
        link.one_way = out.role == Role::kCapacitor && type_of(board_.parts[size_t(part_)]).ratings &&
                       has_reading(type_of(board_.parts[size_t(part_)]).ratings(board_.parts[size_t(part_)]).reverse_voltage);
        out.polar = link.one_way;
        break;
      case ElementKind::kThermistor:
        link.value = thermistor_resistance(p[0]);
        break;
      case ElementKind::kInductor: case ElementKind::kFilament: case ElementKind::kMotor: case ElementKind::kFuse:
      case ElementKind::kResettableFuse: case ElementKind::kListener:
        break;
      case ElementKind::kNmos: case ElementKind::kPmos:
        return field_effect(ends, entry.kind == ElementKind::kPmos);
      case ElementKind::kRelay:
        scene_.links.push_back(link);
        for (const int contact : {3, 4})
          scene_.links.push_back({.link = Link::kActive, .a = terminal(ends[2]), .b = terminal(ends[size_t(contact)]), .part = part_, .both_ways = true});
        return;
      case ElementKind::kOptocoupler:
        scene_.links.push_back({.link = Link::kJunction, .a = terminal(ends[0]), .b = terminal(ends[1]), .value = kLightVoltage,
                                .part = part_, .sensitive = true, .one_way = true});
        scene_.links.push_back({.link = Link::kActive, .a = terminal(ends[2]), .b = terminal(ends[4]), .part = part_});
        return;
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
      case ElementKind::kNpn: case ElementKind::kPnp:
        ++transistors_;
        return transistor(ends, entry.kind == ElementKind::kPnp);
      default:
        return chip(ends, entry.kind);
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
  bool has_breakdown_use() const { return value_index(*board_.parts[size_t(part_)].kind, "zener-voltage") >= 0; }

  // collector base emitter: the base is a junction, the channel opens as the base decides.
  void transistor(std::span<const int> ends, bool pnp) {
    const int collector = terminal(ends[0]), base = terminal(ends[1]), emitter = terminal(ends[2]);
    scene_.links.push_back({.link = Link::kJunction, .a = pnp ? emitter : base, .b = pnp ? base : emitter, .value = kBaseVoltage,
                            .part = part_, .sensitive = true, .one_way = true});
    scene_.links.push_back({.link = Link::kActive, .a = pnp ? emitter : collector, .b = pnp ? collector : emitter, .part = part_});
  }
  // drain gate source: the gate takes no lasting current, but whatever drives it has a function.
  void field_effect(std::span<const int> ends, bool p) {
    const int drain = terminal(ends[0]), gate = terminal(ends[1]), source = terminal(ends[2]);
    scene_.links.push_back({.link = Link::kActive, .a = p ? source : drain, .b = p ? drain : source, .part = part_});
    scene_.links.push_back({.link = Link::kStore, .a = gate, .b = source, .part = part_});
  }
  // Which terminals of a chip's element are its supply, plus first; {-1, -1} for none.
  static std::pair<int, int> supply_pins(ElementKind kind) {
    switch (kind) {
      case ElementKind::kTimer: return {7, 0};
      case ElementKind::kOpAmp: case ElementKind::kComparator: return {3, 4};
      case ElementKind::kHall: return {1, 2};
      case ElementKind::kHalfBridge: return {3, 5};
      case ElementKind::kRegulator: return {0, 2};
      case ElementKind::kInverter: case ElementKind::kGate: case ElementKind::kFlipFlop: case ElementKind::kCounter:
      case ElementKind::kShiftIn: case ElementKind::kShiftOut: case ElementKind::kDecade: case ElementKind::kSegments:
        return {0, 1};
      default: return {-1, -1};
    }
  }

  // Inputs that decide what a chip does.
  static bool is_input(ElementKind kind, int terminal, int count) {
    switch (kind) {
      case ElementKind::kInverter: case ElementKind::kGate: return terminal >= 2 && terminal < count - 1;
      case ElementKind::kTimer: return terminal == 1 || terminal == 3 || terminal == 5;  // trigger, reset, threshold
      case ElementKind::kOpAmp: case ElementKind::kComparator: return terminal < 2;
      default: return false;
    }
  }

  // A chip: every pin to a hub of its own in the middle, and once per chip the way its own current goes.
  void chip(std::span<const int> ends, ElementKind kind) {
    const size_t first = scene_.links.size();
    active(ends);
    for (size_t k = 0; k < ends.size() && first + k < scene_.links.size(); ++k) scene_.links[first + k].required = is_input(kind, int(k), int(ends.size()));
    const auto [plus, minus] = supply_pins(kind);
    if (plus < 0 || powered_ == part_) return;
    powered_ = part_;
    scene_.links.push_back({.link = Link::kActive, .a = terminal(ends[size_t(plus)]), .b = terminal(ends[size_t(minus)]), .part = part_, .one_way = true});
  }

  void active(std::span<const int> ends) {
    if (ends.size() == 2) {
      scene_.links.push_back({.link = Link::kActive, .a = terminal(ends[0]), .b = terminal(ends[1]), .part = part_, .both_ways = true});
      return;
    }
    scene_.chips = true;
    const int hub = scene_.lead_count + scene_.inner_count++;
    for (const int end : ends) scene_.links.push_back({.link = Link::kActive, .a = terminal(end), .b = hub, .part = part_, .both_ways = true});
  }

  Scene& scene_;
  const Board& board_;
  ElementList list_;
  std::vector<bool> contact_;
  std::vector<int> testers_;  // a terminal of each meter that sends a current of its own
  int part_ = 0, inner_ = 0, powered_ = -1;
  int restless_ = 0, transistors_ = 0, stores_ = 0;
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
  builder.mark_tested();
  scene.may_beat = builder.may_beat();
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
  const RailHalf at = rail_of_strip(kind, breadboard.cuts(), local);
  place.rail = true;
  place.which = at.rail;
  place.half = at.half;
  return place;
}

StripIndex strip_at_column(const Board& board, const Wiring& wiring, int breadboard, int column, bool lower) {
  const Layout& kind = layout(board.breadboards[size_t(breadboard)].layout);
  if (column < 1 || column > kind.columns) return -1;
  return wiring.first_strip[size_t(breadboard)] + (column - 1) * 2 + (lower ? 1 : 0);
}

StripIndex strip_of_rail(const Board& board, const Wiring& wiring, int breadboard, Rail rail, int half) {
  const Breadboard& b = board.breadboards[size_t(breadboard)];
  const int local = strip_of_rail(layout(b.layout), b.cuts(), rail, half);
  return local < 0 ? -1 : wiring.first_strip[size_t(breadboard)] + local;
}

}  // namespace tiepoint
