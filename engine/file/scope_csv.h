// What an oscilloscope has on its screen, as a table for other programs.
#pragma once

#include <string>

#include "engine/readings/scope.h"

namespace tiepoint {

// Comma-separated values (RFC 4180: lines end with CR LF, one head line): time [s] from the trigger, or of a strip chart from its right
// end, then the voltage [V] of each channel that is shown. A row for each instant at which some channel was sampled, the others
// interpolated; an empty field where nothing is known. Numbers have a point and up to nine figures.
std::string scope_csv(const Scope& scope);

}  // namespace tiepoint
