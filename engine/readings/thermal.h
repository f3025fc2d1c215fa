// Thermal: how warm the parts of a board are and how far that has damaged them, kept up while time passes. Between two looks at
// the readings the power of a part is taken as steady; its rise then follows the closed-form exponential exactly, however long
// that is. A board on which nothing gets warm costs a look and no more.
#pragma once

#include <vector>

#include "engine/circuit/circuit.h"
#include "engine/parts/heat.h"
#include "engine/readings/readings.h"

namespace tiepoint {

class Thermal {
 public:
  struct Body {
    PartId part;
    int specimen = 0;
    int index = -1;  // into the parts of the board
    Heat heat;
    double power = 0;   // [W] that warms it
    double share = 1;   // of what the whole part takes
    double stress = 0;  // [1/s] stress_rate
    double rise = 0;    // [K] over the air
    double damage = 0;  // 1: dead
    double over = 0;    // [s] spent over its rating since it last was within
    bool is_over = false;
    double bore = 0, rating = 0;  // what it bears against its rating, in `unit`
    char unit = 0;
    bool cut_out = false;
    bool lasts = false;  // dead already, or spared: nothing more can happen to it
  };

  // Parts that stay keep their heat; those that come, and new specimens, are cold.
  void follow(const Board& board);
  void clear() { bodies_.clear(); }
  // Takes the powers from the readings of that board, fresh from the circuit, and the rise of what has one of its own there.
  void look(const Board& board, const Circuit& circuit, const Readings& readings);
  // Another mean power for the time to come: what was counted is better than what was seen.
  void set_power(size_t body, double watts) { bodies_[body].power = watts * bodies_[body].share; }
  void pass(double seconds);
  // [s] until a part dies, cuts out or comes back, or has become visibly warmer, all powers as they are now; infinite: never.
  double due() const;
  // Temperatures and damage into the readings of that board.
  void show(Readings& readings);
  // Is one of them another than was shown last, as far as one can see?
  bool differs() const;

  std::vector<Body>& bodies() { return bodies_; }
  // Might this one get so warm that its mean power should be known well?
  static bool is_warm(const Body& body);
  static bool is_dead(const Body& body);

 private:
  std::vector<Body> bodies_;
  std::vector<double> shown_;
};

}  // namespace tiepoint
