// Dragging a part that stands: its leads keep their span and snap to the nearest holes. A press that does not stray is a click,
// which selects the part or works its switch.
#include <cmath>

#include "shell/bench/draw.h"
#include "shell/bench/tool.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {

class MoveTool : public Tool {
 public:
  MoveTool(Desk& desk, const Part& part, bool works) : name_(part.name), works_(works), since_(desk.now) {
    plan_.part = part;
    turn_ = part.turn;
    for (Hole hole : part.leads)
      start_.push_back(hole.valid() && desk.board().has(hole) ? desk.board().mat_of(hole) : MatPoint{});
    for (Hole hole : part.leads) all_seated_ &= hole.valid();
  }

  bool lifts(std::string_view part) const override { return moving_ && part == name_; }

  void turn(Desk&, int quarters) override { spin_ += quarters; }

  bool step(Desk& desk) override {
    const Part* part = desk.board().find(name_);
    const Pointer& p = desk.pointer;
    if (part == nullptr) return false;
    moving_ = moving_ || (p.moved && (all_seated_ || part->kind->footprint.seat == Seat::kMat));
    if (!moving_ && long_pressed(desk, since_)) {
      desk.use(select_tool(name_));
      return true;
    }
    if (!moving_) {
      if (p.released) click(desk, *part);
      return p.down && !p.released;
    }
    follow(desk, *part);
    if (!p.released) return true;
    drop(desk);
    return false;
  }

  void draw_under(Desk& desk) override {
    if (moving_) draw_plan_under(desk, plan_);
  }
  void draw_over(Desk& desk) override {
    if (moving_) draw_plan_over(desk, plan_);
  }

 private:
  void click(Desk& desk, const Part& part) {
    if (works_)
      desk.work(part);
    else
      desk.select(desk.selected() == name_ && desk.card_shown ? std::string_view() : std::string_view(name_));
  }

  void follow(Desk& desk, const Part& part) {
    const ImVec2 way = desk.pointer.hand() - desk.pointer.down_at;
    const double dx = double(way.x / desk.camera.scale), dy = double(way.y / desk.camera.scale);
    plan_.part = part;
    if (part.kind->footprint.seat == Seat::kMat) {
      plan_on_mat(desk, {part.mat.x + dx, part.mat.y + dy}, plan_);
    } else {
      held_.clear();
      MatPoint middle;
      for (const MatPoint& m : start_)
        middle = {middle.x + m.x / double(start_.size()), middle.y + m.y / double(start_.size())};
      for (const MatPoint& m : start_) {
        double x = m.x - middle.x, y = m.y - middle.y;
        for (int i = 0; i < ((spin_ % 4) + 4) % 4; ++i) {
          const double t = x;
          x = -y, y = t;
        }
        held_.push_back({middle.x + x + dx, middle.y + y + dy});
      }
      plan_.part.turn = ((turn_ + spin_) % 4 + 4) % 4;
      plan_.part.bends.clear();
      plan_seats(desk, held_, plan_);
    }
    check_plan(desk, edit(), plan_);
  }

  Edit edit() const {
    const Part& part = plan_.part;
    return {MovePart{name_, part.leads, part.turn, part.mat}};
  }

  void drop(Desk& desk) {
    if (desk.pointer.at.y >= desk.bench.max.y) {
      // Back into the box.
      desk.carry_out({RemovePart{name_}});
      return;
    }
    if (!plan_.on_board) return desk.tell("bench.drop-on-holes", {}, name_);
    desk.carry_out(edit());
  }

  std::string name_;
  bool works_;
  double since_;  // [s]
  bool moving_ = false;
  bool all_seated_ = true;
  int turn_ = 0, spin_ = 0;
  Plan plan_;
  std::vector<MatPoint> start_, held_;
};

}  // namespace

std::unique_ptr<Tool> move_tool(Desk& desk, const Part& part, bool works) {
  if (desk.selection.size() > 1 && desk.selects(part.name)) return group_tool(desk, part, works);
  return std::make_unique<MoveTool>(desk, part, works);
}

}  // namespace tiepoint
