// Values: which single value, set otherwise, takes the strain off: a resistor by decades (a band misread), a battery pack's cells,
// a capacitor's voltage rating.
#pragma once

#include <string_view>
#include <vector>

#include "engine/explain/finding.h"
#include "engine/explain/trial.h"

namespace tiepoint {

struct ValueRepair {
  int part = -1;
  int value = -1;        // index into the part's values
  double to = 0;
  FindingKind kind = FindingKind::kResistorTooLarge;
  double effort = 0;
  double strain = 0;     // what is left
  double score() const { return strain + effort; }
};

// Best first; only those that help.
std::vector<ValueRepair> find_value_repairs(const Scene& scene, const Circuit& circuit, const std::vector<StrainAt>& strains,
                                            const std::vector<Positions>& positions);

}  // namespace tiepoint
