// Camera: hole steps on the mat to CSS pixels and back. The only place where the two meet.
#pragma once

#include <string>
#include <vector>

#include "engine/board/board.h"
#include "imgui.h"
#include "shell/bench/paint.h"

namespace tiepoint {

struct Camera {
  static constexpr float kLeast = 7, kMost = 96;  // [CSS px per hole step]
  static constexpr float kLeastToFit = 5;         // where a whole bench is to be seen on a telephone
  float scale = 26;                               // [CSS px per hole step]
  ImVec2 origin = {64, 200};                      // where the mat's (0, 0) lies on the canvas [CSS px]
  bool touched = false;                           // the learner has moved it: a new window size no longer fits it anew

  ImVec2 screen(double x, double y) const { return {origin.x + float(x) * scale, origin.y + float(y) * scale}; }
  ImVec2 screen(MatPoint p) const { return screen(p.x, p.y); }
  MatPoint mat(ImVec2 p) const { return {double((p.x - origin.x) / scale), double((p.y - origin.y) / scale)}; }

  // Scales by `factor` while the mat point under `at` stays there.
  void zoom(ImVec2 at, float factor);
  void pan(ImVec2 by);
  // Shows the mat area min..max [hole steps] as large as it goes in `view`.
  void fit(MatPoint min, MatPoint max, const Box& view, float most = 34);
};

// The way of the camera to another place, short enough not to be waited for, long enough for the eye to follow.
class Glide {
 public:
  void begin(const Camera& from, const Camera& to, double now);
  // Moves the camera on; true while it is under way. Ends by itself when someone else has moved the camera meanwhile.
  bool advance(Camera& camera, double now);

 private:
  Camera from_, to_, last_;
  double began_ = -1;
};

// Area of the mat that a bench needs in sight: its boards, what stands on the mat, and room above for a supply.
struct MatArea {
  MatPoint min, max;
};
MatArea board_plate(const Breadboard& breadboard);  // the plastic of one breadboard
MatArea bench_area(const Board& board);
// These parts with a little around them; at least as much as shows what they are joined with.
MatArea parts_area(const Board& board, const std::vector<std::string>& names);
MatArea hole_area(const Board& board, Hole hole);

}  // namespace tiepoint
