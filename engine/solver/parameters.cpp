#include "engine/solver/parameters.h"

#include <algorithm>
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
    double* const to = values_.data() + first_[e];
    const double* const given = values.data() + element.first_parameter;
    const size_t count = std::min(specs.size(), size_t(element.parameter_count));
    bool good = true;
    for (size_t k = 0; k < count; ++k) {
      to[k] = given[k];
      good &= to[k] >= specs[k].minimum;
      good &= to[k] <= specs[k].maximum;
    }
    for (size_t k = count; k < specs.size(); ++k) {
      to[k] = specs[k].standard;
      good &= to[k] == to[k];
    }
    for (size_t k = 0; k < specs.size() && !good && !error; ++k)
      if ((k < count || std::isnan(to[k])) && !fits(specs[k], to[k])) error = bad_value(circuit, int(e), specs[k], to[k]);
  }
  return error;
}

}  // namespace tiepoint
