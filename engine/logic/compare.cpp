#include "engine/logic/compare.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <map>
#include <numeric>
#include <utility>

#include "engine/circuit/circuit.h"
#include "engine/circuit/wiring.h"
#include "engine/logic/truth.h"
#include "engine/readings/readings.h"
#include "engine/solver/simulation.h"

namespace tiepoint {
namespace {

constexpr long kMostTries = 5000;      // refinements with a vertex singled out
constexpr size_t kMostOrders = 40320;  // orders of switches and outputs tried
constexpr double kNoCurrent = 1e-4;    // [A] currents below count as none

bool counts(const Part& part) { return !part.kind->conductor && !part.kind->touches; }

// Leads that may change places have the same label: the two ends of a part without a direction, the legs of a button.
std::string lead_label(const PartKind& kind, size_t lead) {
  const bool ends = kind.leads.size() == 2 && kind.leads[0].name == "1" && kind.leads[1].name == "2";
  const bool pairs = std::all_of(kind.leads.begin(), kind.leads.end(), [](const LeadSpec& l) { return l.joined >= 0; });
  return ends || pairs ? std::string("end") : std::string(kind.leads[lead].name);
}

std::string value_label(const Part& part) {
  std::string label(part.kind->key);
  for (size_t v = 0; v < part.values.size(); ++v)
    if (part.kind->values[v].use == Use::kValue && part.kind->values[v].key != "tolerance")
      label += " " + std::to_string(std::log(part.values[v] + 1e-30));
  return label;
}

// Parts and nets of both boards as one graph: first the parts and nets of the one, then those of the other.
struct Graph {
  struct Edge {
    int to, label;
  };
  std::vector<std::vector<Edge>> edges;
  std::vector<int> colour;
  std::vector<int> part;  // of a vertex; -1: a net
  int half = 0;           // vertices of the first board
};

class Labels {
 public:
  int operator()(const std::string& label) { return numbers_.emplace(label, int(numbers_.size())).first->second; }

 private:
  std::map<std::string, int> numbers_;
};

void add_board(const Board& board, Labels& labels, Graph& graph) {
  const Wiring wiring = wire_up(board);
  std::vector<int> vertex_of_net(size_t(wiring.net_count), -1);
  for (size_t p = 0; p < board.parts.size(); ++p) {
    const Part& part = board.parts[p];
    if (!counts(part)) continue;
    const int vertex = int(graph.edges.size());
    graph.edges.emplace_back();
    graph.colour.push_back(labels(value_label(part)));
    graph.part.push_back(int(p));
    std::vector<std::pair<int, int>> joints;
    for (size_t lead = 0; lead < part.leads.size(); ++lead) {
      int& net = vertex_of_net[size_t(wiring.net_of_strip[size_t(wiring.strip_of_lead[p][lead])])];
      if (net < 0) {
        net = int(graph.edges.size());
        graph.edges.emplace_back();
        graph.colour.push_back(labels("a net"));
        graph.part.push_back(-1);
      }
      joints.emplace_back(net, labels("lead " + lead_label(*part.kind, lead)));
    }
    // Legs that are one piece of metal join a net once.
    std::sort(joints.begin(), joints.end());
    const bool is_button = part.kind->leads.front().joined >= 0;
    if (is_button) joints.erase(std::unique(joints.begin(), joints.end()), joints.end());
    for (const auto& [net, label] : joints) {
      graph.edges[size_t(vertex)].push_back({net, label});
      graph.edges[size_t(net)].push_back({vertex, label});
    }
  }
}

// How many vertices of each colour the second board has less than the first; a difference in any colour rules a match out.
std::map<int, int> imbalance(const Graph& graph, const std::vector<int>& colour) {
  std::map<int, int> count;
  for (size_t v = 0; v < colour.size(); ++v) count[colour[v]] += int(v) < graph.half ? 1 : -1;
  for (auto it = count.begin(); it != count.end();) it = it->second == 0 ? count.erase(it) : std::next(it);
  return count;
}

// One round; true while it still tells more vertices apart.
bool refine_once(const Graph& graph, std::vector<int>& colour) {
  using Signature = std::pair<int, std::vector<std::pair<int, int>>>;
  std::map<Signature, int> numbers;
  const size_t before = size_t(*std::max_element(colour.begin(), colour.end())) + 1;
  std::vector<Signature> signatures(colour.size());
  for (size_t v = 0; v < colour.size(); ++v) {
    signatures[v].first = colour[v];
    for (const Graph::Edge& edge : graph.edges[v]) signatures[v].second.emplace_back(edge.label, colour[size_t(edge.to)]);
    std::sort(signatures[v].second.begin(), signatures[v].second.end());
    numbers.emplace(signatures[v], 0);
  }
  int next = 0;
  for (auto& [signature, number] : numbers) number = next++;
  std::vector<char> used(before, 0);
  for (const int c : colour) used[size_t(c)] = 1;
  const auto kinds = size_t(std::count(used.begin(), used.end(), 1));
  for (size_t v = 0; v < colour.size(); ++v) colour[v] = numbers[signatures[v]];
  return numbers.size() > kinds;
}

class Matcher {
 public:
  explicit Matcher(const Graph& graph) : graph_(graph) {}

