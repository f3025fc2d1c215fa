// Placing a part from the box: dragged onto the holes, or tapped and then seated hole by hole.
#include <algorithm>
#include <cmath>

#include "shell/bench/draw.h"
#include "shell/bench/theme.h"
#include "shell/bench/tool.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {

class PlaceTool : public Tool {
 public:
  PlaceTool(const PartType& type, bool dragging, std::span<const double> values)
      : type_(type), dragging_(dragging), span_(usual_span(type)) {
    plan_.part = make_part(type);
    if (values.size() == plan_.part.values.size()) {
      keeps_values_ = !std::equal(values.begin(), values.end(), plan_.part.values.begin());
      plan_.part.values.assign(values.begin(), values.end());
    }
  }

  const PartType* kind() const override { return &type_; }

  void turn(Desk&, int quarters) override {
    turn_ = ((turn_ + quarters) % 4 + 4) % 4;
    if (type_.footprint.seat == Seat::kRigid) plan_.part.turn = turn_;
  }

  bool step(Desk& desk) override {
    shown_ = true;
    return dragging_ ? drag(desk) : type_.footprint.seat == Seat::kFlexible ? tap_two(desk) : tap_one(desk);
  }

  bool choose(Desk& desk, Hole hole) override {
    dragging_ = false;
    if (type_.footprint.seat != Seat::kFlexible) return seat(desk, hole);
    if (first_.valid()) return second(desk, hole);
    first(desk, hole);
    return true;
  }

  bool interrupt(Desk&) override {
    if (fresh_) first_ = {}, fresh_ = false;
    return !dragging_;
  }

  void draw_under(Desk& desk) override {
    if (shown_) draw_plan_under(desk, plan_);
    if (first_.valid() && desk.board().has(first_))
      draw_clip(desk.paint, desk.camera, desk.board(), first_, theme::rgb(theme::kJoin, 0.26f),
                theme::rgb(theme::kJoin, 0.95f));
  }

  void draw_over(Desk& desk) override {
    if (first_.valid() && desk.board().has(first_))
      draw_hole_ring(desk.paint, desk.camera.screen(desk.board().mat_of(first_)), desk.camera.scale, theme::rgb(theme::kJoin));
    if (shown_) draw_plan_over(desk, plan_);
  }

 private:
  Part candidate(Desk& desk) const {
    Part part = plan_.part;
    if (type_.body == Body::kWire && !keeps_values_) {
      const int colour = value_index(type_, "colour");
      if (colour >= 0)
        part.values[size_t(colour)] =
            next_wire_colour(desk.board(), part.leads[0], part.leads.size() > 1 ? part.leads[1] : Hole{});
    }
    return part;
  }

  void plan_about(Desk& desk, ImVec2 hand) {
    const MatPoint at = desk.camera.mat(hand);
    if (type_.footprint.seat == Seat::kMat) return plan_on_mat(desk, at, plan_);
    lead_offsets(type_, turn_, span_, held_);
    for (MatPoint& p : held_) p = {p.x + at.x, p.y + at.y};
    plan_seats(desk, held_, plan_);
    plan_.part = candidate(desk);
    check_plan(desk, {PlacePart{plan_.part}}, plan_);
  }

  // True with the part on the board; else the reason why not has been told.
  bool put(Desk& desk) {
    const Result<Applied> done = desk.act({PlacePart{candidate(desk)}});
    if (done) desk.select(done->part, false);  // no card in the way of the next part
    return done.ok();
  }

  bool drag(Desk& desk) {
    const Pointer& p = desk.pointer;
    const ImVec2 hand = p.hand();
    const bool over = desk.bench.contains(p.at) && desk.bench.contains(hand);
    plan_about(desk, hand);
    shown_ = p.moved;
    if (!p.released) return true;
    if (!over) return false;
    if (!plan_.on_board) {
      desk.tell("bench.drop-on-holes", {}, say("kind." + std::string(type_.key)));
      return false;
    }
    put(desk);
    return false;
  }

  // Rigid and mat parts: one tap. Lead 0 goes into the hole that is tapped.
  bool tap_one(Desk& desk) {
    const Pointer& p = desk.pointer;
    shown_ = p.over;
    if (!p.over) return true;
    if (type_.footprint.seat == Seat::kMat) {
      plan_on_mat(desk, desk.camera.mat(p.at), plan_);
    } else {
      const Hole hole = hole_under(desk, p.at, p.touch);
      plan_from(desk, hole.valid() ? desk.board().mat_of(hole) : desk.camera.mat(p.at));
    }
    if (!p.released) return true;
    if (!plan_.on_board) return true;
    return !put(desk);
  }

