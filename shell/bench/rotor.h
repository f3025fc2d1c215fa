// How far each motor's rotor has turned for the eye. A real one is a blur at any working speed, so the drawn one turns slower the
// faster it is, by the square root, and keeps its angle when the speed changes.
#pragma once

#include <vector>

#include "engine/readings/readings.h"

namespace tiepoint {

class Rotors {
 public:
  // Lets the time from the last call pass. True while one turns, and so wants the next frame; never when `still`.
  bool advance(const Board& board, const Readings& readings, double now, bool still);
  float turned(PartId part) const;  // [rad] 0..2 pi

 private:
  struct Rotor {
    PartId part;
    double angle = 0;  // [rad]
  };
  std::vector<Rotor> rotors_;
  double last_ = -1;  // [s]
};

// [rad/s] at which a rotor of this true speed is drawn.
double drawn_speed(double speed);

}  // namespace tiepoint
