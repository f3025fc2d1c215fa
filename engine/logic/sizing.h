// "Which resistor?": the resistor in line with a part, for a wanted current, and what the values of an E series make of it.
//
//   exact   R = (V - u(I)) / I        V supply, u(I) voltage of the part at the wanted current, by its own curve
//   chosen  the current with a member of the series is solved with the part's curve again; the power in the resistor is R I^2
#pragma once

#include <vector>

#include "engine/board/board.h"
#include "engine/error.h"

namespace tiepoint {

struct SizedResistor {
  double resistance = 0;  // [ohm]
  double current = 0;     // [A] that then flows
  double voltage = 0;     // [V] across the part in line
  double power = 0;       // [W] in the resistor
};

struct Sizing {
  SizedResistor exact;                 // current: the wanted one
  std::vector<SizedResistor> members;  // of the series, rising: the nearest and its neighbours
  int nearest = 0;                     // index into members, nearest by ratio
};

struct SizingRequest {
  double supply = 5;      // [V] without resistance
  double current = 0.01;  // [A] wanted
  int series = 12;        // E12, E24 …
  int neighbours = 1;     // on either side of the nearest
  const Part* part =
      nullptr;      // in line, from its first lead to its second: an LED, a lamp. Null: a part that keeps `drop` whatever flows
  double drop = 0;  // [V]
};

// Errors: kBadValue when the supply is too low for the part, a current is not above zero, or there is no such series.
Result<Sizing> size_resistor(const SizingRequest& request);

}  // namespace tiepoint
