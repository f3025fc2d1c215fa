#include "engine/logic/truth.h"

#include <algorithm>
#include <cmath>

#include "engine/circuit/circuit.h"
#include "engine/circuit/wiring.h"
#include "engine/devices/model.h"
#include "engine/readings/readings.h"
#include "engine/solver/simulation.h"

namespace tiepoint {
namespace {

constexpr int kSampledRows = 256;
constexpr double kWatch = 4.0;        // [s] how long a board that moves is watched before it is called periodic
constexpr int kLooks = 80;            // looks at the outputs in that time
constexpr long kMostSteps = 200000;   // of the solver for one row

std::vector<TruthInput> inputs_of(const Board& board) {
  std::vector<TruthInput> inputs;
  for (size_t p = 0; p < board.parts.size(); ++p) {
    const Part& part = board.parts[p];
    if (part.kind->touches) continue;  // nor is the knob of an instrument
    if (type_of(part).reference_lead >= 0) continue;  // a supply's own switch is no input
    int contacts = 0;
    for (const ValueSpec& spec : part.kind->values) contacts += spec.use != Use::kValue && spec.unit.empty();
    for (size_t v = 0; v < part.kind->values.size(); ++v) {
      const ValueSpec& spec = part.kind->values[v];
      const bool positions = spec.maximum >= 1 && spec.maximum <= 11 && (spec.maximum == 1 || !spec.options.empty());
      if (spec.use == Use::kValue || !spec.unit.empty() || !positions) continue;
      inputs.push_back({int(p), int(v), contacts > 1 ? part.name + "." + std::string(spec.key) : part.name, int(spec.maximum) + 1,
                        spec.use == Use::kMomentary});
    }
  }
  return inputs;
}

// A small generator of its own, so that the sample is the same everywhere.
uint32_t next_random(uint32_t& seed) { return seed = seed * 1664525u + 1013904223u, seed >> 8; }

std::vector<TruthRow> settings_of(const std::vector<TruthInput>& inputs, bool& sampled) {
  size_t product = 1;
  for (const TruthInput& input : inputs) product = std::min<size_t>(product * size_t(input.positions), 1u << 20);
  sampled = product > (1u << kMostLogicInputs);
  std::vector<TruthRow> rows;
  std::vector<int> at(inputs.size(), 0);
  if (!sampled) {
    for (size_t k = 0; k < product; ++k) {
      rows.push_back({at, {}, {}});
      for (size_t i = inputs.size(); i-- > 0;) {
        if (++at[i] < inputs[i].positions) break;
        at[i] = 0;
      }
    }
    return rows;
  }
  rows.push_back({at, {}, {}});
  for (size_t i = 0; i < inputs.size(); ++i) {
    rows.push_back({at, {}, {}});
    rows.back().at[i] = 1;
  }
  uint32_t seed = 1;
  while (rows.size() < kSampledRows) {
    for (size_t i = 0; i < inputs.size(); ++i) at[i] = int(next_random(seed) % uint32_t(inputs[i].positions));
    rows.push_back({at, {}, {}});
  }
  return rows;
}

// The board turned about in the hand: positions set, circuit values refreshed.
class Turner {
 public:
  explicit Turner(const Board& board, const TruthTable& table)
      : board_(board), table_(table), wiring_(wire_up(board_)), simulation_(extract(board_, wiring_)) {
    for (const Element& e : simulation_.circuit().elements) {
      const Model& m = model(e.kind);
      moves_ = moves_ || m.stores || m.timed || m.events > 0;
      may_remember_ = may_remember_ || m.events > 0 || !m.linear;
    }
  }
  bool moves() const { return moves_; }
  bool may_remember() const { return may_remember_; }

  void set(const std::vector<int>& at) {
    Circuit circuit = simulation_.circuit();
    bool same = true;
    for (size_t i = 0; i < table_.inputs.size(); ++i) {
      Part& part = board_.parts[size_t(table_.inputs[i].part)];
      part.values[size_t(table_.inputs[i].value)] = at[i];
    }
    for (const TruthInput& input : table_.inputs) same = refresh_values(circuit, board_, input.part) && same;
    if (same) simulation_.set_parameters(circuit.parameters);
    else simulation_ = Simulation(extract(board_, wiring_));
  }
  void settle() { simulation_.settle(); }

