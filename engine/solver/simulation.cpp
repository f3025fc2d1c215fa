#include "engine/solver/simulation.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <unordered_map>

#include "engine/devices/source.h"
#include "engine/parts/marking.h"
#include "engine/solver/island.h"
#include "engine/solver/motion.h"
#include "engine/solver/parameters.h"
#include "engine/solver/plan.h"
#include "engine/solver/proof.h"

namespace tiepoint {

struct Simulation::State {
  State(Circuit the_circuit, const SolverOptions& the_options)
      : State(std::make_unique<Circuit>(std::move(the_circuit)), nullptr, the_options) {}
  // Of a circuit that stays where it is, and is not changed.
  State(const Circuit* borrowed, const SolverOptions& the_options) : State(nullptr, borrowed, the_options) {}
  State(std::unique_ptr<Circuit> owned, const Circuit* borrowed, const SolverOptions& the_options)
      : building(std::in_place, arena),
        own(std::move(owned)),
        circuit(own ? *own : *borrowed),
        options(the_options),
        parameters(circuit),
        plan(make_plan(circuit)),
        held(plan, parameters) {
    bad_parameter = parameters.fill(circuit, circuit.parameters);
    islands.resize(size_t(plan.island_count));
    motions.reserve(islands.size());
    failed.assign(islands.size(), 0);
    for (size_t i = 0; i < islands.size(); ++i) {
      islands[i].build(circuit, plan, int(i), parameters);
      islands[i].refresh(parameters, 0);
      motions.emplace_back(islands[i], held, options);
    }
    place_of_node.assign(size_t(circuit.node_count), {-1, -1});
    for (size_t i = 0; i < islands.size(); ++i)
      for (int row = 0; row < islands[i].node_count; ++row)
        place_of_node[size_t(islands[i].node_of_row[size_t(row)])] = {int(i), row};
    building.reset();
  }

  // An error that no state can mend; null when there is none.
  const Error* hopeless() const { return plan.error ? &*plan.error : bad_parameter ? &*bad_parameter : nullptr; }

  void begin() {
    error.reset();
    fresh = false;
    started = true;
    iterations = 0;
    method = "newton";
    if (const Error* e = hopeless()) error = *e;
  }

  // Takes in the outcome of a solve of one island.
  void note(size_t island, const NewtonResult& result) {
    failed[island] = !result.ok;
    solved = solved || result.ok;
    iterations += result.iterations;
    if (result.method != "newton") method = result.method;
    if (!result.ok && !error) error = no_solution(circuit, islands[island], result.worst);
  }

  bool depends_on_changed(size_t island, const std::vector<char>& changed) const {
    const auto is_changed = [&](int e) { return changed[size_t(e)] != 0; };
    return std::any_of(plan.island_elements[island].begin(), plan.island_elements[island].end(), is_changed) ||
           std::any_of(islands[island].held_sources.begin(), islands[island].held_sources.end(), is_changed);
  }

  bool structure_changes(std::span<const double> values) const {
    Parameters next(circuit);
    (void)next.fill(circuit, values);
    for (size_t e = 0; e < circuit.elements.size(); ++e) {
      const Model& m = model(circuit.elements[e].kind);
      if (extra_of(m, next.of(int(e))) != extra_of(m, parameters.of(int(e)))) return true;
    }
    return false;
  }

  // Instruments that ask the circuit before they act ask again.
  void look_again(size_t island) {
    if (!islands[island].has_modes) return;
    for (Member& member : islands[island].members)
      if (member.model->looks_again && member.mode != 0) member.enter(0, time);
  }

  void adopt(const State& older);

