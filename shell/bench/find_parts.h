// The one search of the parts box and of the notebook: kinds of part by name, value or purpose. "light", "timer", "10k", "4.7
// k", "red led", "yellow violet red". What is found carries the value that was asked for.
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "engine/parts/part_type.h"

namespace tiepoint {

// Parts as they would be taken out of the box, best first; those of `recent` kinds (the latest first) go before all others that
// fit as well. Every word of the text must fit. An empty text finds what is recent.
std::vector<Part> find_parts(std::string_view text, std::span<const PartKind* const> recent = {});

}  // namespace tiepoint
