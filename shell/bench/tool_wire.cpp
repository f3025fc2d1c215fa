// Drawing a jumper wire by dragging from an empty hole to another.
#include "shell/bench/draw.h"
#include "shell/bench/loupe.h"
#include "shell/bench/theme.h"
#include "shell/bench/tool.h"

namespace tiepoint {
namespace {

class WireTool : public Tool {
 public:
  WireTool(const PartType& type, Hole from, double now) : from_(from), since_(now) { plan_.part = make_part(type); }

  const PartType* kind() const override { return drawing_ ? &type_of(plan_.part) : nullptr; }

  bool step(Desk& desk) override {
    const Pointer& p = desk.pointer;
    if (!desk.board().has(from_)) return false;
    drawing_ = drawing_ || p.moved;
    if (!drawing_ && long_pressed(desk, since_)) {
      desk.use(select_tool({}));  // a finger that rests draws a box, over holes as over the mat
      return true;
    }
    const Hole to = hole_under(desk, p.at, p.touch);
    plan(desk, to);
    if (!p.released) return p.down;
    if (drawing_ && to.valid() && to != from_) {
      desk.carry_out({PlacePart{plan_.part}});
    } else if (!drawing_) {
      // A click on an empty hole: nothing is selected, the keyboard goes on from here.
      desk.select({});
      desk.cursor = from_;
    }
    return false;
  }

  void draw_under(Desk& desk) override {
    if (!drawing_) return;
    draw_clip(desk.paint, desk.camera, desk.board(), from_, theme::rgb(theme::kJoin, 0.26f), theme::rgb(theme::kJoin, 0.95f));
    draw_plan_under(desk, plan_);
  }

  void draw_over(Desk& desk) override {
    if (!drawing_) return;
    draw_plan_over(desk, plan_);
    if (desk.pointer.touch) draw_loupe(desk, desk.pointer.at, plan_.on_board ? plan_.part.leads[1] : Hole{}, plan_.error.has_value());
  }

 private:
  void plan(Desk& desk, Hole to) {
    plan_.on_board = to.valid() && to != from_;
    plan_.error.reset();
    plan_.part.leads = {from_, plan_.on_board ? to : Hole{}};
    const int colour = value_index(*plan_.part.kind, "colour");
    if (colour >= 0) plan_.part.values[size_t(colour)] = next_wire_colour(desk.board(), from_, plan_.on_board ? to : Hole{});
    if (plan_.on_board) {
      plan_.pose = pose_of(desk.camera, desk.board(), plan_.part);
      check_plan(desk, {PlacePart{plan_.part}}, plan_);
    } else {
      const ImVec2 ends[] = {desk.camera.screen(desk.board().mat_of(from_)), desk.pointer.at};
      plan_.pose = pose_at(plan_.part, ends, desk.camera.scale);
    }
  }

  Hole from_;
  double since_;  // [s]
  bool drawing_ = false;
  Plan plan_;
};

}  // namespace

std::unique_ptr<Tool> wire_tool(Desk& desk, Hole from) {
  const PartKind* kind = catalogue().find("jumper-wire");
  return kind ? std::make_unique<WireTool>(static_cast<const PartType&>(*kind), from, desk.now) : nullptr;
}

}  // namespace tiepoint
