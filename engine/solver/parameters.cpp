#include "engine/solver/parameters.h"

#include <cmath>

#include "engine/devices/model.h"
#include "engine/parts/marking.h"

namespace tiepoint {
namespace {

bool fits(const ParameterSpec& spec, double value) {
  if (std::isnan(value)) return std::isnan(spec.standard) && spec.name.starts_with("initial");  // "free"
  return value >= spec.minimum && value <= spec.maximum;
}

Error bad_value(const Circuit& circuit, int element, const ParameterSpec& spec, double value) {
  const auto show = [&](double v) {
    return std::isnan(v)   ? std::string("nothing")
           : std::isinf(v) ? std::string("infinite")
                           : decimal(v) + " " + std::string(spec.unit);
  };
  return {.code = Code::kBadValue,
          .part = circuit.element_name[element],
          .found = std::string(spec.name) + " " + show(value) + " of " + circuit.element_name[element],
          .expected = show(spec.minimum) + " to " + show(spec.maximum)};
}

}  // namespace

Parameters::Parameters(const Circuit& circuit) {
  first_.reserve(circuit.elements.size() + 1);
  first_.push_back(0);
  for (const Element& e : circuit.elements) first_.push_back(first_.back() + int(model(e.kind).parameters.size()));
  values_.resize(size_t(first_.back()));
}

std::optional<Error> Parameters::fill(const Circuit& circuit, std::span<const double> values) {
  std::optional<Error> error;
  ++revision_;
  for (size_t e = 0; e < circuit.elements.size(); ++e) {
    const Element& element = circuit.elements[e];
    const auto specs = model(element.kind).parameters;
    for (size_t k = 0; k < specs.size(); ++k) {
      const bool given = int(k) < element.parameter_count;
      const double value = given ? values[size_t(element.first_parameter) + k] : specs[k].standard;
      values_[size_t(first_[e]) + k] = value;
      if (!error && !fits(specs[k], value)) error = bad_value(circuit, int(e), specs[k], value);
    }
  }
  return error;
}

}  // namespace tiepoint
