// Every element's parameters with the standard values filled in, checked against the models' bounds.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "engine/circuit/circuit.h"
#include "engine/error.h"
#include "engine/solver/arena.h"

namespace tiepoint {

class Parameters {
 public:
  explicit Parameters(const Circuit& circuit);
  // Takes the circuit's values. The first one out of bounds is told; it is taken all the same.
  std::optional<Error> fill(const Circuit& circuit, std::span<const double> values);
  int revision() const { return revision_; }  // another one after each fill
  // Stays where it is.
  std::span<const double> of(int element) const {
    return {values_.data() + first_[element], size_t(first_[element + 1] - first_[element])};
  }

 private:
  Row<int> first_;      // of each element
  Row<double> values_;  // in the order of the models' lists
  int revision_ = 0;
};

}  // namespace tiepoint