  // Refines until nothing changes. False as soon as the boards differ; then colour() is that of the round that shows it.
  bool refine(std::vector<int>& colour) const {
    if (!imbalance(graph_, colour).empty()) return false;
    while (refine_once(graph_, colour))
      if (!imbalance(graph_, colour).empty()) return false;
    return true;
  }

  enum class Answer { kYes, kNo, kTooLong };
  Answer match(std::vector<int> colour, std::vector<int>& match_of) {
    if (!refine(colour)) return Answer::kNo;
    if (--tries_ < 0) return Answer::kTooLong;
    std::map<int, std::vector<int>> classes[2];
    for (size_t v = 0; v < colour.size(); ++v) classes[int(v) >= graph_.half][colour[v]].push_back(int(v));
    const auto open = std::find_if(classes[0].begin(), classes[0].end(), [](const auto& c) { return c.second.size() > 1; });
    if (open == classes[0].end()) {
      match_of.assign(size_t(graph_.half), -1);
      for (const auto& [c, vertices] : classes[0]) match_of[size_t(vertices.front())] = classes[1][c].front();
      return Answer::kYes;
    }
    const int fresh = *std::max_element(colour.begin(), colour.end()) + 1;
    const int chosen = open->second.front();
    for (const int other : classes[1][open->first]) {
      std::vector<int> next = colour;
      next[size_t(chosen)] = next[size_t(other)] = fresh;
      const Answer answer = match(std::move(next), match_of);
      if (answer != Answer::kNo) return answer;
    }
    return Answer::kNo;
  }

