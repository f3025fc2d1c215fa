#include "engine/file/circuit_file.h"

#include <algorithm>
#include <cmath>
#include <unordered_set>

#include "engine/board/words.h"
#include "engine/file/circuit_elements.h"
#include "engine/file/json_node.h"

namespace tiepoint {
namespace {

constexpr int kVersion = 1;
constexpr size_t kMostProbes = 10000;
constexpr double kLongestTime = 1e9;  // [s]
constexpr double kMostSamples = 1e6;

Status check_format(const JsonNode& root) {
  const Result<JsonNode> format = need(root, "tiepoint");
  if (!format) return format.error();
  const Result<std::string> word = read_text(*format);
  if (!word) return word.error();
  if (*word != "circuit")
    return at(
        *format,
        {.code = Code::kWrongFile, .found = "a file of kind " + in_quotes(*word), .expected = "a circuit file, \"circuit\""});
  const Result<JsonNode> version = need(root, "version");
  if (!version) return version.error();
  const Result<double> number = read_number(*version);
  if (!number) return number.error();
  if (*number > kVersion)
    return at(*version, {.code = Code::kNewerVersion, .found = number_text(*number), .expected = std::to_string(kVersion)});
  const Result<int> whole = read_whole(*version, 1, kVersion);
  if (!whole) return whole.error();
  return done();
}

// {"name": …, "voltage": "out"} or "voltage": ["a", "b"] or "current": "R1" or "power": "R1"
Result<Probe> read_probe(const JsonNode& entry, const ElementReader& elements) {
  if (const Status status = check_keys(entry, {"name", "voltage", "current", "power"}); !status) return status.error();
  Probe probe;
  const Result<JsonNode> name = need(entry, "name");
  if (!name) return name.error();
  const Result<std::string> word = read_text(*name);
  if (!word) return word.error();
  probe.name = *word;
  const std::optional<JsonNode> voltage = entry.find("voltage"), current = entry.find("current"), power = entry.find("power");
  if (voltage.has_value() + current.has_value() + power.has_value() != 1)
    return at(entry, {.code = Code::kBadValue,
                      .found = "a probe of " + std::to_string(entry.size() - 1) + " things",
                      .expected = "one of voltage, current, power"});
  if (!voltage) {
    probe.of = current ? Probe::Of::kElementCurrent : Probe::Of::kElementPower;
    const Result<int> element = elements.element(current ? *current : *power);
    if (!element) return element.error();
    probe.element = *element;
    return probe;
  }
  const bool pair = voltage->is(JsonNode::Type::kList);
  if (pair && voltage->size() != 2)
    return at(*voltage, {.code = Code::kBadValue,
                         .found = std::to_string(voltage->size()) + " nodes",
                         .expected = "one node, or a list of two"});
  const Result<NodeIndex> node = elements.existing_node(pair ? voltage->item(0) : *voltage);
  if (!node) return node.error();
  probe.node = *node;
  if (!pair) return probe;
  const Result<NodeIndex> against = elements.existing_node(voltage->item(1));
  if (!against) return against.error();
  probe.against = *against;
  return probe;
}

Status read_probes(const JsonNode& list, const ElementReader& elements, std::vector<Probe>& out) {
  if (const Status status = expect_list(list); !status) return status;
  if (list.size() > kMostProbes)
    return at(list, {.code = Code::kTooMany,
                     .found = std::to_string(list.size()) + " probes",
                     .expected = std::to_string(kMostProbes) + " probes"});
  std::unordered_set<std::string> names;
  for (size_t i = 0; i < list.size(); ++i) {
    Result<Probe> probe = read_probe(list.item(i), elements);
    if (!probe) return probe.error();
    if (probe->name.empty())
      return at(list.item(i), {.code = Code::kBadName, .found = "\"\"", .expected = "a name for the probe"});
    if (!names.insert(probe->name).second) return at(list.item(i), {.code = Code::kNameTaken, .found = in_quotes(probe->name)});
    out.push_back(std::move(probe).value());
  }
  return done();
}

// Every node's voltage under the node's name, every element's current under the element's.
std::vector<Probe> all_probes(const Circuit& circuit) {
  std::vector<Probe> out;
  std::unordered_set<std::string> names;
  for (NodeIndex node = 1; node < circuit.node_count; ++node) {
    out.push_back({.name = circuit.node_name[size_t(node)], .of = Probe::Of::kNodeVoltage, .node = node});
    names.insert(out.back().name);
  }
  for (size_t e = 0; e < circuit.elements.size(); ++e) {
    std::string name = circuit.element_name[e];
    while (!names.insert(name).second) name += " current";
    out.push_back({.name = std::move(name), .of = Probe::Of::kElementCurrent, .element = int(e)});
  }
  return out;
}

// {"for": 0.5, "sample": 0.001, "start": "settled" or "initial"}
Status read_time(const JsonNode& node, CircuitFile& file) {
  if (const Status status = check_keys(node, {"for", "sample", "start"}); !status) return status;
  if (const std::optional<JsonNode> duration = node.find("for")) {
    const Result<double> value = read_value_between(*duration, 0, kLongestTime, "s");
    if (!value) return value.error();
    file.duration = *value;
  }
  if (const std::optional<JsonNode> sample = node.find("sample")) {
    const double least = std::max(1e-15, file.duration / kMostSamples);
    const Result<double> value = read_value_between(*sample, least, kLongestTime, "s");
    if (!value) return value.error();
    file.sample = *value;
  }
  if (const std::optional<JsonNode> start = node.find("start")) {
    const Result<std::string> word = read_text(*start);
    if (!word) return word.error();
    if (*word != "settled" && *word != "initial")
      return at(*start, {.code = Code::kBadValue, .found = in_quotes(*word), .expected = "\"settled\" or \"initial\""});
    file.from_initial_conditions = *word == "initial";
  }
  return done();
}

bool has_initial_condition(const Circuit& circuit) {
  return std::any_of(circuit.elements.begin(), circuit.elements.end(), [&](const Element& e) {
    const auto specs = model(e.kind).parameters;
    for (size_t k = 0; k < specs.size(); ++k)
      if (specs[k].name.starts_with("initial") && !std::isnan(circuit.values(e)[k])) return true;
    return false;
  });
}

}  // namespace

Result<CircuitFile> read_circuit(std::string_view text) {
  const Result<JsonText> json = JsonText::parse(text);
  if (!json) return json.error();
  const JsonNode root = json->root();
  if (const Status status = expect_object(root); !status) return status.error();
  if (const Status status = check_format(root); !status) return status.error();
  if (const Status status =
          check_keys(root, {"tiepoint", "version", "title", "models", "elements", "initial", "probes", "time", "accuracy"});
      !status)
    return status.error();

  CircuitFile file;
  if (const std::optional<JsonNode> title = root.find("title")) {
    const Result<std::string> words = read_text(*title);
    if (!words) return words.error();
    file.title = *words;
  }
  ElementReader reader(file.circuit);
  if (const std::optional<JsonNode> models = root.find("models"))
    if (const Status status = reader.read_models(*models); !status) return status.error();
  const Result<JsonNode> elements = need(root, "elements");
  if (!elements) return elements.error();
  if (const Status status = reader.read_elements(*elements); !status) return status.error();
  if (const Status status = reader.check_reference(*elements); !status) return status.error();
  if (const std::optional<JsonNode> initial = root.find("initial"))
    if (const Status status = reader.read_initial(*initial); !status) return status.error();
  if (const std::optional<JsonNode> probes = root.find("probes"))
    if (const Status status = read_probes(*probes, reader, file.probes); !status) return status.error();
  if (file.probes.empty()) file.probes = all_probes(file.circuit);
  file.from_initial_conditions = has_initial_condition(file.circuit);  // unless the file says otherwise
  if (const std::optional<JsonNode> time = root.find("time"))
    if (const Status status = read_time(*time, file); !status) return status.error();
  if (const std::optional<JsonNode> accuracy = root.find("accuracy")) {
    const Result<double> value = read_value_between(*accuracy, 1e-9, 0.1, "");
    if (!value) return value.error();
    file.options.relative_tolerance = *value;
  }
  return file;
}

double value_of(const Probe& probe, const Circuit& circuit, const Solution& solution) {
  if (probe.of == Probe::Of::kNodeVoltage) {
    const double voltage = solution.node_voltage[size_t(probe.node)];
    return probe.against < 0 ? voltage : voltage - solution.node_voltage[size_t(probe.against)];
  }
  const Element& element = circuit.elements[size_t(probe.element)];
  const double* current = &solution.terminal_current[size_t(element.first_terminal)];
  if (probe.of == Probe::Of::kElementCurrent) return current[0];
  double power = 0;
  const auto nodes = circuit.nodes(element);
  for (size_t k = 0; k < nodes.size(); ++k) power += solution.node_voltage[size_t(nodes[k])] * current[k];
  return power;
}

}  // namespace tiepoint
