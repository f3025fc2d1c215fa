// Re-seating one lead: the plug of a supply, the end of a wire or of a part's leg. Dragged, or tapped and then put into a hole
// that is tapped.
#include "shell/bench/draw.h"
#include "shell/bench/loupe.h"
#include "shell/bench/theme.h"
#include "shell/bench/tool.h"

namespace tiepoint {
namespace {

class LeadTool : public Tool {
 public:
  LeadTool(const Desk& desk, const Part& part, int lead) : name_(part.name), lead_(lead), since_(desk.now), plug_(part.kind->footprint.seat == Seat::kMat) {}

  bool lifts(std::string_view part) const override { return moving_ && part == name_; }

  bool step(Desk& desk) override {
    const Part* part = desk.board().find(name_);
    const Pointer& p = desk.pointer;
    if (part == nullptr) return false;
    moving_ = moving_ || p.moved || armed_;
    if (!moving_ && !plug_ && long_pressed(desk, since_)) {
      desk.use(select_tool(name_));
      return true;
    }
    if (!moving_) {
      if (!p.released) return p.down;
      if (!plug_) {
        desk.select(desk.selected() == name_ && desk.card_shown ? std::string_view() : std::string_view(name_));
        return false;
      }
      armed_ = true;
      desk.tell("bench.hint.plug", name_, part->kind->leads[size_t(lead_)].name);
      return true;
    }
    const ImVec2 tip = armed_ || !p.touch ? p.at : p.at - ImVec2{0, 40};
    hole_ = p.over || !armed_ ? hole_under(desk, tip, p.touch) : Hole{};
    tip_ = tip;
    plan(desk, *part);
    if (!p.released) return true;
    return finish(desk, *part);
  }

  bool interrupt(Desk&) override { return armed_; }

  bool choose(Desk& desk, Hole hole) override {
    return !desk.carry_out({SeatLead{name_, lead_, hole}});
  }

  void draw_under(Desk& desk) override {
    if (!moving_ || !hole_.valid()) return;
    const uint32_t colour = error_ ? theme::kRefuse : theme::kJoin;
    draw_clip(desk.paint, desk.camera, desk.board(), hole_, theme::rgb(colour, 0.26f), theme::rgb(colour, 0.95f));
  }

  void draw_over(Desk& desk) override {
    const Part* part = desk.board().find(name_);
    if (!moving_ || part == nullptr) return;
    Paint& paint = desk.paint;
    PartLook look{desk.reading_of(*part)};
    if (hole_.valid())
      draw_hole_ring(paint, desk.camera.screen(desk.board().mat_of(hole_)), desk.camera.scale,
                     theme::rgb(error_ ? theme::kRefuse : theme::kJoin));
    draw_part(paint, desk.camera, shown_, pose_, look);
    if (plug_) draw_flying_leads(paint, pose_);
    if (desk.pointer.touch && desk.pointer.down) draw_loupe(desk, tip_, hole_, error_.has_value());
    if (error_)
      draw_note(paint, desk.pointer.at, sentence(phrase("error." + std::string(key(error_->code)), *error_)), theme::kRefuse,
                desk.bench);
  }

 private:
  void plan(Desk& desk, const Part& part) {
    error_.reset();
    shown_ = part;
    pose_ = desk.pose(part);
    ImVec2 tip = tip_;
    const bool seated = hole_.valid();
    if (seated) {
      tip = desk.camera.screen(desk.board().mat_of(hole_));
      if (part.leads[size_t(lead_)] != hole_)
        if (const Status status = check(desk.board(), {SeatLead{name_, lead_, hole_}}); !status) error_ = status.error();
    }
    if (plug_) {
      pose_.lead[lead_] = tip;
      pose_.seated[lead_] = seated;
      return;
    }
    shown_.bends.clear();
    ImVec2 ends[Pose::kMostLeads];
    for (int i = 0; i < pose_.count; ++i) ends[i] = i == lead_ ? tip : pose_.lead[i];
    pose_ = pose_at(part, {ends, size_t(pose_.count)}, desk.camera.scale);
  }

  bool finish(Desk& desk, const Part& part) {
    if (!hole_.valid()) {
      // A plug pulled out and let go of lies on the mat; a wire's end springs back.
      if (plug_ && !armed_ && part.leads[size_t(lead_)].valid()) desk.carry_out({SeatLead{name_, lead_, Hole{}}});
      return false;
    }
    if (part.leads[size_t(lead_)] == hole_) return false;
    const bool done = desk.carry_out({SeatLead{name_, lead_, hole_}});
    return !done && armed_;
  }

  std::string name_;
  int lead_;
  double since_;  // [s]
  bool plug_;
  bool moving_ = false, armed_ = false;
  Hole hole_;
  ImVec2 tip_ = {};
  std::optional<Error> error_;
  Part shown_;
  Pose pose_;
};

}  // namespace

std::unique_ptr<Tool> lead_tool(Desk& desk, const Part& part, int lead) {
  // Of several that are selected none is taken apart: the small ones are all lead.
  if (desk.selection.size() > 1 && desk.selects(part.name) && part.kind->footprint.seat != Seat::kMat) return group_tool(desk, part, false);
  return std::make_unique<LeadTool>(desk, part, lead);
}

}  // namespace tiepoint
