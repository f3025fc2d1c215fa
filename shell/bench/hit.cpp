// What lies under a point of the canvas. The topmost thing wins, in the reverse order of drawing.
#include <algorithm>
#include <array>
#include <cmath>

#include "shell/bench/draw.h"
#include "shell/bench/tool.h"

namespace tiepoint {
namespace {

float distance_to(std::span<const ImVec2> course, ImVec2 p) {
  float best = 1e9f;
  for (size_t i = 0; i + 1 < course.size(); ++i) {
    const ImVec2 d = course[i + 1] - course[i];
    const float t = std::clamp(dot(p - course[i], d) / std::max(dot(d, d), 1e-6f), 0.0f, 1.0f);
    best = std::min(best, length(p - lerp(course[i], course[i + 1], t)));
  }
  return best;
}

// A finger covers about 9 mm; the mouse is exact.
float slack_of(bool touch) { return touch ? 11.0f : 2.5f; }

bool on_plate(const Desk& desk, ImVec2 at) {
  for (const Breadboard& b : desk.board().breadboards) {
    const MatArea plate = board_plate(b);
    if (Box{desk.camera.screen(plate.min), desk.camera.screen(plate.max)}.contains(at)) return true;
  }
  return false;
}

}  // namespace

Hole nearest_hole(const Board& board, MatPoint at, double reach) {
  Hole best;
  double least = reach * reach;
  const int x = int(std::floor(at.x)), y = int(std::floor(at.y)), around = int(std::ceil(reach));
  for (int dy = -around; dy <= around + 1; ++dy)
    for (int dx = -around; dx <= around + 1; ++dx) {
      const Hole hole = board.hole_at({x + dx, y + dy});
      if (!hole.valid()) continue;
      const double ex = x + dx - at.x, ey = y + dy - at.y, d = ex * ex + ey * ey;
      if (d <= least) least = d, best = hole;
    }
  return best;
}

Hole hole_under(const Desk& desk, ImVec2 at, bool touch) {
  // Within half a step the mouse means this hole; a finger also when it only comes near.
  const double reach = touch ? std::max(0.75, 13.0 / double(desk.camera.scale)) : 0.56;
  return nearest_hole(desk.board(), desk.camera.mat(at), std::min(reach, 1.6));
}

Hit hit_test(Desk& desk, ImVec2 at, bool touch) {
  const Board& board = desk.board();
  const float slack = slack_of(touch), s = desk.camera.scale;
  const auto layer_hit = [&](Layer layer) -> Hit {
    for (int i = int(board.parts.size()) - 1; i >= 0; --i) {
      const Part& part = board.parts[size_t(i)];
      if (layer_of(part) != layer) continue;
      const Pose pose = desk.pose(part);
      const Box control = control_of(part, pose);
      if (control.size().x > 0 && control.grown(touch ? 6.0f : 1.0f).contains(at)) return {Spot::kHandle, i, -1, {}};
      if (layer == Layer::kWire) {
        if (distance_to(wire_course(desk.paint, desk.camera, part, pose), at) <= 0.16f * s + slack)
          return {Spot::kBody, i, -1, {}};
      } else if (pose.in_body(at, slack)) {
        return {Spot::kBody, i, -1, {}};
      }
    }
    return {};
  };
  // Ends of leads come first: a plug or a wire's end lies on its hole, and is small.
  const float near = std::max(0.36f * s, touch ? 14.0f : 5.0f);
  Hit end;
  float least = near;
  for (int i = int(board.parts.size()) - 1; i >= 0; --i) {
    const Part& part = board.parts[size_t(i)];
    if (part.kind->footprint.seat == Seat::kRigid) continue;
    const Pose pose = desk.pose(part);
    for (int lead = 0; lead < pose.count; ++lead) {
      // A plug lying on the mat is held by its sleeve.
      const bool plug = part.kind->footprint.seat == Seat::kMat && !pose.seated[lead];
      const float d = plug ? distance_to(std::array{pose.lead[lead], pose.lead[lead] - ImVec2{0.95f * s, 0}}, at)
                           : length(pose.lead[lead] - at);
      if (d < least) least = d, end = {Spot::kLead, i, lead, {}};
    }
  }
  const Hit standing = layer_hit(Layer::kStanding), wire = layer_hit(Layer::kWire);
  // The body of a standing part hides other leads' ends behind it, not those of its own.
  if (end.part >= 0 &&
      (standing.part < 0 || standing.part == end.part || layer_of(board.parts[size_t(end.part)]) == Layer::kMat))
    return end;
  if (wire.part >= 0) return wire;
  if (standing.part >= 0) return standing;
  if (const Hit flat = layer_hit(Layer::kFlat); flat.part >= 0) return flat;
  if (const Hit mat = layer_hit(Layer::kMat); mat.part >= 0) return mat;
  for (int i = int(board.parts.size()) - 1; i >= 0; --i) {
    const Part& part = board.parts[size_t(i)];
    const Pose pose = desk.pose(part);
    // Bare legs, and the cables of supplies: all of the part can be taken.
    for (int lead = 0; lead < pose.count; ++lead) {
      const bool cable = part.kind->footprint.seat == Seat::kMat;
      const float d = cable ? distance_to(flying_course(desk.paint, pose, lead), at)
                            : distance_to(std::array{pose.root[lead], pose.lead[lead]}, at);
      if (d <= 0.12f * s + slack * 0.6f) return {Spot::kBody, i, -1, {}};
    }
  }
  if (const Hole hole = hole_under(desk, at, touch); hole.valid()) return {Spot::kHole, -1, -1, hole};
  return {on_plate(desk, at) ? Spot::kPlastic : Spot::kNothing, -1, -1, {}};
}

}  // namespace tiepoint
