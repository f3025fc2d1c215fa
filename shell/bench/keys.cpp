// The keyboard on the bench. Single keys count only while the canvas has the focus; the page decides that.
#include <cmath>

#include "shell/bench/panels.h"
#include "shell/bench/tool.h"

namespace tiepoint {
namespace {

// Sources of holds, beside 0 for the pointer.
constexpr int kSpace = 1, kEnter = 2, kNumber = 10;

bool command() { return ImGui::GetIO().KeyCtrl || ImGui::GetIO().KeySuper; }
bool pressed(ImGuiKey key, bool repeat = false) { return ImGui::IsKeyPressed(key, repeat); }

const Part* momentary(const Desk& desk, const std::string& name) {
  const Part* part = name.empty() ? nullptr : desk.board().find(name);
  return part && has_momentary(*part) ? part : nullptr;
}

// A held key keeps a contact down; it is let go with the key.
void hold_keys(Desk& desk) {
  for (int n = 1; n <= 9; ++n) {
    const ImGuiKey key = ImGuiKey(ImGuiKey_0 + n), pad = ImGuiKey(ImGuiKey_Keypad0 + n);
    if ((pressed(key) || pressed(pad)) && !command() && desk.typed.empty()) {
      const char name[] = {'S', char('0' + n), 0};
      if (const Part* part = desk.board().find(name)) {
        if (has_momentary(*part))
          desk.hold(kNumber + n, name);
        else if (has_position(*part))
          desk.work(*part);
      }
    }
    if (!ImGui::IsKeyDown(key) && !ImGui::IsKeyDown(pad)) desk.release(kNumber + n);
  }
  const auto held = [&](ImGuiKey key, int source) {
    if (pressed(key) && !desk.cursor_shown) {
      const Part* part = momentary(desk, desk.selected);
      if (!part) part = momentary(desk, desk.hovered);
      if (part)
        desk.hold(source, part->name);
      else if (const Part* other = desk.selected_part(); other && (has_position(*other) || is_supply(*other)))
        desk.work(*other);
    }
    if (!ImGui::IsKeyDown(key)) desk.release(source);
  };
  held(ImGuiKey_Space, kSpace);
  held(ImGuiKey_Enter, kEnter);
}

void move_cursor(Desk& desk, int dx, int dy) {
  const Board& board = desk.board();
  if (!board.has(desk.cursor)) desk.cursor = Hole{0, 0};
  if (!desk.cursor_shown) {
    desk.cursor_shown = true;
    ++desk.view_revision;
    return;
  }
  const MatPoint from = board.mat_of(desk.cursor);
  // Over gaps: the nearest hole up to four steps on; beside the line only where a rail has a gap.
  for (double aside : {0.3, 1.05})
    for (int step = 1; step <= 4; ++step) {
      const Hole hole = nearest_hole(board, {from.x + dx * step, from.y + dy * step}, aside);
      if (!hole.valid() || hole == desk.cursor) continue;
      desk.cursor = hole;
      ++desk.view_revision;
      return;
    }
}

void use_cursor(Desk& desk) {
  const Board& board = desk.board();
  if (!desk.cursor_shown || !board.has(desk.cursor)) return;
  if (desk.tool) {
    if (!desk.tool->choose(desk, desk.cursor)) desk.use(nullptr);
    return;
  }
  const PartId over = board.lead_in(desk.cursor).part ? board.lead_in(desk.cursor).part : board.body_over(desk.cursor);
  if (const Part* part = over ? board.find(over) : nullptr) return desk.select(part->name);
  if (const PartKind* wire = catalogue().find("jumper-wire")) {
    desk.use(place_tool(static_cast<const PartType&>(*wire), false));
    desk.tool->choose(desk, desk.cursor);
  }
}

// A hole's address typed letter by letter, "e12", moves the cursor there.
void type_address(Desk& desk) {
  if (command()) return;
  if (desk.now - desk.typed_at > 1.5) desk.typed.clear();
  for (int i = 0; i < 10; ++i)
    if (pressed(ImGuiKey(ImGuiKey_A + i))) desk.typed = std::string(1, char('a' + i)), desk.typed_at = desk.now;
  if (desk.typed.empty()) return;
  for (int i = 0; i < 10; ++i)
    if (pressed(ImGuiKey(ImGuiKey_0 + i)) && desk.typed.size() < 4) desk.typed += char('0' + i), desk.typed_at = desk.now;
  if (desk.typed.size() < 2) return;
  if (const Result<Hole> hole = desk.board().hole(desk.typed); hole && *hole != desk.cursor) {
    desk.cursor = *hole;
    desk.cursor_shown = true;
    ++desk.view_revision;
  }
}

void step_selection(Desk& desk, int way) {
  const std::vector<Part>& parts = desk.board().parts;
  if (parts.empty()) return;
  const Part* now = desk.selected_part();
  const int n = int(parts.size()), at = now ? desk.board().index_of(now->id) : (way > 0 ? -1 : 0);
  desk.select(parts[size_t((at + way + n) % n)].name);
}

}  // namespace

void read_keys(Desk& desk) {
  const ImGuiIO& io = ImGui::GetIO();
  if (io.WantTextInput) return;
  if (command()) {
    if (pressed(ImGuiKey_Z, true)) io.KeyShift ? desk.redo() : desk.undo();
    if (pressed(ImGuiKey_Y, true)) desk.redo();
    return;
  }
  type_address(desk);
  hold_keys(desk);
  if (pressed(ImGuiKey_Escape)) {
    if (desk.tool)
      desk.tool->cancel(desk), desk.use(nullptr);
    else if (!desk.selected.empty())
      desk.select({});
    else
      desk.cursor_shown = false;
  }
  if (pressed(ImGuiKey_Delete) || pressed(ImGuiKey_Backspace)) {
    if (desk.tool) desk.tool->cancel(desk), desk.use(nullptr);
    desk.remove_selected();
  }
  if (pressed(ImGuiKey_R)) {
    if (desk.tool)
      desk.tool->turn(desk, io.KeyShift ? 3 : 1);
    else
      desk.turn_selected();
  }
  if (pressed(ImGuiKey_LeftBracket)) step_selection(desk, -1);
  if (pressed(ImGuiKey_RightBracket)) step_selection(desk, 1);
  if (pressed(ImGuiKey_LeftArrow, true)) move_cursor(desk, -1, 0);
  if (pressed(ImGuiKey_RightArrow, true)) move_cursor(desk, 1, 0);
  if (pressed(ImGuiKey_UpArrow, true)) move_cursor(desk, 0, -1);
  if (pressed(ImGuiKey_DownArrow, true)) move_cursor(desk, 0, 1);
  if (pressed(ImGuiKey_Enter)) use_cursor(desk);
}

}  // namespace tiepoint
