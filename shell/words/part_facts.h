// What is to be known of a part's model: in words, its equations, where its figures are from, and what it leaves out. One source:
// parts.json beside this file. It is for the terminal program and for the page that lists the parts; the bench does not carry it.
#pragma once

#include <string_view>
#include <vector>

#include "engine/parts/part_type.h"

namespace tiepoint {

// One kind of element a part is made of, as the engine makes it.
struct ElementFacts {
  std::string_view name;  // of its model: "resistor"
  std::string_view what, equation, source;
};

struct PartFacts {
  std::string_view model, source, limits;  // empty: nothing is written down, which a test does not let pass
  std::vector<ElementFacts> elements;      // each kind once, in the order in which the part names them
};

PartFacts part_facts(const PartType& type);

}  // namespace tiepoint
