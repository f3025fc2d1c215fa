// The elements of a circuit file: kinds, nodes and parameters by name.
#pragma once

#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "engine/circuit/circuit.h"
#include "engine/devices/model.h"
#include "engine/file/json_node.h"

namespace tiepoint {

// A number, or a text in IEC 60062 letter code or with an SI prefix.
Result<double> read_value(const JsonNode& node);
// The same within bounds.
Result<double> read_value_between(const JsonNode& node, double minimum, double maximum, std::string_view unit);

class ElementReader {
 public:
  explicit ElementReader(Circuit& circuit);  // gets node "0", its reference

  Status read_models(const JsonNode& models);  // {"name": {"kind": …, parameters}}
  Status read_elements(const JsonNode& elements);
  Status read_initial(const JsonNode& initial);  // {"C1": 5}
  Status check_reference(const JsonNode& elements) const;

  // The index, or an error at `node`.
  Result<int> element(const JsonNode& node) const;
  Result<NodeIndex> existing_node(const JsonNode& node) const;

 private:
  struct NamedModel {
    const Model* model;
    std::vector<double> values;
  };  // NaN: not given

  Status read_element(const JsonNode& entry);
  Result<std::string> new_name(const JsonNode& entry);
  Status read_nodes(const JsonNode& nodes, const Model& model, std::vector<NodeIndex>& out);
  Result<NodeIndex> node_called(const JsonNode& node);
  Status read_model_reference(const JsonNode& node, const Model& model, std::vector<double>& values);
  // Parameters among the entries of `object`; keys in `others` are no parameters.
  Status read_parameters(const JsonNode& object, const Model& model, std::initializer_list<std::string_view> others,
                         std::vector<double>& values) const;
  Status fill_standards(const JsonNode& entry, const Model& model, std::vector<double>& values) const;

  Circuit& circuit_;
  std::unordered_map<std::string, NodeIndex> nodes_;
  std::unordered_map<std::string, int> elements_;
  std::unordered_map<std::string, NamedModel> models_;
};

}  // namespace tiepoint
