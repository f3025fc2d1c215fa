// Bending a wire: the selected one shows a grip at its middle, or at each of its bends. Dragged back onto the straight way from end to
// end the bend goes.
#include <cmath>

#include "shell/bench/draw.h"
#include "shell/bench/theme.h"
#include "shell/bench/tool.h"

namespace tiepoint {
namespace {

constexpr double kStraight = 0.5;  // hole steps off the straight way, below which a bend is none

ImVec2 grip_at(Desk& desk, const Part& part, size_t bend) {
  if (bend < part.bends.size()) return desk.camera.screen(part.bends[bend]);
  const std::span<const ImVec2> course = wire_course(desk.paint, desk.camera, part, desk.pose(part));
  return course[course.size() / 2];
}

size_t grip_count(const Part& part) { return std::max<size_t>(part.bends.size(), 1); }

class BendTool : public Tool {
 public:
  BendTool(const Part& part, size_t bend) : shown_(part), bend_(bend) {}

  bool lifts(std::string_view part) const override { return moving_ && part == shown_.name; }

  bool step(Desk& desk) override {
    const Pointer& p = desk.pointer;
    const Part* part = desk.board().find(shown_.name);
    if (!part || bend_ > part->bends.size()) return false;
    moving_ = moving_ || p.moved;
    if (moving_) follow(desk, *part);
    if (!p.released) return p.down;
    if (moving_ && shown_.bends != part->bends) desk.carry_out({RouteWire{shown_.name, shown_.bends}});
    return false;
  }

  void draw_over(Desk& desk) override {
    if (moving_) draw_part(desk.paint, desk.camera, shown_, desk.pose(shown_), {});
  }

 private:
  void follow(Desk& desk, const Part& part) {
    const MatPoint at = desk.camera.mat(desk.pointer.at);
    const MatPoint to = {std::round(2 * at.x) / 2, std::round(2 * at.y) / 2};  // half holes: two wires can be laid alike
    shown_.bends = part.bends;
    if (bend_ == shown_.bends.size())
      shown_.bends.push_back(to);
    else
      shown_.bends[bend_] = to;
    if (straight(bend_ == 0 ? desk.board().mat_of(part.leads[0]) : shown_.bends[bend_ - 1], to,
                 bend_ + 1 == shown_.bends.size() ? desk.board().mat_of(part.leads[1]) : shown_.bends[bend_ + 1]))
      shown_.bends.erase(shown_.bends.begin() + long(bend_));
  }

  // Does the point lie on the way from a to b?
  static bool straight(MatPoint a, MatPoint p, MatPoint b) {
    const double dx = b.x - a.x, dy = b.y - a.y, length = std::hypot(dx, dy);
    if (length == 0) return std::hypot(p.x - a.x, p.y - a.y) < kStraight;
    const double along = ((p.x - a.x) * dx + (p.y - a.y) * dy) / length;
    return along > 0 && along < length && std::abs((p.x - a.x) * dy - (p.y - a.y) * dx) / length < kStraight;
  }

  Part shown_;
  size_t bend_;
  bool moving_ = false;
};

}  // namespace

std::unique_ptr<Tool> bend_tool(Desk& desk, const Part& wire, ImVec2 at, bool touch) {
  const float reach = touch ? 16 : 9;
  for (size_t i = 0; i < grip_count(wire); ++i)
    if (length(grip_at(desk, wire, i) - at) <= reach) return std::make_unique<BendTool>(wire, i);
  return nullptr;
}

void draw_grips(Desk& desk, const Part& wire) {
  for (size_t i = 0; i < grip_count(wire); ++i) {
    const ImVec2 at = grip_at(desk, wire, i), r = {12, 12};
    desk.paint.fill(circle(at, 6), theme::rgb(theme::kWhite));
    desk.paint.stroke(circle(at, 6), 2.2f, theme::rgb(theme::kSelect));
    desk.mark("grip", wire.name, std::to_string(i), {at - r, at + r});
  }
}

}  // namespace tiepoint