  Arena arena;  // of the rows of all that follows
  std::optional<Arena::Use> building;
  std::unique_ptr<Circuit> own;
  const Circuit& circuit;
  SolverOptions options;
  Parameters parameters;
  SolverPlan plan;
  HeldVoltages held;
  std::vector<Island> islands;
  std::vector<Motion> motions;
  struct Place {
    int island, row;
  };
  Row<Place> place_of_node;  // {-1, -1}: held
  Row<char> failed;          // islands without a consistent state
  std::optional<Error> bad_parameter;
  std::optional<Error> error;
  double time = 0;
  bool started = false, fresh = false;
  bool solved = false;  // some island has had a state
  int iterations = 0;
  long earlier_steps = 0, earlier_rejected = 0;
  std::string_view method = "newton";
  Solution solution;
  Watch watch;
};

// Charge and flux go from element to element of the same name and kind. Where an element keeps its charge (at its terminals or
// in a row of its own) may differ between the two. Voltages only serve as a first guess.
void Simulation::State::adopt(const State& older) {
  begin();
  time = older.time;
  earlier_steps = older.earlier_steps, earlier_rejected = older.earlier_rejected;
  for (const Motion& m : older.motions) earlier_steps += m.steps(), earlier_rejected += m.rejected();
  struct Home {
    int island, member;
  };
  std::unordered_map<std::string_view, Home> places;
  for (size_t i = 0; i < older.islands.size(); ++i)
    for (size_t k = 0; k < older.islands[i].members.size(); ++k)
      places.emplace(older.circuit.element_name[size_t(older.islands[i].members[k].element)], Home{int(i), int(k)});
  double f[kMaxLocal], q[kMaxLocal];
  for (size_t i = 0; i < islands.size() && !error; ++i) {
    Island& island = islands[i];
    Row<double> charges(size_t(island.size), 0.0), guess(size_t(island.total), 0.0);
    for (Member& member : island.members) {
      const auto at = places.find(circuit.element_name[size_t(member.element)]);
      if (at == places.end()) continue;
      const Island& from = older.islands[size_t(at->second.island)];
      const Member& old = from.members[size_t(at->second.member)];
      if (old.model != member.model) continue;
      if (!member.model->looks_again)
        member.mode = old.mode, member.mode_since = old.mode_since;
      else
        member.mode_since = time;
      std::copy(old.lasted, old.lasted + 2, member.lasted);
      const Row<double>& x = older.motions[size_t(at->second.island)].x();
      for (int k = 0; k < std::min(old.m, member.m); ++k)
        guess[size_t(island.maps[member.map + k])] = x[size_t(from.maps[old.map + k])];
      if (!member.model->stores) continue;
      std::fill(q, q + member.m, 0.0);  // own unknowns that the element has only now begin with nothing
      from.evaluate_member(old, x.data(), f, q);
      const int row = member.model->charge_row;
      if (row >= 0 && old.m != member.m) {
        const double charge = old.m > row ? q[row] : q[0];
        std::fill(q, q + member.m, 0.0);
        if (member.m > row) {
          q[row] = charge;
        } else {
          q[0] = charge, q[1] = -charge;
        }
      }
      for (int k = 0; k < member.m; ++k)
        if (const int to = island.maps[member.map + k]; to < island.size) charges[size_t(to)] += q[k];
    }
    motions[i].guess(guess);
    note(i, motions[i].restart(time, charges));
  }
}

Simulation::Simulation(Circuit circuit, SolverOptions options) : state_(std::make_unique<State>(std::move(circuit), options)) {}
Simulation::Simulation(std::unique_ptr<State> state) : state_(std::move(state)) {}
Simulation::~Simulation() = default;
Simulation::Simulation(Simulation&&) noexcept = default;
Simulation& Simulation::operator=(Simulation&&) noexcept = default;

const Circuit& Simulation::circuit() const { return state_->circuit; }
double Simulation::time() const { return state_->time; }

void Simulation::settle() {
  State& s = *state_;
  s.begin();
  if (!s.error) s.error = find_settled_loop(s.circuit, s.parameters);
  Row<double> charges;
  for (size_t i = 0; i < s.islands.size() && !s.error; ++i) {
    charges.resize(size_t(s.islands[i].size));
    s.islands[i].initial_charges(charges.data(), true);
    s.look_again(i);
    s.note(i, s.motions[i].settle(s.time));
  }
}

void Simulation::start_from_initial_conditions() {
  State& s = *state_;
  s.begin();
  s.time = 0;
  for (size_t i = 0; i < s.islands.size() && !s.error; ++i) {
    Row<double> charges(size_t(s.islands[i].size));
    for (Member& member : s.islands[i].members) member.mode = 0, member.mode_since = 0, member.lasted[0] = member.lasted[1] = 0;
    s.islands[i].initial_charges(charges.data(), false);
    s.motions[i].guess(Row<double>(size_t(s.islands[i].total), 0.0));
    s.note(i, s.motions[i].restart(0, charges));
  }
}

void Simulation::set_parameters(std::span<const double> parameters) {
  State& s = *state_;
  if (s.structure_changes(parameters)) {
    Circuit circuit = s.circuit;
    circuit.parameters.assign(parameters.begin(), parameters.end());
    Simulation next(std::move(circuit), s.options);
    next.adopt_state(*this);
    *this = std::move(next);
    return;
  }
  const bool was_started = s.started;
  std::vector<char> changed(s.circuit.elements.size(), 0);
  for (size_t e = 0; e < changed.size(); ++e) {
    const Element& element = s.circuit.elements[e];
    for (int k = element.first_parameter; k < element.first_parameter + element.parameter_count; ++k)
      changed[e] |= s.circuit.parameters[size_t(k)] != parameters[size_t(k)];
  }
  s.own->parameters.assign(parameters.begin(), parameters.end());
  s.bad_parameter = s.parameters.fill(s.circuit, parameters);
  if (!was_started) return;
  const bool all = s.error.has_value();
  if (all && !s.solved) return start_from_initial_conditions();  // nothing to go on from
  s.begin();
  for (size_t i = 0; i < s.islands.size() && !s.error; ++i)
    if (all || s.failed[i] || s.depends_on_changed(i, changed)) {
      s.look_again(i);
      s.note(i, s.motions[i].restart(s.time));
    }
}

void Simulation::adopt_state(const Simulation& older) { state_->adopt(*older.state_); }

double Simulation::advance(double time, StepBudget budget) { return advance(time, &budget.max_steps); }

double Simulation::advance(double time, long* steps) {
  State& s = *state_;
  if (!s.started) start_from_initial_conditions();
  if (s.error || !(time > s.time)) return s.time;
  s.fresh = false;
  const bool watched = !s.watch.empty();
  size_t moving = 0;
  for (const Motion& m : s.motions) moving += !m.at_rest();
  double reached = time;
  for (size_t i = 0; i < s.motions.size(); ++i) {
    Motion& m = s.motions[i];
    long share = m.at_rest() ? 1 : std::max(1L, *steps / long(std::max<size_t>(1, moving--)));
    const long given = share;
    if (!m.advance(time, &share)) {
      s.failed[i] = 1;
      s.error = stuck(s.circuit, s.islands[i], m.stuck_row(), m.time());
      reached = m.time();
      break;
    }
    *steps -= given - share;
    reached = std::min(reached, m.time());
    if (watched) s.watch.step(int(i), m);
  }
  if (watched) s.watch.arrive(s.plan, s.parameters, reached);
  return s.time = reached;
}

void Simulation::watch(std::vector<WatchedPair> pairs, WatchReport report) {
  State& s = *state_;
  s.watch.follow(std::move(pairs), std::move(report));
  s.watch.place(s.plan, s.islands);
  for (size_t i = 0; i < s.motions.size(); ++i) {
    const auto tell = [&s, i] { s.watch.step(int(i), s.motions[i]); };
    s.motions[i].on_step = s.watch.lies_in(int(i)) ? std::function<void()>(tell) : std::function<void()>();
    s.motions[i].sampled_every = 0;
  }
}

void Simulation::sample(double every, double unstepped, bool only) {
  State& s = *state_;
  for (size_t i = 0; i < s.motions.size(); ++i) {
    s.motions[i].sampled_every = s.islands[i].stores ? every : unstepped;
    s.motions[i].samples_only = only;
    s.motions[i].keeps_shape = unstepped <= every;
    s.watch.sample(int(i), s.motions[i].sampled_every, s.time);
  }
}

bool Simulation::is_stepped(int pair) const {
  const int island = state_->watch.island_of(pair);
  return island >= 0 && state_->islands[size_t(island)].stores;
}

void Simulation::count(std::span<const int> elements) {
  State& s = *state_;
  for (size_t i = 0; i < s.islands.size(); ++i) {
    s.motions[i].count_none();
    for (size_t k = 0; k < s.islands[i].members.size(); ++k)
      if (std::find(elements.begin(), elements.end(), s.islands[i].members[k].element) != elements.end())
        s.motions[i].count(int(k));
  }
}

Simulation::Delivered Simulation::delivered(int element) const {
  const State& s = *state_;
  for (size_t i = 0; i < s.islands.size(); ++i)
    for (size_t k = 0; k < s.islands[i].members.size(); ++k)
      if (s.islands[i].members[k].element == element)
        if (const Motion::Delivered* sum = s.motions[i].delivered(int(k))) return {sum->charge, sum->energy};
  return {};
}

bool Simulation::at_rest() const {
  const State& s = *state_;
  return s.started && (s.error || std::all_of(s.motions.begin(), s.motions.end(), [](const Motion& m) { return m.at_rest(); }));
}

double Simulation::voltage(NodeIndex node) const {
  State& s = *state_;
  if (!s.started) const_cast<Simulation*>(this)->start_from_initial_conditions();
  if (s.error) return std::numeric_limits<double>::quiet_NaN();
  const auto [island, row] = s.place_of_node[size_t(node)];
  if (island >= 0) return s.motions[size_t(island)].x()[size_t(row)];
  double sum = 0;
  for (int h = s.plan.held_of_node[size_t(node)]; s.plan.held[size_t(h)].parent >= 0; h = s.plan.held[size_t(h)].parent) {
    const HeldNode& held = s.plan.held[size_t(h)];
    sum += held.sign * waveform_value(s.parameters.of(held.source), s.time, s.time);
  }
  return sum;
}

const Solution& Simulation::solution() const {
  State& s = *state_;
  if (!s.started) const_cast<Simulation*>(this)->start_from_initial_conditions();
  if (s.fresh) return s.solution;
  s.fresh = true;
  s.solution = gather(s.circuit, s.plan, s.parameters, s.islands, s.motions, s.time, s.error);
  SolverStatistics& statistics = s.solution.statistics;
  statistics.iterations = s.iterations;
  statistics.method = s.method;
  statistics.steps += s.earlier_steps;
  statistics.rejected_steps += s.earlier_rejected;
  return s.solution;
}

Solution solve_operating_point(const Circuit& circuit, const SolverOptions& options) {
  Simulation simulation(std::make_unique<Simulation::State>(&circuit, options));
  simulation.settle();
  simulation.solution();
  return std::move(simulation.state_->solution);
}

}  // namespace tiepoint
