#include "engine/explain/judge.h"

#include <algorithm>
#include <numeric>

namespace tiepoint {
namespace {

constexpr int kMostConfigurations = 16;
constexpr double kDriveMargin = 0.15;  // [V] a loop of junctions alone bears this much more than they take

constexpr double kOwnResistance = 10;  // [ohm] below: a transistor's own silicon, which limits nothing that matters

// Weights; see the header.
constexpr double kWorst = 14, kWorse = 12;
constexpr double kLoadIdle = 6, kPartIdle = 4, kMild = 2, kAir = 3, kSpare = 0.9, kSpareContact = 1.0, kLone = 0.8, kLoneThrow = 0.3;

double idle_weight(Role role) { return role == Role::kLoad ? kLoadIdle : kPartIdle; }

}  // namespace

Judge::Judge(const Scene& scene) : scene_(scene), strip_count_(scene.wiring->strip_count) {
  // Switches that stay where they are put are looked at in every position; buttons may always be closed.
  std::vector<int> position(scene.controls.size(), -1);
  size_t product = 1;
  for (const SceneControl& c : scene.controls)
    if (!c.momentary) product *= size_t(c.positions);
  if (product <= kMostConfigurations)
    for (size_t c = 0; c < position.size(); ++c) position[c] = scene.controls[c].momentary ? -1 : 0;
  configs_.push_back(position);
  for (;;) {
    size_t c = 0;
    while (c < position.size() && (position[c] < 0 || ++position[c] == scene.controls[c].positions)) {
      if (position[c] > 0) position[c] = 0;
      ++c;
    }
    if (c == position.size()) break;
    configs_.push_back(position);
  }
}

int Judge::find(int i) {
  while (parent_[size_t(i)] != i) {
    parent_[size_t(i)] = parent_[size_t(parent_[size_t(i)])];
    i = parent_[size_t(i)];
  }
  return i;
}

void Judge::join(int a, int b) { parent_[size_t(find(a))] = find(b); }

void Judge::seat(const Change& change) {
  strip_ = scene_.strip_of_lead;
  for (const Change::Move& move : change.moves) strip_[size_t(move.lead)] = move.strip;
  leads_on_strip_.assign(size_t(strip_count_), 0);
  for (int lead = 0; lead < scene_.lead_count; ++lead)
    if (const int part = scene_.part_of_lead[size_t(lead)]; part != change.remove && counts_as_end(part)) ++leads_on_strip_[size_t(strip_[size_t(lead)])];
  if (change.join_a >= 0) ++leads_on_strip_[size_t(change.join_a)], ++leads_on_strip_[size_t(change.join_b)];
}

// Union-find over strips, then the inner terminals.
void Judge::number_nets(const Change& change) {
  const int points = strip_count_ + scene_.inner_count;
  parent_.resize(size_t(points));
  std::iota(parent_.begin(), parent_.end(), 0);
  const auto point = [&](int terminal) {
    return terminal < scene_.lead_count ? strip_[size_t(terminal)] : strip_count_ + terminal - scene_.lead_count;
  };
  for (const Scene::Metal& metal : scene_.metal) {
    if (metal.part == change.remove || metal.part == change.resistor_for) continue;
    const bool wire = scene_.parts[size_t(metal.part)].role == Role::kWire;
    if (wire && find(point(metal.a)) == find(point(metal.b)) && point(metal.a) != point(metal.b)) add(Flaw::kSpareWire, metal.part, kSpare);
    join(point(metal.a), point(metal.b));
  }
  if (change.join_a >= 0) join(change.join_a, change.join_b);
  net_of_root_.assign(size_t(points), -1);
  net_count_ = 0;
  net_of_terminal_.resize(size_t(scene_.lead_count + scene_.inner_count));
  for (int t = 0; t < scene_.lead_count + scene_.inner_count; ++t) {
    int& net = net_of_root_[size_t(find(point(t)))];
    if (net < 0) net = net_count_++;
    net_of_terminal_[size_t(t)] = net;
  }
}

int Judge::net_of_strip(StripIndex strip) const {
  int i = strip;
  while (parent_[size_t(i)] != i) i = parent_[size_t(i)];
  return net_of_root_[size_t(i)];
}

// The graph of one configuration. Contacts of a button count as closable unless `only_at_rest`.
void Judge::connect(int config, bool only_at_rest) {
  head_.assign(size_t(net_count_), -1);
  next_.clear(), edge_to_.clear(), edge_link_.clear();
  const auto add_edge = [&](int link, int a, int b) {
    edge_to_.push_back(b), edge_link_.push_back(link), next_.push_back(head_[size_t(a)]);
    head_[size_t(a)] = int(next_.size()) - 1;
    edge_to_.push_back(a), edge_link_.push_back(link), next_.push_back(head_[size_t(b)]);
    head_[size_t(b)] = int(next_.size()) - 1;
  };
  for (size_t l = 0; l < scene_.links.size(); ++l) {
    const SceneLink& link = scene_.links[l];
    if (link.part == change_->remove) continue;
    if (link.control >= 0) {
      const int position = configs_[size_t(config)][size_t(link.control)];
      const bool closed = position >= 0 ? (link.closed_at >> position & 1u) != 0 : !only_at_rest || (link.closed_at & 1u) != 0;
      if (!closed) continue;
    }
    const int a = net_of_terminal_[size_t(link.a)], b = net_of_terminal_[size_t(link.b)];
    if (a == b) {
      loop_[l] = 1;
      continue;
    }
    add_edge(int(l), a, b);
  }
  if (change_->resistor_for >= 0) {
    const int first = scene_.parts[size_t(change_->resistor_for)].first_lead;
    const int a = net_of_terminal_[size_t(first)], b = net_of_terminal_[size_t(first + 1)];
    if (a != b) add_edge(int(scene_.links.size()), a, b);
  }
}

// Biconnected blocks (Tarjan): every edge of a block that holds a supply lies on a closed loop through it.
void Judge::mark_blocks() {
  order_.assign(size_t(net_count_), 0);
  low_.assign(size_t(net_count_), 0);
  clock_ = 0;
  edge_stack_.clear();
  for (int net = 0; net < net_count_; ++net)
    if (order_[size_t(net)] == 0 && head_[size_t(net)] >= 0) visit(net, -1);
}

void Judge::visit(int net, int by_edge) {
  order_[size_t(net)] = low_[size_t(net)] = ++clock_;
  for (int e = head_[size_t(net)]; e >= 0; e = next_[size_t(e)]) {
    if (by_edge >= 0 && e == (by_edge ^ 1)) continue;
    const int other = edge_to_[size_t(e)];
    if (order_[size_t(other)] == 0) {
      const size_t bottom = edge_stack_.size();
      edge_stack_.push_back(e);
      visit(other, e);
      low_[size_t(net)] = std::min(low_[size_t(net)], low_[size_t(other)]);
      if (low_[size_t(other)] < order_[size_t(net)]) continue;
      bool fed = false;
      for (size_t k = bottom; k < edge_stack_.size(); ++k) {
        const size_t link = size_t(edge_link_[size_t(edge_stack_[k])]);
        fed = fed || (link < scene_.links.size() && scene_.links[link].link == Link::kSource);
      }
      fed = fed && edge_stack_.size() - bottom > 1;
      for (size_t k = bottom; fed && k < edge_stack_.size(); ++k) live_[size_t(edge_link_[size_t(edge_stack_[k])])] = 1;
      edge_stack_.resize(bottom);
    } else if (order_[size_t(other)] < order_[size_t(net)]) {
      edge_stack_.push_back(e);
      low_[size_t(net)] = std::min(low_[size_t(net)], order_[size_t(other)]);
    }
  }
}

bool Judge::passes(const SceneLink& link, bool forward, bool hard) const {
  switch (link.link) {
    case Link::kOhmic: return !hard || (scene_.parts[size_t(link.part)].role == Role::kActive && link.value < kOwnResistance);
    case Link::kContact: return true;
    case Link::kJunction: return forward;
    case Link::kSource: return !forward;  // inside a supply the current runs from minus to plus
    case Link::kStore: return false;
    case Link::kActive: return link.both_ways ? !hard : forward && !(hard && link.one_way);
  }
  return false;
}

// Can current that leaves at `from` come back at `to` by way of a supply? `hard`: meeting no resistance. drive: the voltage left
// over on such a hard loop [V].
bool Judge::flows(int from, int to, int skip, bool hard, double* drive) {
  for (const SceneLink& link : scene_.links)
    if (link.link == Link::kSource && link.part != change_->remove && flows_by(link, from, to, skip, hard, drive)) return true;
  return false;
}

// The way runs to this supply's minus without touching its plus, then on from its plus without touching its minus. (That the two
// halves do not meet elsewhere is not asked; the block test in mark_blocks() keeps out what only hangs on one point.)
bool Judge::flows_by(const SceneLink& source, int from, int to, int skip, bool hard, double* drive) {
  const int plus = net_of_terminal_[size_t(source.a)], minus = net_of_terminal_[size_t(source.b)];
  if (from == plus || to == minus || plus == minus) return false;
  // States: net * 2 + (has the supply been passed).
  from_state_.assign(size_t(net_count_) * 2, 0);
  if (drive) drive_.assign(size_t(net_count_) * 2, 0);
  queue_.clear();
  const auto enter = [&](int net, int passed, double voltage) {
    char blocked = char(passed ? net == minus : net == plus);
    if (blocked || (net == to && !passed) || (passed && net == from) || from_state_[size_t(net * 2 + passed)]) return;
    from_state_[size_t(net * 2 + passed)] = 1;
    if (drive) drive_[size_t(net * 2 + passed)] = voltage;
    queue_.push_back(net * 2 + passed);
  };
  enter(from, 0, 0);
  for (size_t k = 0; k < queue_.size(); ++k) {
    const int state = queue_[k], net = state / 2, passed = state & 1;
    const double voltage = drive ? drive_[size_t(state)] : 0;
    if (net == to && passed) {
      if (drive) *drive = voltage;
      return true;
    }
    if (net == minus && !passed) enter(plus, 1, voltage + source.value);
    for (int e = head_[size_t(net)]; e >= 0; e = next_[size_t(e)]) {
      const int l = edge_link_[size_t(e)];
      if (l == skip || (hard && l >= int(scene_.links.size()))) continue;
      if (within_ >= 0 && l < int(scene_.links.size()) && scene_.links[size_t(l)].part == within_) continue;
      double step = 0;
      if (l < int(scene_.links.size())) {
        const SceneLink& link = scene_.links[size_t(l)];
        if (&link == &source || !passes(link, net_of_terminal_[size_t(link.a)] == net, hard)) continue;
        step = link.link == Link::kJunction ? -link.value : link.link == Link::kSource ? link.value : 0;
      }
      enter(edge_to_[size_t(e)], passed, voltage + step);
    }
  }
  return false;
}

// Are two nets joined by closed contacts alone?
bool Judge::touches(int from, int to) {
  if (from == to) return true;
  used_.assign(size_t(net_count_), 0);
  queue_.assign(1, from);
  used_[size_t(from)] = 1;
  for (size_t k = 0; k < queue_.size(); ++k)
    for (int e = head_[size_t(queue_[k])]; e >= 0; e = next_[size_t(e)]) {
      const int l = edge_link_[size_t(e)], other = edge_to_[size_t(e)];
      if (l >= int(scene_.links.size()) || scene_.links[size_t(l)].link != Link::kContact || used_[size_t(other)]) continue;
      if (other == to) return true;
      used_[size_t(other)] = 1;
      queue_.push_back(other);
    }
  return false;
}

void Judge::judge_shorts() {
  for (size_t l = 0; l < scene_.links.size(); ++l) {
    const SceneLink& link = scene_.links[l];
    if (link.link != Link::kSource || link.part == change_->remove) continue;
    const int a = net_of_terminal_[size_t(link.a)], b = net_of_terminal_[size_t(link.b)];
    if (a == b)
      short_[size_t(link.part)] = 1;
    else if (short_[size_t(link.part)] == 0 && touches(a, b))
      short_[size_t(link.part)] = 2;
  }
}

void Judge::judge_links() {
  for (size_t l = 0; l < scene_.links.size(); ++l) {
    const SceneLink& link = scene_.links[l];
    if (!link.one_way || !live_[l] || link.part == change_->remove) continue;
    if (!trusted_.empty() && trusted_[l]) {
      forward_[l] = 1;
      continue;
    }
    const int a = net_of_terminal_[size_t(link.a)], b = net_of_terminal_[size_t(link.b)];
    if (a == b) continue;
    // What feeds a chip does not come out of the chip itself.
    within_ = link.link == Link::kActive ? link.part : -1;
    if (!forward_[l]) forward_[l] = flows(b, a, int(l), false, nullptr);
    if (!forward_[l] && !backward_[l]) backward_[l] = flows(a, b, int(l), false, nullptr);
    within_ = -1;
    double drive = 0;
    if (link.sensitive && !unlimited_[l] && flows(b, a, int(l), true, &drive) && drive - link.value > kDriveMargin) unlimited_[l] = 1;
  }
}

void Judge::add(Flaw flaw, int part, double weight, int lead, int link) {
  cost_ += weight;
  if (flaws_) flaws_->push_back({flaw, part, lead, link, weight});
}

double Judge::cost(const Change& change, std::vector<FlawAt>* flaws, double bound) {
  change_ = &change;
  flaws_ = flaws;
  cost_ = 0;
  seat(change);
  number_nets(change);
  const double spare = cost_;
  const size_t links = scene_.links.size() + 1;
  live_.assign(links, 0), loop_.assign(links, 0), backward_.assign(links, 0), unlimited_.assign(links, 0);
  short_.assign(scene_.parts.size(), 0);
  for (size_t config = 0; config < configs_.size(); ++config) {
    connect(int(config), false);
    judge_shorts();
    mark_blocks();
  }
  if (bound < 1e9) {  // as if every one-way part stood right
    forward_.assign(links, 1);
    flaws_ = nullptr;
    count_flaws();
    if (cost_ >= bound) return cost_;
    flaws_ = flaws;
    cost_ = spare;
  }
  forward_.assign(links, 0);
  for (size_t config = 0; config < configs_.size(); ++config) {
    if (configs_.size() > 1) connect(int(config), false);
    judge_links();
  }
  count_flaws();
  return cost_;
}

// Is something else plugged to both ends of this contact?
bool Judge::in_use(const SceneLink& link) const {
  for (const int terminal : {link.a, link.b})
    if (terminal < scene_.lead_count && leads_on_strip_[size_t(strip_[size_t(terminal)])] < 2) return false;
  return true;
}

// Ends of a part that meet nothing else. Legs that are one piece count once. No flaw by itself (an end of a switch may be meant
// to stay free), but a movement that leaves fewer of them is the likelier one.
int Judge::lone_ends(int index) const {
  const ScenePart& part = scene_.parts[size_t(index)];
  const std::span<const LeadSpec> leads = scene_.board->parts[size_t(index)].kind->leads;
  int count = 0;
  for (int k = 0; k < part.lead_count; ++k) {
    bool alone = strip_[size_t(part.first_lead + k)] < scene_.wiring->clip_count;
    bool first = true;
    for (int j = 0; j < part.lead_count && alone; ++j) {
      if (j != k && (leads[size_t(j)].joined < 0 || leads[size_t(j)].joined != leads[size_t(k)].joined)) continue;
      if (j < k) first = false;
      alone = leads_on_strip_[size_t(strip_[size_t(part.first_lead + j)])] < 2;
    }
    count += alone && first;
  }
  return count;
}

void Judge::count_flaws() {
  for (size_t p = 0; p < scene_.parts.size(); ++p) {
    const ScenePart& part = scene_.parts[p];
    const int index = int(p);
    if (index == change_->remove || part.role == Role::kInstrument) continue;
    for (int k = 0; k < part.lead_count; ++k)
      if (strip_[size_t(part.first_lead + k)] >= scene_.wiring->clip_count) add(Flaw::kInAir, index, kAir, k);
    const bool chip = part.role == Role::kActive && part.lead_count > 3;  // many pins are meant to stay free
    if (part.role != Role::kWire && part.role != Role::kSupply && !chip) cost_ += (part.role == Role::kSwitch && part.lead_count == 3 ? kLoneThrow : kLone) * lone_ends(index);
    if (part.role == Role::kWire) {
      const StripIndex a = strip_[size_t(part.first_lead)], b = strip_[size_t(part.first_lead + 1)];
      if (a == b) {
        add(Flaw::kIdleWire, index, kMild);
        continue;
      }
      for (int k = 0; k < 2; ++k) {
        const StripIndex own = k ? b : a, other = k ? a : b;
        if (own >= scene_.wiring->clip_count || leads_on_strip_[size_t(own)] > 1) continue;
        // A wire from rail to rail may feed a rail that is not used yet.
        if (place_of_strip(*scene_.board, *scene_.wiring, own).rail && place_of_strip(*scene_.board, *scene_.wiring, other).rail) continue;
        add(Flaw::kLooseEnd, index, kMild, k);
      }
      if (index == change_->resistor_for && !live_[scene_.links.size()]) add(Flaw::kDead, index, kPartIdle);
      continue;
    }
    if (part.role == Role::kSupply) {
      if (short_[p] == 1) add(Flaw::kShort, index, kWorst);
      if (short_[p] == 2) add(Flaw::kPressShort, index, kWorse);
      if (!part.on && change_->switch_on != index) add(Flaw::kOff, index, kPartIdle);
      const int plus = net_of_terminal_[size_t(part.first_lead)], minus = net_of_terminal_[size_t(part.first_lead + 1)];
      for (size_t q = 0; q < p; ++q) {
        const ScenePart& other = scene_.parts[q];
        if (other.role != Role::kSupply || int(q) == change_->remove) continue;
        const int other_plus = net_of_terminal_[size_t(other.first_lead)], other_minus = net_of_terminal_[size_t(other.first_lead + 1)];
        if ((plus == other_plus && minus == other_minus) || (plus == other_minus && minus == other_plus))
          add(Flaw::kFight, index, kWorse), add(Flaw::kFight, int(q), kWorse);
      }
    }
    bool any_live = false, all_loops = part.link_count > 0;
    for (int l = part.first_link; l < part.first_link + part.link_count; ++l) {
      any_live = any_live || live_[size_t(l)];
      all_loops = all_loops && loop_[size_t(l)] && !live_[size_t(l)];
      if (!live_[size_t(l)]) continue;
      const SceneLink& link = scene_.links[size_t(l)];
      if (link.one_way && !forward_[size_t(l)]) {
        if (backward_[size_t(l)])
          add(Flaw::kBackward, index, idle_weight(part.role), -1, l);
        else if (link.link == Link::kJunction)
          add(Flaw::kStuck, index, idle_weight(part.role), -1, l);
        else if (link.link == Link::kActive)
          add(Flaw::kDead, index, kPartIdle, -1, l);
      }
      if (unlimited_[size_t(l)]) add(Flaw::kUnlimited, index, kPartIdle + 1, -1, l);
    }
    // A base that nothing drives, a chip without its supply.
    if (part.role == Role::kActive && any_live)
      for (int l = part.first_link; l < part.first_link + part.link_count; ++l)
        if ((scene_.links[size_t(l)].one_way || scene_.links[size_t(l)].required) && !live_[size_t(l)]) add(Flaw::kDead, index, kPartIdle, -1, l);
    if (part.role == Role::kSwitch && any_live)
      for (int l = part.first_link; l < part.first_link + part.link_count; ++l)
        if (!live_[size_t(l)] && in_use(scene_.links[size_t(l)])) add(Flaw::kSpareEnd, index, kSpareContact, -1, l);
    if (part.link_count == 0 || any_live || part.tested) continue;
    if (part.role == Role::kSupply && short_[p]) continue;
    if (all_loops && part.role != Role::kSupply)
      add(Flaw::kOneNet, index, idle_weight(part.role) + 0.5);
    else
      add(Flaw::kDead, index, idle_weight(part.role));
  }
}

}  // namespace tiepoint
