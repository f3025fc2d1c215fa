// Working boards to spoil: circuits as short netlists, laid out on a breadboard at random places the way a person would.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "engine/board/board.h"
#include "tests/corpus/random.h"

namespace tiepoint::corpus {

// One line per part: "NAME kind key=value ... : net net ...", nets in the order of the kind's leads (a button's four legs: the
// two nets of its pairs). "+" and "-" are the rails; other names are strips. Values may be "a|b|c": one is drawn.
struct Recipe {
  std::string_view name;
  std::string_view parts;
};

const std::vector<Recipe>& recipes();

// A layout of this recipe; nothing when this draw did not fit (draw again).
std::optional<Board> lay_out(const Recipe& recipe, Random& random);

}  // namespace tiepoint::corpus