  // A rigid part held by its lead 0.
  void plan_from(Desk& desk, MatPoint anchor) {
    lead_offsets(type_, turn_, span_, held_);
    const MatPoint lead0 = held_[0];
    for (MatPoint& q : held_) q = {q.x - lead0.x + anchor.x, q.y - lead0.y + anchor.y};
    plan_seats(desk, held_, plan_);
    check_plan(desk, {PlacePart{plan_.part}}, plan_);
  }

  bool seat(Desk& desk, Hole hole) {
    if (type_.footprint.seat == Seat::kMat)
      plan_on_mat(desk, desk.board().mat_of(hole), plan_);
    else
      plan_from(desk, desk.board().mat_of(hole));
    if (type_.footprint.seat == Seat::kRigid && !plan_.on_board) {
      // Say why, from the engine's own check.
      plan_.part.leads.assign(type_.leads.size(), Hole{});
      plan_.part.leads[0] = hole;
    }
    return !put(desk);
  }

  // Two leads: the first tap seats lead 1, the second lead 2; pressing on one hole and letting go over another does both.
  bool tap_two(Desk& desk) {
    const Pointer& p = desk.pointer;
    const Hole hole = p.over ? hole_under(desk, p.at, p.touch) : Hole{};
    shown_ = p.over && (!p.touch || p.down);
    if (p.pressed && hole.valid() && !first_.valid()) {
      first(desk, hole);
      fresh_ = true;
    }
    if (shown_) preview(desk, hole);
    if (!p.released || !first_.valid()) return true;
    const bool was_fresh = fresh_;
    fresh_ = false;
    if (!hole.valid()) return true;
    return hole == first_ && was_fresh ? true : second(desk, hole);
  }

  void first(Desk& desk, Hole hole) {
    first_ = hole;
    desk.tell("bench.hint.second", {}, say("kind." + std::string(type_.key)), desk.board().name_of(hole));
  }

  // True while the part stays in the hand.
  bool second(Desk& desk, Hole hole) {
    if (hole == first_) {  // takes the lead out again
      first_ = {};
      desk.tell("bench.hint.first", {}, say("kind." + std::string(type_.key)));
      return true;
    }
    plan_.part.leads = {first_, hole};
    plan_.part = candidate(desk);
    if (const Status fits = check(desk.board(), {PlacePart{plan_.part}}); !fits) {
      desk.refuse(fits.error());
      return true;  // the first lead stays: another hole may do
    }
    return !put(desk);
  }

  void preview(Desk& desk, Hole hole) {
    const MatPoint at = desk.camera.mat(desk.pointer.at);
    if (first_.valid()) {
      plan_.part.leads = {first_, hole};
      plan_.on_board = hole.valid() && hole != first_;
      if (plan_.on_board) {
        plan_.part = candidate(desk);
        plan_.pose = pose_of(desk.camera, desk.board(), plan_.part);
        return check_plan(desk, {PlacePart{plan_.part}}, plan_);
      }
      plan_.error.reset();
      const ImVec2 ends[] = {desk.camera.screen(desk.board().mat_of(first_)), desk.camera.screen(at)};
      plan_.part.leads = {first_, Hole{}};
      plan_.pose = pose_at(plan_.part, ends, desk.camera.scale);
      return;
    }
    lead_offsets(type_, turn_, span_, held_);
    const MatPoint lead0 = held_[0], from = hole.valid() ? desk.board().mat_of(hole) : at;
    for (MatPoint& q : held_) q = {q.x - lead0.x + from.x, q.y - lead0.y + from.y};
    plan_seats(desk, held_, plan_);
    // Only a hint of what it will be: no complaint before a hole was chosen.
    plan_.error.reset();
    if (plan_.on_board) plan_.part = candidate(desk);
  }

  const PartType& type_;
  bool dragging_;
  bool shown_ = false;
  bool keeps_values_ = false;  // somebody chose them
  bool fresh_ = false;  // the first lead was seated by the press still held
  int turn_ = 0;
  double span_;
  Hole first_;
  Plan plan_;
  std::vector<MatPoint> held_;
};

}  // namespace

std::unique_ptr<Tool> place_tool(const PartType& type, bool dragging, std::span<const double> values) {
  return std::make_unique<PlaceTool>(type, dragging, values);
}

}  // namespace tiepoint
