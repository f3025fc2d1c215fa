#include "shell/bench/camera.h"

#include <algorithm>

#include "shell/bench/pose.h"

namespace tiepoint {

void Camera::zoom(ImVec2 at, float factor) {
  const float wanted = std::clamp(scale * factor, std::min(kLeast, scale), kMost);
  factor = wanted / scale;
  origin = at + (origin - at) * factor;
  scale = wanted;
  touched = true;
}

void Camera::pan(ImVec2 by) {
  origin = origin + by;
  touched = true;
}

void Camera::fit(MatPoint min, MatPoint max, const Box& view, float most) {
  const float w = float(max.x - min.x), h = float(max.y - min.y);
  const ImVec2 room = view.size();
  scale = std::clamp(std::min(room.x / w, room.y / h), kLeastToFit, most);
  const ImVec2 centre = view.centre();
  origin = {centre.x - scale * float(min.x + max.x) / 2, centre.y - scale * float(min.y + max.y) / 2};
  // Where even that is too large, the instruments at the top stay in sight.
  if (h * scale > room.y) origin.y = view.min.y - scale * float(min.y);
  // Whole pixels keep the fine grid and the lettering sharp.
  origin = {float(int(origin.x)), float(int(origin.y))};
  touched = false;
}

void Glide::begin(const Camera& from, const Camera& to, double now) {
  from_ = last_ = from;
  to_ = to;
  began_ = now;
}

bool Glide::advance(Camera& camera, double now) {
  constexpr double kTime = 0.2;  // [s]
  if (began_ < 0) return false;
  const bool moved = camera.scale != last_.scale || camera.origin.x != last_.origin.x || camera.origin.y != last_.origin.y;
  if (moved) {
    began_ = -1;
    return false;
  }
  const float t = float(std::clamp((now - began_) / kTime, 0.0, 1.0)), eased = t * t * (3 - 2 * t);
  if (t >= 1) {
    camera = to_;
    began_ = -1;
    return false;
  }
  camera.scale = from_.scale + (to_.scale - from_.scale) * eased;
  camera.origin = from_.origin + (to_.origin - from_.origin) * eased;
  last_ = camera;
  return true;
}

MatArea board_plate(const Breadboard& b) {
  const Layout& l = layout(b.layout);
  const bool rails = l.rail_holes > 0;
  const double side = 1.75, top = rails ? 4.05 : 1.5, bottom = rails ? 15.05 : 12.5;
  return {{b.origin.x - side, b.origin.y - top}, {b.origin.x + l.columns - 1 + side, b.origin.y + bottom}};
}

MatArea bench_area(const Board& board) {
  MatArea a = board_plate(board.breadboards.front());
  const auto take = [&](const MatArea& o) {
    a.min = {std::min(a.min.x, o.min.x), std::min(a.min.y, o.min.y)};
    a.max = {std::max(a.max.x, o.max.x), std::max(a.max.y, o.max.y)};
  };
  for (const Breadboard& b : board.breadboards) take(board_plate(b));
  a.min.y -= kSupplyRoom;
  for (const Part& part : board.parts) {
    if (part.kind->footprint.seat != Seat::kMat) continue;
    const ImVec2 half = mat_half(part);
    const bool probes = type_of(part).body == Body::kOscilloscope && std::any_of(part.leads.begin(), part.leads.end(), [](Hole h) { return !h.valid(); });
    if (probes) take({{part.mat.x, part.mat.y}, {part.mat.x + half.x + kProbesBeside + 0.3, part.mat.y}});
    take({{part.mat.x - half.x - 0.3, part.mat.y - half.y - 0.4}, {part.mat.x + half.x + 0.3, part.mat.y + half.y + 0.4}});
  }
  return a;
}

namespace {

constexpr double kAround = 3.5;       // kept in sight around what is looked at [hole steps]
constexpr double kHalfOfHole = 4.5;

void take_in(MatArea& area, MatPoint p, double x, double y) {
  area.min = {std::min(area.min.x, p.x - x), std::min(area.min.y, p.y - y)};
  area.max = {std::max(area.max.x, p.x + x), std::max(area.max.y, p.y + y)};
}

}  // namespace

MatArea parts_area(const Board& board, const std::vector<std::string>& names) {
  MatArea a{{1e9, 1e9}, {-1e9, -1e9}};
  for (const std::string& name : names) {
    const Part* part = board.find(name);
    if (!part) continue;
    for (const Hole hole : part->leads)
      if (board.has(hole)) take_in(a, board.mat_of(hole), kAround, kAround);
    if (part->kind->footprint.seat != Seat::kMat) continue;
    const ImVec2 half = mat_half(*part);
    take_in(a, part->mat, half.x + 1, half.y + 1);
  }
  return a.min.x > a.max.x ? bench_area(board) : a;
}

MatArea hole_area(const Board& board, Hole hole) {
  MatArea a{{1e9, 1e9}, {-1e9, -1e9}};
  take_in(a, board.mat_of(hole), kHalfOfHole, kHalfOfHole);
  return a;
}

}  // namespace tiepoint
