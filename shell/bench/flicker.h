// Lights that would flash are drawn steady. More than three flashes a second can start a seizure (WCAG 2.2, 2.3.1), whatever
// the board does: a light that has lit up three times within the last second is shown as bright as it was on the average, until
// it slows down. Readings, words and sound stay what they are.
#pragma once

#include <array>
#include <vector>

#include "engine/readings/readings.h"

namespace tiepoint {

class Flicker {
 public:
  // Looks at the lights of a frame; `now` is the time of whoever watches, not that of the board [s].
  void look(const Board& board, const Readings& readings, double now);
  // The numbers of a part as they may be shown.
  PartNumbers steadied(PartId part, const PartNumbers& numbers) const;
  bool steadies(PartId part) const;

 private:
  struct Light {
    PartId part;
    PartNumbers mean;                            // of brightness and lights
    std::array<double, 3> rises = {-9, -9, -9};  // when it last lit up, the latest first [s]
    double peak = 0;                             // the brightest of the last second or so
    bool lit = false, steady = false;
  };
  const Light* find(PartId part) const;
  std::vector<Light> lights_, seen_;  // seen_: room kept between frames
  bool any_steady_ = false;
  double last_ = -1;  // [s]
};

}  // namespace tiepoint
