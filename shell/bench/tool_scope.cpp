// Dragging what an oscilloscope's screen carries: the level of its trigger, its cursors. The picture follows; one edit is made
// of it when the hand lets go.
#include <algorithm>
#include <cmath>

#include "engine/parts/oscilloscope.h"
#include "shell/bench/draw.h"
#include "shell/bench/draw_scope.h"
#include "shell/bench/theme.h"
#include "shell/bench/tool.h"

namespace tiepoint {
namespace {

namespace v = scope_value;

class ScopeTool : public Tool {
 public:
  ScopeTool(const Part& part, int value) : name_(part.name), value_(value), began_(part.values[size_t(value)]), at_(began_) {}

  bool step(Desk& desk) override {
    const Part* part = desk.board().find(name_);
    const Scope* scope = part ? desk.session.scope(part->id) : nullptr;
    if (scope == nullptr) return false;
    const Pointer& p = desk.pointer;
    ImGui::SetMouseCursor(across() ? ImGuiMouseCursor_ResizeEW : ImGuiMouseCursor_ResizeNS);
    if (p.moved) at_ = value_at(*part, *scope, desk, p.at);
    if (!p.released) return p.down;
    if (p.moved && at_ != part->values[size_t(value_)])
      desk.carry_out({SetValue{name_, std::string(part->kind->values[size_t(value_)].key), at_}});
    return false;
  }

  void draw_over(Desk& desk) override {
    const Part* part = desk.board().find(name_);
    const Scope* scope = part ? desk.session.scope(part->id) : nullptr;
    if (scope == nullptr || !desk.pointer.moved) return;
    const ScopeGrid g = scope_grid(desk.pose(*part), scope->settings());
    const ImU32 colour = theme::rgb(theme::kSelect);
    const ImVec2 mark = mark_of(*scope, g, at_);
    if (across())
      desk.paint.line({mark.x, g.box.min.y}, {mark.x, g.box.max.y}, 1.8f, colour);
    else
      desk.paint.line({g.box.min.x, mark.y}, {g.box.max.x, mark.y}, 1.8f, colour);
    const std::string words = value_ == v::kLevel ? measured_value(at_, "V")
                              : across()
                                  ? measured_value(at_ * scope->settings().time, "s")
                                  : measured_value(scope->settings().voltage(scope->settings().cursor_channel, at_), "V");
    const Box& room = desk.bench;
    ImVec2 pill = desk.pointer.at - ImVec2{0, desk.pointer.touch ? 62.0f : 26.0f};
    pill = {std::clamp(pill.x, room.min.x + 44, room.max.x - 44), std::max(pill.y, room.min.y + 14)};
    draw_pill(desk.paint, pill, words);
  }

 private:
  bool across() const { return value_ == v::kTime1 || value_ == v::kTime2; }

  ImVec2 mark_of(const Scope& scope, const ScopeGrid& g, double value) const {
    if (across()) return {g.x(value), 0};
    return {0, g.y(value_ == v::kLevel ? scope.settings().height(scope.settings().source, value) : value)};
  }

  double value_at(const Part& part, const Scope& scope, const Desk& desk, ImVec2 at) const {
    const ScopeSettings& s = scope.settings();
    const ScopeGrid g = scope_grid(desk.pose(part), s);
    const double right = double((at.x - g.box.centre().x) / g.box.size().x) * kSquaresAcross;
    const double up = double((g.box.centre().y - at.y) / g.box.size().y) * kSquaresUp;
    // Tenths of a square for a cursor, twentieths of one for the trigger.
    double value = std::round((across() ? right : up) * 10) / 10;
    if (value_ == v::kLevel) {
      const double step = s.channel[size_t(s.source)].volts / 20;
      value = std::round(s.voltage(s.source, up) / step) * step;
    }
    const ValueSpec& spec = part.kind->values[size_t(value_)];
    return std::clamp(value, spec.minimum, spec.maximum);
  }

  std::string name_;
  int value_;
  double began_, at_;
};

}  // namespace

std::unique_ptr<Tool> scope_tool(Desk& desk, const Part& part, ImVec2 at, bool touch) {
  const Scope* scope = desk.session.scope(part.id);
  if (scope == nullptr) return nullptr;
  const ScopeSettings& s = scope->settings();
  const ScopeGrid g = scope_grid(desk.pose(part), s);
  const float slack = touch ? 14 : 5;
  if (!g.box.grown(slack).contains(at)) return nullptr;
  int value = -1;
  float least = slack;
  const auto offer = [&](int which, float away) {
    if (away < least) least = away, value = which;
  };
  if (s.time_cursors)
    offer(v::kTime1, std::fabs(at.x - g.x(s.time_cursor[0]))), offer(v::kTime2, std::fabs(at.x - g.x(s.time_cursor[1])));
  if (s.level_cursors)
    offer(v::kLevel1, std::fabs(at.y - g.y(s.level_cursor[0]))), offer(v::kLevel2, std::fabs(at.y - g.y(s.level_cursor[1])));
  // The trigger by its mark at the right edge.
  const float mark = std::clamp(g.y(s.height(s.source, s.level)), g.box.min.y, g.box.max.y);
  if (!s.chart && at.x > g.box.max.x - 2 * slack) offer(v::kLevel, std::fabs(at.y - mark));
  return value < 0 ? nullptr : std::make_unique<ScopeTool>(part, value);
}

}  // namespace tiepoint
