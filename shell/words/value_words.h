// What comes of "which value?" (engine/logic/values.h, sizing.h), in words: the formula with its numbers, and a row for each
// value.
#pragma once

#include <span>
#include <string>

#include "engine/logic/sizing.h"
#include "engine/logic/values.h"

namespace tiepoint {

// "R1 = R2 × (V − U) ÷ U = 2 kΩ × (9 V − 6 V) ÷ 6 V = 1 kΩ"
std::string formula_words(const ValueQuestion& question, std::span<const double> given, const ValueAnswer& answer);
std::string formula_words(const SizingRequest& request, const Sizing& sizing);
// "1 kΩ: 6 V, 3 mA through both"
std::string row_words(const ValueQuestion& question, const ValueOutcome& outcome);
std::string row_words(const SizedResistor& one);

}  // namespace tiepoint
