#include "engine/file/circuit_elements.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "engine/board/words.h"
#include "engine/devices/source.h"
#include "engine/file/circuit_file.h"
#include "engine/parts/marking.h"

namespace tiepoint {
namespace {

constexpr double kNotGiven = std::numeric_limits<double>::quiet_NaN();
constexpr size_t kLongestNodeName = 60;  // [byte]

bool is_source(const Model& model) {
  return model.kind == ElementKind::kVoltageSource || model.kind == ElementKind::kCurrentSource;
}

// A constant source may simply say "voltage" or "current": that is its amplitude.
std::string_view constant_word(const Model& model) { return model.kind == ElementKind::kVoltageSource ? "voltage" : "current"; }

std::optional<size_t> parameter_called(const Model& model, std::string_view key) {
  if (is_source(model) && key == constant_word(model)) key = "amplitude";
  for (size_t k = 0; k < model.parameters.size(); ++k)
    if (model.parameters[k].name == key) return k;
  return std::nullopt;
}

std::string list_of(std::span<const std::string_view> words) {
  std::string out;
  for (const std::string_view word : words) out += (out.empty() ? "" : ", ") + std::string(word);
  return out;
}

Result<double> read_waveform(const JsonNode& node) {
  const Result<std::string> word = read_text(node);
  if (!word) return word.error();
  for (size_t k = 0; k < std::size(kWaveformNames); ++k)
    if (kWaveformNames[k] == *word) return double(k);
  return at(node, {.code = Code::kBadValue, .found = in_quotes(*word), .expected = list_of(kWaveformNames)});
}

Result<double> read_parameter(const JsonNode& node, const Model& model, const ParameterSpec& spec) {
  if (is_source(model) && spec.name == "waveform") return read_waveform(node);
  if ((spec.name == "starts_closed" || spec.name == "closed") && node.is(JsonNode::Type::kBool)) return node.boolean() ? 1.0 : 0.0;
  return read_value_between(node, spec.minimum, spec.maximum, spec.unit);
}

}  // namespace

Result<double> read_value(const JsonNode& node) {
  if (node.is(JsonNode::Type::kNumber)) return node.number();
  if (!node.is(JsonNode::Type::kText)) return wrong_type(node, "a number, or a text such as \"4k7\"");
  if (const std::optional<double> value = parse_value(node.text()); value && std::isfinite(*value)) return *value;
  return at(
      node,
      {.code = Code::kBadValue, .found = in_quotes(node.text()), .expected = "a value such as \"4k7\", \"100n\" or 0.02"});
}

Result<double> read_value_between(const JsonNode& node, double minimum, double maximum, std::string_view unit) {
  const Result<double> value = read_value(node);
  if (!value) return value;
  if (*value >= minimum && *value <= maximum) return value;
  const auto bound = [&](double v) { return std::isinf(v) ? std::string("any number") : quantity_text(v, unit); };
  return at(
      node,
      {.code = Code::kBadValue, .found = quantity_text(*value, unit), .expected = bound(minimum) + " to " + bound(maximum)});
}

ElementReader::ElementReader(Circuit& circuit) : circuit_(circuit) {
  nodes_.emplace("0", circuit_.node_count++);
  circuit_.node_name.push_back("0");
  circuit_.references.push_back(0);
}

Status ElementReader::read_parameters(const JsonNode& object, const Model& model,
                                      std::initializer_list<std::string_view> others, std::vector<double>& values) const {
  for (size_t i = 0; i < object.size(); ++i) {
    const std::string_view key = object.key(i);
    if (std::find(others.begin(), others.end(), key) != others.end()) continue;
    const JsonNode node = object.member(i);
    const std::optional<size_t> k = parameter_called(model, key);
    if (!k) {
      std::string known = is_source(model) ? std::string(constant_word(model)) : "";
      for (const ParameterSpec& spec : model.parameters) known += (known.empty() ? "" : ", ") + std::string(spec.name);
      return at(node, {.code = Code::kUnknownKey, .found = in_quotes(key), .expected = known});
    }
    if (!std::isnan(values[*k])) return at(node, {.code = Code::kNameTaken, .found = in_quotes(model.parameters[*k].name)});
    const Result<double> value = read_parameter(node, model, model.parameters[*k]);
    if (!value) return value.error();
    values[*k] = *value;
  }
  return done();
}

Status ElementReader::fill_standards(const JsonNode& entry, const Model& model, std::vector<double>& values) const {
  for (size_t k = 0; k < values.size(); ++k) {
    const ParameterSpec& spec = model.parameters[k];
    if (!std::isnan(values[k])) continue;
    if (std::isnan(spec.standard) && !spec.name.starts_with("initial"))
      return at(entry, {.code = Code::kMissingKey, .expected = in_quotes(spec.name)});
    values[k] = spec.standard;
  }
  if (!is_source(model)) return done();
  const Waveform shape = Waveform(int(values[kWaveform]));
  const bool repeats = shape == Waveform::kSine || shape == Waveform::kSquare;
  if (repeats && !(values[kFrequency] > 0)) return at(entry, {.code = Code::kMissingKey, .expected = "\"frequency\""});
  if (shape == Waveform::kPulse && std::isinf(values[kWidth]))
    return at(entry, {.code = Code::kMissingKey, .expected = "\"width\""});
  if (values[kFrequency] > 0 && !std::isinf(values[kWidth]) &&
      (values[kRise] + values[kWidth] + values[kFall]) * values[kFrequency] > 1 + 1e-12)
    return at(entry, {.code = Code::kBadValue,
                      .found = "a pulse of " + quantity_text(values[kRise] + values[kWidth] + values[kFall], "s"),
                      .expected = "one that fits into its period of " + quantity_text(1 / values[kFrequency], "s")});
  return done();
}

Status ElementReader::read_models(const JsonNode& models) {
  if (const Status status = expect_object(models); !status) return status;
  for (size_t i = 0; i < models.size(); ++i) {
    const JsonNode entry = models.member(i);
    const Result<JsonNode> kind = need(entry, "kind");
    if (!kind) return kind.error();
    const Result<std::string> word = read_text(*kind);
    if (!word) return word.error();
    const Model* model = find_model(*word);
    if (!model) return at(*kind, {.code = Code::kUnknownKind, .found = in_quotes(*word)});
    std::vector<double> values(model->parameters.size(), kNotGiven);
    if (const Status status = read_parameters(entry, *model, {"kind"}, values); !status) return status;
    if (!models_.emplace(std::string(models.key(i)), NamedModel{model, std::move(values)}).second)
      return at(entry, {.code = Code::kNameTaken, .found = in_quotes(models.key(i))});
  }
  return done();
}

Status ElementReader::read_model_reference(const JsonNode& node, const Model& model, std::vector<double>& values) {
  if (node.is(JsonNode::Type::kObject)) return read_parameters(node, model, {}, values);
  if (!node.is(JsonNode::Type::kText))
    return wrong_type(node, "an object of parameters, or the name of an entry of \"models\"");
  const auto named = models_.find(std::string(node.text()));
  if (named == models_.end())
    return at(node,
              {.code = Code::kBadValue, .found = in_quotes(node.text()), .expected = "the name of an entry of \"models\""});
  if (named->second.model != &model)
    return at(node, {.code = Code::kBadValue,
                     .found = in_quotes(node.text()) + ", a model of kind " + std::string(named->second.model->name),
                     .expected = "one of kind " + std::string(model.name)});
  for (size_t k = 0; k < values.size(); ++k)
    if (std::isnan(values[k])) values[k] = named->second.values[k];  // the element's own value stands
  return done();
}

Result<std::string> ElementReader::new_name(const JsonNode& entry) {
  const Result<JsonNode> node = need(entry, "name");
  if (!node) return node.error();
  Result<std::string> name = read_text(*node);
  if (!name) return name;
  if (name->empty() || name->size() > kLongestNodeName)
    return at(*node, {.code = Code::kBadName, .found = in_quotes(*name), .expected = "1 to 60 characters"});
  if (!elements_.emplace(*name, int(circuit_.elements.size())).second)
    return at(*node, {.code = Code::kNameTaken, .found = in_quotes(*name)});
  return name;
}

Result<NodeIndex> ElementReader::node_called(const JsonNode& node) {
  const Result<std::string> name = read_text(node);
  if (!name) return name.error();
  if (name->empty() || name->size() > kLongestNodeName)
    return at(node, {.code = Code::kBadName, .found = in_quotes(*name), .expected = "1 to 60 characters"});
  const auto [place, is_new] = nodes_.emplace(*name, circuit_.node_count);
  if (is_new) {
    ++circuit_.node_count;
    circuit_.node_name.push_back(*name);
  }
  return place->second;
}

// A list in the order of the terminals, or an object with a node for each terminal.
Status ElementReader::read_nodes(const JsonNode& nodes, const Model& model, std::vector<NodeIndex>& out) {
  const size_t count = model.terminals.size();
  out.assign(count, -1);
  const auto wrong_count = [&] {
    return at(nodes, {.code = Code::kBadValue,
                      .found = std::to_string(nodes.size()) + " nodes",
                      .expected = std::to_string(count) + ": " + list_of(model.terminals)});
  };
  if (!nodes.is(JsonNode::Type::kList) && !nodes.is(JsonNode::Type::kObject)) return wrong_type(nodes, "a list of nodes");
  if (nodes.size() != count) return wrong_count();
  for (size_t i = 0; i < count; ++i) {
    const bool named = nodes.is(JsonNode::Type::kObject);
    size_t terminal = i;
    if (named) {
      const auto place = std::find(model.terminals.begin(), model.terminals.end(), nodes.key(i));
      if (place == model.terminals.end())
        return at(nodes.member(i),
                  {.code = Code::kUnknownKey, .found = in_quotes(nodes.key(i)), .expected = list_of(model.terminals)});
      terminal = size_t(place - model.terminals.begin());
      if (out[terminal] >= 0) return at(nodes.member(i), {.code = Code::kNameTaken, .found = in_quotes(nodes.key(i))});
    }
    const Result<NodeIndex> node = node_called(named ? nodes.member(i) : nodes.item(i));
    if (!node) return node.error();
    out[terminal] = *node;
  }
  return done();
}

Status ElementReader::read_element(const JsonNode& entry) {
  if (const Status status = expect_object(entry); !status) return status;
  const Result<JsonNode> kind = need(entry, "kind");
  if (!kind) return kind.error();
  const Result<std::string> word = read_text(*kind);
  if (!word) return word.error();
  const Model* model = find_model(*word);
  if (!model) {
    std::string known;
    for (const Model* m : models()) known += (known.empty() ? "" : ", ") + std::string(m->name);
    return at(*kind, {.code = Code::kUnknownKind, .found = in_quotes(*word), .expected = known});
  }
  const Result<std::string> name = new_name(entry);
  if (!name) return name.error();
  const Result<JsonNode> nodes = need(entry, "nodes");
  if (!nodes) return nodes.error();
  std::vector<NodeIndex> terminals;
  if (const Status status = read_nodes(*nodes, *model, terminals); !status) return status;
  std::vector<double> values(model->parameters.size(), kNotGiven);
  if (const Status status = read_parameters(entry, *model, {"name", "kind", "nodes", "model"}, values); !status) return status;
  if (const std::optional<JsonNode> reference = entry.find("model"))
    if (const Status status = read_model_reference(*reference, *model, values); !status) return status;
  if (const Status status = fill_standards(entry, *model, values); !status) return status;
  circuit_.elements.push_back({.kind = model->kind,
                               .first_terminal = int(circuit_.terminals.size()),
                               .terminal_count = int(terminals.size()),
                               .first_parameter = int(circuit_.parameters.size()),
                               .parameter_count = int(values.size())});
  circuit_.element_name.push_back(*name);
  circuit_.terminals.insert(circuit_.terminals.end(), terminals.begin(), terminals.end());
  circuit_.parameters.insert(circuit_.parameters.end(), values.begin(), values.end());
  return done();
}

Status ElementReader::read_elements(const JsonNode& elements) {
  if (const Status status = expect_list(elements); !status) return status;
  if (elements.size() > kMostElements)
    return at(elements, {.code = Code::kTooMany,
                         .found = std::to_string(elements.size()) + " elements",
                         .expected = std::to_string(kMostElements) + " elements"});
  for (size_t i = 0; i < elements.size(); ++i)
    if (const Status status = read_element(elements.item(i)); !status) return status;
  return done();
}

Status ElementReader::check_reference(const JsonNode& elements) const {
  if (circuit_.elements.empty() ||
      std::find(circuit_.terminals.begin(), circuit_.terminals.end(), 0) != circuit_.terminals.end())
    return done();
  return at(elements, {.code = Code::kBadValue,
                       .found = "a circuit without node \"0\"",
                       .expected = "one node called \"0\", the reference of all voltages"});
}

Status ElementReader::read_initial(const JsonNode& initial) {
  if (const Status status = expect_object(initial); !status) return status;
  for (size_t i = 0; i < initial.size(); ++i) {
    const JsonNode node = initial.member(i);
    const auto place = elements_.find(std::string(initial.key(i)));
    if (place == elements_.end())
      return at(
          node,
          {.code = Code::kUnknownKey, .found = in_quotes(initial.key(i)), .expected = "the name of a capacitor or inductor"});
    const Element& element = circuit_.elements[size_t(place->second)];
    const Model& model = tiepoint::model(element.kind);
    for (size_t k = 0; k < model.parameters.size(); ++k) {
      const ParameterSpec& spec = model.parameters[k];
      if (!spec.name.starts_with("initial")) continue;
      double& value = circuit_.parameters[size_t(element.first_parameter) + k];
      if (!std::isnan(value)) return at(node, {.code = Code::kNameTaken, .found = in_quotes(spec.name)});
      const Result<double> given = read_value_between(node, spec.minimum, spec.maximum, spec.unit);
      if (!given) return given.error();
      value = *given;
    }
    if (element.kind != ElementKind::kCapacitor && element.kind != ElementKind::kInductor)
      return at(
          node,
          {.code = Code::kUnknownKey, .found = in_quotes(initial.key(i)), .expected = "the name of a capacitor or inductor"});
  }
  return done();
}

Result<int> ElementReader::element(const JsonNode& node) const {
  const Result<std::string> name = read_text(node);
  if (!name) return name.error();
  const auto place = elements_.find(*name);
  if (place != elements_.end()) return place->second;
  return at(node, {.code = Code::kUnknownPart, .part = in_quotes(*name)});
}

Result<NodeIndex> ElementReader::existing_node(const JsonNode& node) const {
  const Result<std::string> name = read_text(node);
  if (!name) return name.error();
  const auto place = nodes_.find(*name);
  if (place != nodes_.end()) return place->second;
  return at(node, {.code = Code::kBadValue, .found = in_quotes(*name), .expected = "the name of a node of an element"});
}

}  // namespace tiepoint
