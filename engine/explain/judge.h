// Judge: how far is a board from one on which every part has a function? Structure only: no volts, a few microseconds a question.
//
// Nets are strips joined by metal. Over them lies a graph: one edge per link of a part, contacts that a hand can close included.
// A part has a function when it lies on a closed loop through a supply (its edge is in the same biconnected block as a supply's
// edge) and, if it passes current one way only, when such a loop runs its way. What is amiss is counted as weighted flaws; the
// weights order what a learner would call worse, and only their order matters.
#pragma once

#include <vector>

#include "engine/explain/scene.h"

namespace tiepoint {

// A change to think about. Empty: the board as it stands.
struct Change {
  struct Move { int lead; StripIndex strip; };  // lead: terminal number
  std::vector<Move> moves;
  int remove = -1;                    // part taken away
  StripIndex join_a = -1, join_b = -1;  // a new wire between two strips
  int resistor_for = -1;              // this wire becomes a resistor
  int switch_on = -1;                 // this supply is switched on
};

enum class Flaw : unsigned char {
  kInAir,      // a lead in no hole
  kOneNet,     // all leads of a part on one net: bridged
  kDead,       // on no loop with a supply
  kBackward,   // current could only come the wrong way
  kStuck,      // on a loop, but nothing can flow round it either way
  kUnlimited,  // an LED or base with nothing that limits its current
  kShort,      // plus and minus of a supply joined by metal
  kPressShort, // the same while a contact is closed
  kLooseEnd,   // a wire that ends where nothing else is
  kIdleWire,   // a wire within one strip
  kOff,        // a supply switched off
  kSpareEnd,   // an end of a switch that something is plugged to, without effect
  kSpareWire,  // a wire between places that are joined without it
  kFight,      // two supplies on the same two nets, or end to end in a ring
};

struct FlawAt {
  Flaw flaw;
  int part;
  int lead = -1;      // of the part, where one is to blame
  int link = -1;      // into Scene::links
  double weight = 0;
};

class Judge {
 public:
  explicit Judge(const Scene& scene);
  // Sum of the weights of all flaws, plus a little for ends that meet nothing. `flaws` receives them when given.
  // Stops early, with some sum not below `bound`, once that is certain: what only adds to the sum is looked at last.
  double cost(const Change& change, std::vector<FlawAt>* flaws = nullptr, double bound = 1e9);

  // Links named here (one mark per link) are taken to pass current the right way, with something to limit it, as they do on the
  // board as it stands: for changes that are made elsewhere. Empty: none.
  void trust(std::vector<char> links) { trusted_ = std::move(links); }
  // After cost({}): which links could be trusted.
  bool sound(int link) const { return live_[size_t(link)] && (forward_[size_t(link)] || !scene_.links[size_t(link)].one_way) && !unlimited_[size_t(link)]; }

  // After cost(): nets of the board as changed.
  int net_count() const { return net_count_; }
  int net_of_terminal(int terminal) const { return net_of_terminal_[size_t(terminal)]; }
  int net_of_strip(StripIndex strip) const;  // -1 when no lead is in it
  int leads_on_strip(StripIndex strip) const { return leads_on_strip_[size_t(strip)]; }
  bool live(int link) const { return live_[size_t(link)]; }

 private:
  struct Edge { int from, to, link; };
  void seat(const Change& change);
  // A probe that does not carry the circuit's current is no reason for an end to be there.
  bool counts_as_end(int part) const {
    return scene_.parts[size_t(part)].role != Role::kInstrument || scene_.parts[size_t(part)].link_count > 1;
  }
  void number_nets(const Change& change);
  int find(int i);
  void join(int a, int b);
  void connect(int config, bool only_at_rest);
  void mark_blocks();
  void visit(int net, int by_edge);
  bool flows(int from, int to, int skip, bool hard, double* drive);
  bool flows_by(const SceneLink& source, int from, int to, int skip, bool hard, double* drive);
  bool passes(const SceneLink& link, bool forward, bool hard) const;
  bool touches(int from, int to);
  void judge_links();
  void judge_shorts();
  void add(Flaw flaw, int part, double weight, int lead = -1, int link = -1);
  void count_flaws();
  bool in_use(const SceneLink& link) const;
  int lone_ends(int index) const;

  const Scene& scene_;
  const Change* change_ = nullptr;
  std::vector<FlawAt>* flaws_ = nullptr;
  double cost_ = 0;
  int strip_count_ = 0;
  std::vector<std::vector<int>> configs_;   // configs_[config][control]: position, -1: a hand may close it
  std::vector<StripIndex> strip_;           // per lead, as changed
  std::vector<int> leads_on_strip_;
  std::vector<int> parent_, net_of_root_, net_of_terminal_;
  int net_count_ = 0;
  // graph of one configuration
  std::vector<int> head_, next_, edge_to_, edge_link_;
  std::vector<int> order_, low_, edge_stack_;
  std::vector<char> used_;
  int clock_ = 0;
  // per link, over all configurations
  std::vector<char> live_, loop_, forward_, backward_, unlimited_;
  std::vector<char> trusted_;
  std::vector<char> short_;                 // per part (supplies): 1 at rest, 2 when pressed
  std::vector<int> queue_, from_state_;
  std::vector<double> drive_;
  int within_ = -1;                         // part whose links flows() leaves out
};

}  // namespace tiepoint
