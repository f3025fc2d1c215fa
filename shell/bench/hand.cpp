// The plain hand: what is under the pointer, and which gesture a press begins.
#include "shell/bench/draw_meter.h"
#include "shell/bench/draw_scope.h"
#include "shell/bench/tool.h"

namespace tiepoint {
namespace {

// A button of its front; between them one takes the whole case.
void press_scope(Desk& desk, const Part& part, ImVec2 at) {
  const Scope* scope = desk.session.scope(part.id);
  ScopeButton buttons[kMostScopeButtons];
  const int n = scope_buttons(part, desk.pose(part), buttons);
  const float slack = desk.pointer.touch ? 0.09f * desk.camera.scale : 0;
  for (int i = 0; i < n && scope; ++i) {
    if (!buttons[i].box.grown(slack).contains(at)) continue;
    const auto edit = scope_edit(part, *scope, buttons[i]);
    if (edit) desk.carry_out(*edit);
    else if (!buttons[i].knob && buttons[i].action == ScopeSwitch::kFit) desk.tell("bench.scope.fit.nothing", part.name);
    return;
  }
  desk.use(move_tool(desk, part, false));
}

}  // namespace

void plain_hand(Desk& desk) {
  const Pointer& p = desk.pointer;
  desk.hovered.clear();
  if (!p.over) return;
  const Hit hit = hit_test(desk, p.at, p.touch);
  const Board& board = desk.board();
  const Part* part = hit.part >= 0 ? &board.parts[size_t(hit.part)] : nullptr;
  if (part) desk.hovered = part->name;
  switch (hit.spot) {
    case Spot::kHandle: ImGui::SetMouseCursor(ImGuiMouseCursor_Hand); break;
    case Spot::kLead:
    case Spot::kBody: ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeAll); break;
    default: break;
  }
  if (!p.pressed) return;
  desk.cursor_shown = false;
  if (ImGui::GetIO().KeyShift) {
    const PartId in = part ? part->id : board.lead_in(hit.hole).part ? board.lead_in(hit.hole).part : board.body_over(hit.hole);
    const Part* meant = board.find(in);
    return desk.use(select_tool(meant ? std::string_view(meant->name) : std::string_view()));
  }
  if (const Part* wire = desk.selected_wire())
    if (std::unique_ptr<Tool> bend = bend_tool(desk, *wire, p.at, p.touch)) return desk.use(std::move(bend));
  switch (hit.spot) {
    case Spot::kHandle:
      if (has_momentary(*part)) desk.use(press_tool(desk, *part));
      else if (type_of(*part).body == Body::kOscilloscope) press_scope(desk, *part, p.at);
      else if (const auto edit = type_of(*part).body == Body::kMeter ? meter_edit(*part, desk.pose(*part), desk.reading_of(*part), p.at) : std::nullopt) desk.carry_out(*edit);
      else desk.use(move_tool(desk, *part, true));
      break;
    case Spot::kLead: desk.use(lead_tool(desk, *part, hit.lead)); break;
    case Spot::kBody:
      if (std::unique_ptr<Tool> mark = type_of(*part).body == Body::kOscilloscope ? scope_tool(desk, *part, p.at, p.touch) : nullptr) desk.use(std::move(mark));
      else desk.use(move_tool(desk, *part, false));
      break;
    case Spot::kHole:
      if (const auto seated = board.lead_in(hit.hole); seated.part) {
        // A leg of a rigid part: its body is what one takes.
        if (const Part* owner = board.find(seated.part)) desk.use(move_tool(desk, *owner, false));
      } else if (const PartId over = board.body_over(hit.hole)) {
        if (const Part* owner = board.find(over)) desk.use(move_tool(desk, *owner, false));
      } else {
        desk.use(wire_tool(desk, hit.hole));
      }
      break;
    case Spot::kPlastic:
    case Spot::kNothing: desk.use(pan_tool(desk.now)); break;
  }
}

}  // namespace tiepoint
