// A finding in words, at one of three depths. The words are the catalogue's; only the holes in them are filled here.
#pragma once

#include <string>

#include "engine/explain/finding.h"
#include "engine/explain/why.h"

namespace tiepoint {

enum class Depth { kNudge, kPointer, kRepair };
std::string_view key(Depth depth);

std::string words_of(const Finding& finding, Depth depth);
// The answer to "why is it dark?" or "why does it light?": one sentence, without the steps.
std::string words_of(const Board& board, const Explanation& explanation);
// One step: "R1: in at c4 (5 V), out at c9, 8.1 mA".
std::string words_of(const Board& board, const WhyStep& step);

}  // namespace tiepoint
