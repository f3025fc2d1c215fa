#include "shell/bench/rotor.h"

#include <algorithm>
#include <cmath>

namespace tiepoint {

double drawn_speed(double speed) {
  constexpr double kStanding = 0.5, kMost = 14;  // [rad/s] below the one nothing turns; above the other a screen shows it backwards
  const double size = std::fabs(speed);
  if (!(size > kStanding)) return 0;
  return std::copysign(std::min(0.7 * std::sqrt(size), kMost), speed);
}

bool Rotors::advance(const Board& board, const Readings& readings, double now, bool still) {
  constexpr double kLongestGap = 0.1;  // [s] a longer pause between frames is not made up for
  const double gap = last_ < 0 ? 0 : std::clamp(now - last_, 0.0, kLongestGap);
  last_ = now;
  if (still) return false;
  bool moves = false;
  for (size_t i = 0; i < board.parts.size() && i < readings.parts.size(); ++i) {
    const double speed = drawn_speed(readings.parts[i].speed);  // nothing without a reading
    if (speed == 0) continue;
    moves = true;
    const PartId id = board.parts[i].id;
    auto it = std::find_if(rotors_.begin(), rotors_.end(), [&](const Rotor& r) { return r.part == id; });
    if (it == rotors_.end()) it = rotors_.insert(it, {id, 0});
    it->angle = std::remainder(it->angle + speed * gap, 6.283185307179586);
  }
  return moves;
}

float Rotors::turned(PartId part) const {
  for (const Rotor& r : rotors_)
    if (r.part == part) return float(r.angle);
  return 0;
}

}  // namespace tiepoint
