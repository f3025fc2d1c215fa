// Selecting several: a click with Shift, or a finger that rests, takes a part in or out; drawn over the bench it is a box that takes in
// all that lies whole inside it.
#include <algorithm>

#include "shell/bench/draw.h"
#include "shell/bench/theme.h"
#include "shell/bench/tool.h"

namespace tiepoint {
namespace {

constexpr double kLongPress = 0.5;  // [s]

bool inside(const Box& box, ImVec2 p) { return p.x >= box.min.x && p.x <= box.max.x && p.y >= box.min.y && p.y <= box.max.y; }

// Body, leads and the course of a wire. What lies on the mat is its body: its cables reach far over the boards.
bool lies_inside(Desk& desk, const Part& part, const Box& box) {
  const Pose pose = desk.pose(part);
  if (pose.half.x > 0 && !(inside(box, pose.bounds().min) && inside(box, pose.bounds().max))) return false;
  if (part.kind->footprint.seat == Seat::kMat) return true;
  for (int i = 0; i < pose.count; ++i)
    if (!inside(box, pose.lead[i])) return false;
  if (pose.half.x > 0) return true;
  const std::span<const ImVec2> course = wire_course(desk.paint, desk.camera, part, pose);
  return std::all_of(course.begin(), course.end(), [&](ImVec2 p) { return inside(box, p); });
}

class SelectTool : public Tool {
 public:
  explicit SelectTool(std::string_view part) : part_(part) {}

  bool step(Desk& desk) override {
    const Pointer& p = desk.pointer;
    if (!began_ && p.touch && !part_.empty()) {
      // The finger that rested has said all there is to say.
      desk.toggle(part_);
      done_ = true;
    }
    began_ = true;
    if (!done_) follow(desk);
    if (!p.released) return p.down;
    if (!done_) finish(desk);
    return false;
  }

  // Under the parts, as the outline of what is selected: a wire stays in sight.
  void draw_under(Desk& desk) override {
    for (const std::string& name : within_)
      if (const Part* part = desk.board().find(name))
        draw_outline(desk.paint, desk.camera, *part, desk.pose(*part), theme::rgb(theme::kSelect), 2.2f);
  }

  void draw_over(Desk& desk) override {
    if (done_) return;
    Paint& paint = desk.paint;
    if (drawn_) {
      paint.fill(rounded(box_, 4), theme::rgb(theme::kSelect, 0.14f));
      paint.stroke(rounded(box_, 4), 1.6f, theme::rgb(theme::kSelect, 0.95f));
    } else if (desk.pointer.touch) {
      // The finger may draw now.
      const ImVec2 r = {34, 34};
      paint.stroke(rounded({desk.pointer.at - r, desk.pointer.at + r}, 8), 2.2f, theme::rgb(theme::kSelect, 0.95f));
    }
  }

 private:
  void follow(Desk& desk) {
    const Pointer& p = desk.pointer;
    drawn_ = drawn_ || p.moved;
    within_.clear();
    if (!drawn_) return;
    box_ = {{std::min(p.down_at.x, p.at.x), std::min(p.down_at.y, p.at.y)}, {std::max(p.down_at.x, p.at.x), std::max(p.down_at.y, p.at.y)}};
    for (const Part& part : desk.board().parts)
      if (lies_inside(desk, part, box_)) within_.push_back(part.name);
  }

  void finish(Desk& desk) {
    if (!drawn_) {
      if (!part_.empty()) desk.toggle(part_);
      return;
    }
    std::vector<std::string> all = desk.selection;
    for (const std::string& name : within_)
      if (!desk.selects(name)) all.push_back(name);
    const bool several = all.size() > 1;
    desk.select_these(std::move(all), several);
  }

  std::string part_;  // under the press, "" for none
  bool began_ = false, drawn_ = false, done_ = false;
  Box box_;
  std::vector<std::string> within_;
};

}  // namespace

bool long_pressed(Desk& desk, double from) {
  const Pointer& p = desk.pointer;
  if (!p.touch || !p.down || p.moved || p.released) return false;
  const double left = from + kLongPress - desk.now;
  if (left > 0) desk.wake_in(left);
  return left <= 0;
}

std::unique_ptr<Tool> select_tool(std::string_view part) { return std::make_unique<SelectTool>(part); }

}  // namespace tiepoint
