// Dragging several selected parts: all keep their places to each other and move by whole hole steps. A press that does not stray selects
// the one part, or works its switch.
#include <cmath>

#include "shell/bench/draw.h"
#include "shell/bench/several.h"
#include "shell/bench/theme.h"
#include "shell/bench/tool.h"

namespace tiepoint {
namespace {

class GroupTool : public Tool {
 public:
  GroupTool(const Desk& desk, const Part& part, bool works) : name_(part.name), works_(works), since_(desk.now), names_(desk.selection) {}

  bool lifts(std::string_view part) const override { return moving_ && std::find(names_.begin(), names_.end(), part) != names_.end(); }

  bool step(Desk& desk) override {
    const Pointer& p = desk.pointer;
    if (!moving_ && long_pressed(desk, since_)) {
      desk.use(select_tool(name_));
      return true;
    }
    moving_ = moving_ || p.moved;
    if (!moving_) {
      if (p.released) click(desk);
      return p.down && !p.released;
    }
    follow(desk);
    if (!p.released) return true;
    drop(desk);
    return false;
  }

  void draw_under(Desk& desk) override {
    if (moving_)
      for (const Plan& plan : plans_) draw_plan_under(desk, plan);
  }

  void draw_over(Desk& desk) override {
    if (!moving_) return;
    for (const Plan& plan : plans_) draw_plan_over(desk, plan);
    if (error_)
      draw_note(desk.paint, desk.pointer.at, sentence(phrase("error." + std::string(key(error_->code)), *error_)), theme::kRefuse,
                desk.bench);
  }

 private:
  void click(Desk& desk) {
    const Part* part = desk.board().find(name_);
    if (!part) return;
    works_ ? desk.work(*part) : desk.select(name_);
  }

  void follow(Desk& desk) {
    const ImVec2 way = desk.pointer.at - desk.pointer.down_at;
    const int dx = int(std::lround(way.x / desk.camera.scale)), dy = int(std::lround(way.y / desk.camera.scale));
    if (edit_ && dx == dx_ && dy == dy_ && !error_) return;
    dx_ = dx, dy_ = dy;
    error_.reset();
    edit_.reset();
    Board after = desk.board();
    if (dx != 0 || dy != 0) {
      const Result<Edit> edit = shift_parts(desk.board(), names_, dx, dy);
      if (edit && apply(after, *edit))
        edit_ = *edit;
      else if (!edit)
        error_ = edit.error();
    }
    plans_.clear();
    for (const std::string& name : names_)
      if (const Part* part = after.find(name)) plans_.push_back(error_ ? adrift(desk, *part, way) : standing(desk, *part));
  }

  static Plan standing(const Desk& desk, const Part& part) {
    Plan plan{part};
    plan.on_board = true;
    plan.pose = desk.pose(part);
    return plan;
  }

  // There is no place for all of them: they follow the hand.
  static Plan adrift(const Desk& desk, const Part& part, ImVec2 way) {
    Plan plan{part};
    const Pose at = desk.pose(part);
    const MatPoint step = {double(way.x / desk.camera.scale), double(way.y / desk.camera.scale)};
    for (MatPoint& bend : plan.part.bends) bend = {bend.x + step.x, bend.y + step.y};
    if (part.kind->footprint.seat == Seat::kMat) {
      plan.part.mat = {part.mat.x + step.x, part.mat.y + step.y};
      plan.pose = desk.pose(plan.part);
      return plan;
    }
    ImVec2 leads[Pose::kMostLeads];
    for (int i = 0; i < at.count; ++i) leads[i] = at.lead[i] + way;
    plan.pose = pose_at(part, {leads, size_t(at.count)}, desk.camera.scale);
    plan.part.leads.assign(part.leads.size(), Hole{});
    return plan;
  }

  void drop(Desk& desk) {
    if (desk.pointer.at.y >= desk.bench.max.y) return void(desk.carry_out(remove_parts(names_)));  // back into the box
    if (error_) return desk.refuse(*error_);
    if (edit_) desk.carry_out(*edit_);
  }

  std::string name_;  // under the press
  bool works_;
  double since_;  // [s]
  std::vector<std::string> names_;
  bool moving_ = false;
  int dx_ = 0, dy_ = 0;
  std::optional<Edit> edit_;
  std::optional<Error> error_;
  std::vector<Plan> plans_;
};

}  // namespace

std::unique_ptr<Tool> group_tool(Desk& desk, const Part& part, bool works) {
  return std::make_unique<GroupTool>(desk, part, works);
}

}  // namespace tiepoint