 private:
  const Graph& graph_;
  long tries_ = kMostTries;
};

// ---- the circuits

// Names the parts whose colour the other board has less often. `same_kinds`: kinds and values agree, so it is how they are
// joined.
void tell_parts(const Graph& graph, const std::vector<int>& colour, const Board& first, const Board& second, bool same_kinds,
                CompareResult& out) {
  const std::map<int, int> differences = imbalance(graph, colour);
  std::vector<const Part*> here, there;
  for (size_t v = 0; v < colour.size(); ++v) {
    const auto found = differences.find(colour[v]);
    if (graph.part[v] < 0 || found == differences.end()) continue;
    const bool of_first = int(v) < graph.half;
    if (of_first && found->second > 0) here.push_back(&first.parts[size_t(graph.part[v])]);
    if (!of_first && found->second < 0) there.push_back(&second.parts[size_t(graph.part[v])]);
  }
  const Part* one = here.empty() ? nullptr : here.front();
  const Part* other = there.empty() ? nullptr : there.front();
  Difference difference = same_kinds ? Difference::kOtherJoints : one ? Difference::kPartMissing : Difference::kPartExtra;
  for (const Part* a : here)
    for (const Part* b : there)
      if (difference != Difference::kOtherValue && a->kind == b->kind) {
        one = a;
        other = b;
        if (!same_kinds) difference = Difference::kOtherValue;
      }
  if (difference == Difference::kPartMissing) other = nullptr;
  out.circuit = difference;
  out.first_part = one ? one->name : "";
  out.second_part = other ? other->name : "";
}

Matcher::Answer compare_circuits(const Board& first, const Board& second, CompareResult& out, std::vector<int>* matching) {
  Graph graph;
  Labels labels;
  add_board(first, labels, graph);
  graph.half = int(graph.edges.size());
  add_board(second, labels, graph);
  if (matching) matching->assign(first.parts.size(), -1);
  if (graph.edges.empty()) return Matcher::Answer::kYes;

  const int net = labels("a net");
  std::map<int, int> differences = imbalance(graph, graph.colour);
  differences.erase(net);
  if (!differences.empty()) {
    tell_parts(graph, graph.colour, first, second, false, out);
    return Matcher::Answer::kNo;
  }
  Matcher matcher(graph);
  std::vector<int> refined = graph.colour;
  if (graph.edges.size() != 2 * size_t(graph.half) || !matcher.refine(refined)) {
    // Nets may differ in number before any part shows it: a few more rounds make the parts tell.
    for (int round = 0; round < 4 && out.first_part.empty(); ++round) {
      tell_parts(graph, refined, first, second, true, out);
      if (out.first_part.empty()) refine_once(graph, refined);
    }
    return Matcher::Answer::kNo;
  }
  std::vector<int> match_of;
  const Matcher::Answer answer = matcher.match(graph.colour, match_of);
  if (answer == Matcher::Answer::kYes && matching)
    for (int v = 0; v < graph.half; ++v)
      if (graph.part[size_t(v)] >= 0) (*matching)[size_t(graph.part[size_t(v)])] = graph.part[size_t(match_of[size_t(v)])];
  if (answer == Matcher::Answer::kNo) out.circuit = Difference::kOtherJoints;
  return answer;
}

// ---- what they do

// [A] through each output at each row of the table.
std::vector<std::vector<double>> currents_of(const Board& given, const TruthTable& table) {
  Board board = given;
  const Wiring wiring = wire_up(board);
  std::vector<std::vector<double>> rows;
  for (const TruthRow& row : table.rows) {
    for (size_t i = 0; i < table.inputs.size(); ++i)
      board.parts[size_t(table.inputs[i].part)].values[size_t(table.inputs[i].value)] = row.at[i];
    const Circuit circuit = extract(board, wiring);
    const Readings readings = take_readings(board, wiring, circuit, solve_operating_point(circuit));
    std::vector<double>& currents = rows.emplace_back();
    for (const TruthOutput& output : table.outputs) currents.push_back(readings.parts[size_t(output.part)].current);
  }
  return rows;
}

bool same_current(double a, double b, double tolerance) {
  if (!has_reading(a) || !has_reading(b)) return has_reading(a) == has_reading(b);
  return std::abs(a - b) <= kNoCurrent + tolerance * std::max(std::abs(a), std::abs(b));
}

// Compares with the second table's switches and outputs in a given order; the first difference goes into `out`.
struct Doings {
  const Board& board;
  TruthTable table;
  std::vector<std::vector<double>> currents;
};

Difference differ(const Doings& a, const Doings& b, const std::vector<int>& inputs, const std::vector<int>& outputs,
                  double tolerance, size_t* row_at, size_t* output_at) {
  for (size_t r = 0; r < a.table.rows.size(); ++r) {
    std::vector<int> at(inputs.size());
    for (size_t i = 0; i < inputs.size(); ++i) at[size_t(inputs[i])] = a.table.rows[r].at[i];
    const auto same = std::find_if(b.table.rows.begin(), b.table.rows.end(), [&](const TruthRow& row) { return row.at == at; });
    if (same == b.table.rows.end()) return Difference::kOtherInputs;
    const auto s = size_t(same - b.table.rows.begin());
    for (size_t o = 0; o < outputs.size(); ++o) {
      *row_at = r;
      *output_at = o;
      const size_t other = size_t(outputs[o]);
      if (a.table.rows[r].seen[o] != same->seen[other]) return Difference::kOtherState;
      if (!same_current(a.currents[r][o], b.currents[s][other], tolerance)) return Difference::kOtherCurrent;
    }
  }
  return Difference::kNone;
}

void compare_behaviour(const Board& first, const Board& second, double tolerance, CompareResult& out) {
  Doings a{first, truth_table(first), {}}, b{second, truth_table(second), {}};
  const size_t inputs = a.table.inputs.size(), outputs = a.table.outputs.size();
  if (inputs != b.table.inputs.size() || outputs != b.table.outputs.size() || outputs == 0 || a.table.sampled ||
      b.table.sampled) {
    out.behaviour = Difference::kOtherInputs;
    return;
  }
  a.currents = currents_of(first, a.table);
  b.currents = currents_of(second, b.table);
  std::vector<int> in(inputs), to(outputs);
  std::iota(in.begin(), in.end(), 0);
  size_t tried = 0;
  bool told = false;
  do {
    std::iota(to.begin(), to.end(), 0);
    do {
      size_t row = 0, output = 0;
      const Difference difference = differ(a, b, in, to, tolerance, &row, &output);
      if (difference == Difference::kNone) {
        out.behaviour = difference;
        out.setting.clear();
        return;
      }
      if (!told && difference != Difference::kOtherInputs) {  // as the parts stand in order
        told = true;
        out.behaviour = difference;
        for (size_t i = 0; i < inputs; ++i)
          out.setting.push_back(a.table.inputs[i].name + " " + std::to_string(a.table.rows[row].at[i]));
        out.first_output = a.table.outputs[output].name;
        out.second_output = b.table.outputs[size_t(to[output])].name;
        out.first_current = a.currents[row][output];
        for (size_t s = 0; s < b.table.rows.size(); ++s)
          if (b.table.rows[s].at == a.table.rows[row].at) out.second_current = b.currents[s][size_t(to[output])];
      }
    } while (++tried < kMostOrders && std::next_permutation(to.begin(), to.end()));
  } while (tried < kMostOrders && std::next_permutation(in.begin(), in.end()));
  if (!told) out.behaviour = Difference::kOtherInputs;
}

}  // namespace

std::string_view key(Likeness likeness) {
  constexpr std::array<std::string_view, 4> kKeys = {"same-circuit", "same-behaviour", "different", "undecided"};
  return kKeys[size_t(likeness)];
}

std::string_view key(Difference difference) {
  constexpr std::array<std::string_view, 8> kKeys = {"none",         "part-missing", "part-extra",  "other-value",
                                                     "other-joints", "other-inputs", "other-state", "other-current"};
  return kKeys[size_t(difference)];
}

CompareResult compare(const Board& first, const Board& second, const CompareOptions& options, std::vector<int>* matching) {
  CompareResult out;
  const Matcher::Answer same = compare_circuits(first, second, out, matching);
  if (same == Matcher::Answer::kYes) {
    out.likeness = Likeness::kSameCircuit;
    return out;
  }
  compare_behaviour(first, second, options.current_tolerance, out);
  out.likeness = out.behaviour == Difference::kNone  ? Likeness::kSameBehaviour
                 : same == Matcher::Answer::kTooLong ? Likeness::kUndecided
                                                     : Likeness::kDifferent;
  return out;
}

}  // namespace tiepoint
