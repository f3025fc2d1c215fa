#include "engine/logic/sizing.h"

#include <cmath>
#include <initializer_list>

#include "engine/board/words.h"
#include "engine/circuit/circuit.h"
#include "engine/devices/source.h"
#include "engine/parts/marking.h"
#include "engine/parts/part_type.h"
#include "engine/solver/simulation.h"

namespace tiepoint {
namespace {

void add(Circuit& circuit, ElementKind kind, std::initializer_list<int> nodes, std::initializer_list<double> values) {
  circuit.elements.push_back(
      {kind, int(circuit.terminals.size()), int(nodes.size()), int(circuit.parameters.size()), int(values.size()), -1});
  circuit.terminals.insert(circuit.terminals.end(), nodes);
  circuit.parameters.insert(circuit.parameters.end(), values);
  circuit.element_name.push_back("E" + std::to_string(circuit.elements.size()));
}

// Node 0 is the part's second lead, node 1 its first, node 2 the supply's plus.
constexpr int kReturn = 0, kPart = 1, kPlus = 2, kFirstInner = 3;

Circuit with_part(const Part& part) {
  Circuit circuit;
  const PartType& type = type_of(part);
  circuit.node_count = kFirstInner + type.inner_nodes;
  circuit.references = {kReturn};
  for (int n = 0; n < circuit.node_count; ++n) circuit.node_name.push_back(std::to_string(n));
  ElementList list;
  type.elements(Board{}, part, list);
  const auto leads = int(part.leads.size());
  for (const ElementList::Entry& entry : list.entries) {
    circuit.elements.push_back({entry.kind, int(circuit.terminals.size()), entry.terminal_count, int(circuit.parameters.size()),
                                entry.parameter_count, -1});
    for (const int end : list.ends(entry))
      circuit.terminals.push_back(end == 0 ? kPart : end == 1 ? kReturn : end - leads + kFirstInner);
    const auto values = list.values(entry);
    circuit.parameters.insert(circuit.parameters.end(), values.begin(), values.end());
    circuit.element_name.push_back("E" + std::to_string(circuit.elements.size()));
  }
  return circuit;
}

// [V] across the part when this current is driven through it; NaN when that cannot be.
double voltage_at(const SizingRequest& request, double current) {
  if (!request.part) return request.drop;
  Circuit circuit = with_part(*request.part);
  add(circuit, ElementKind::kCurrentSource, {kReturn, kPart}, {0, current});
  add(circuit, ElementKind::kResistor, {kPlus, kReturn}, {1});
  const Solution solution = solve_operating_point(circuit);
  return solution.ok() ? solution.node_voltage[kPart] : std::nan("");
}

SizedResistor with_resistor(const SizingRequest& request, double resistance) {
  SizedResistor out{resistance, 0, request.drop, 0};
  if (!request.part) {
    out.current = (request.supply - request.drop) / resistance;
  } else {
    Circuit circuit = with_part(*request.part);
    add(circuit, ElementKind::kVoltageSource, {kPlus, kReturn}, {0, request.supply});
    add(circuit, ElementKind::kResistor, {kPlus, kPart}, {resistance});
    const Solution solution = solve_operating_point(circuit);
    out.voltage = solution.ok() ? solution.node_voltage[kPart] : std::nan("");
    out.current = (request.supply - out.voltage) / resistance;
  }
  out.power = resistance * out.current * out.current;
  return out;
}

}  // namespace

Result<Sizing> size_resistor(const SizingRequest& request) {
  if (!(request.current > 0 && std::isfinite(request.current)))
    return Error{.code = Code::kBadValue, .found = quantity_text(request.current, "A"), .expected = "a current above zero"};
  if (e_series(request.series).empty())
    return Error{
        .code = Code::kBadValue, .found = "E" + std::to_string(request.series), .expected = "E3, E6, E12, E24, E48 or E96"};
  const double voltage = voltage_at(request, request.current);
  const double exact = (request.supply - voltage) / request.current;
  if (!(exact > 0 && std::isfinite(exact)))
    return Error{.code = Code::kBadValue,
                 .found = "a supply of " + quantity_text(request.supply, "V"),
                 .expected = "more than the " + quantity_text(voltage, "V") + " that the part needs at " +
                             quantity_text(request.current, "A")};
  Sizing sizing;
  sizing.exact = {exact, request.current, voltage, exact * request.current * request.current};
  const double nearest = nearest_e_value(exact, request.series);
  for (int step = -request.neighbours; step <= request.neighbours; ++step)
    sizing.members.push_back(with_resistor(request, step == 0 ? nearest : step_e_value(nearest, request.series, step)));
  sizing.nearest = request.neighbours;
  return sizing;
}

}  // namespace tiepoint