  std::vector<State> look() const {
    const Readings readings = take_readings(board_, wiring_, simulation_.circuit(), simulation_.solution());
    std::vector<State> states;
    for (const TruthOutput& output : table_.outputs) states.push_back(readings.parts[size_t(output.part)].state);
    return states;
  }
  // Lets time pass until nothing moves; true when it came to rest. Outputs that were seen both on and off in the second half of
  // the watch are marked in `changing`.
  bool watch(std::vector<char>& changing) {
    const double start = simulation_.time();
    std::vector<char> on(table_.outputs.size(), 0), off(table_.outputs.size(), 0);
    for (int k = 1; k <= kLooks; ++k) {
      if (simulation_.at_rest()) return true;
      // Uneven spacing, so that a steady beat is not looked at in the same phase each time.
      const double until = start + kWatch * (k + 0.37 * (k % 3)) / kLooks;
      if (simulation_.advance(until, StepBudget{kMostSteps}) < until) break;
      if (k <= kLooks / 2) continue;
      const std::vector<State> states = look();
      for (size_t i = 0; i < states.size(); ++i) (is_on(states[i]) ? on : off)[i] = 1;
    }
    for (size_t i = 0; i < on.size(); ++i) changing[i] = on[i] && off[i];
    return false;
  }

 private:
  Board board_;
  const TruthTable& table_;
  Wiring wiring_;
  Simulation simulation_;
  bool moves_ = false, may_remember_ = false;
};

void fill_row(TruthRow& row, const std::vector<State>& states) {
  row.state = states;
  row.seen.clear();
  for (const State state : states)
    row.seen.push_back(state == State::kUnknown ? Seen::kUnknown : is_on(state) ? Seen::kOn : Seen::kOff);
}

// From rest, then once more coming from other positions: an output that differs remembers.
void look_for_memory(TruthTable& table, Turner& turner) {
  if (table.sampled || table.rows.size() > 64) return;
  std::vector<char> changing(table.outputs.size(), 0);
  turner.set(table.rows.front().at);
  turner.settle();
  // Forwards, then backwards through the rows, with time to come to rest at each.
  const size_t count = table.rows.size();
  for (size_t k = 0; k < 2 * count; ++k) {
    const TruthRow& row = table.rows[k < count ? k : 2 * count - 1 - k];
    turner.set(row.at);
    turner.watch(changing);
    const std::vector<State> states = turner.look();
    for (size_t i = 0; i < states.size(); ++i) {
      if (row.seen[i] == Seen::kPeriodic || row.seen[i] == Seen::kUnknown || changing[i]) continue;
      if (is_on(states[i]) != (row.seen[i] == Seen::kOn)) table.outputs[i].remembers = true;
    }
  }
}

}  // namespace

bool is_output(const Part& part) {
  const PartType& type = type_of(part);
  return (type.group == "light" && type.body != Body::kAxialDiode) || type.group == "motion" || type.group == "sound";
}

bool is_on(State state) {
  switch (state) {
    case State::kLit: case State::kOn: case State::kCarrying: case State::kTooBright: case State::kTooHot: case State::kOverloaded:
      return true;
    default: return false;
  }
}

TruthTable truth_table(const Board& board) {
  TruthTable table;
  table.inputs = inputs_of(board);
  for (size_t p = 0; p < board.parts.size(); ++p)
    if (is_output(board.parts[p])) table.outputs.push_back({int(p), board.parts[p].name});
  table.rows = settings_of(table.inputs, table.sampled);
  Turner turner(board, table);
  std::vector<char> changing(table.outputs.size(), 0);
  for (TruthRow& row : table.rows) {
    turner.set(row.at);
    turner.settle();
    std::fill(changing.begin(), changing.end(), 0);
    if (turner.moves()) turner.watch(changing);
    fill_row(row, turner.look());
    for (size_t i = 0; i < changing.size(); ++i) {
      if (!changing[i]) continue;
      row.seen[i] = Seen::kPeriodic;
      table.outputs[i].periodic = true;
    }
  }
  if (turner.may_remember() && turner.moves()) look_for_memory(table, turner);
  return table;
}

OutputLogic logic_of(const TruthTable& table, int output) {
  const TruthOutput& which = table.outputs[size_t(output)];
  if (table.sampled || which.periodic || which.remembers) return {};
  const int inputs = int(table.inputs.size());
  if (inputs > kMostLogicInputs) return {};
  std::vector<Bit> rows(size_t(1) << inputs, Bit::kEither);
  for (const TruthInput& input : table.inputs)
    if (input.positions != 2) return {};
  for (const TruthRow& row : table.rows) {
    uint32_t index = 0;
    for (int i = 0; i < inputs; ++i) index |= uint32_t(row.at[size_t(i)]) << i;
    const Seen seen = row.seen[size_t(output)];
    if (seen == Seen::kUnknown) return {};
    rows[index] = seen == Seen::kOn ? Bit::kOne : Bit::kZero;
  }
  return {true, minimise(rows, inputs)};
}

}  // namespace tiepoint
