// The keyboard on the bench. Single keys count only while the canvas has the focus; the page decides that.
#include <cmath>

#include "shell/bench/panels.h"
#include "shell/bench/shortcuts.h"
#include "shell/bench/tool.h"

namespace tiepoint {
namespace {

// Sources of holds, beside 0 for the pointer.
constexpr int kSpace = 1, kEnter = 2, kNumber = 10;

bool command() { return ImGui::GetIO().KeyCtrl || ImGui::GetIO().KeySuper; }
bool other_hand() { return command() || ImGui::GetIO().KeyAlt; }  // what is pressed with these is no plain key
bool pressed(ImGuiKey key, bool repeat = false) { return ImGui::IsKeyPressed(key, repeat); }

const Part* momentary(const Desk& desk, const std::string& name) {
  const Part* part = name.empty() ? nullptr : desk.board().find(name);
  return part && has_momentary(*part) ? part : nullptr;
}

// A held key keeps a contact down; it is let go with the key.
void hold_keys(Desk& desk) {
  for (int n = 1; n <= 9; ++n) {
    const ImGuiKey key = ImGuiKey(ImGuiKey_0 + n), pad = ImGuiKey(ImGuiKey_Keypad0 + n);
    if ((pressed(key) || pressed(pad)) && !other_hand() && desk.typed.empty()) {
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
    if (pressed(key) && !other_hand() && !desk.cursor_shown) {
      const Part* part = momentary(desk, desk.selected());
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
  desk.typed.clear();  // else the address typed just now would take it back
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
  if (other_hand()) return;
  if (desk.now - desk.typed_at > 1.5) desk.typed.clear();
  for (int i = 0; i < 10; ++i)
    if (pressed(ImGuiKey(ImGuiKey_A + i))) desk.typed = std::string(1, char('a' + i)), desk.typed_at = desk.now;
  if (desk.typed.empty()) return;
  for (int i = 0; i < 10; ++i)
    if (pressed(ImGuiKey(ImGuiKey_0 + i)) && desk.typed.size() < 4) desk.typed += char('0' + i), desk.typed_at = desk.now;
  if (desk.typed.size() < 2) return;
  // On the breadboard where the cursor stands.
  const bool other = desk.board().has(desk.cursor) && desk.cursor.breadboard > 0;
  const std::string address = other ? std::to_string(desk.cursor.breadboard + 1) + ":" + desk.typed : desk.typed;
  if (const Result<Hole> hole = desk.board().hole(address); hole && *hole != desk.cursor) {
    desk.cursor = *hole;
    desk.cursor_shown = true;
    ++desk.view_revision;
  }
}

// To the next part; with `add` those passed through stay selected.
void step_selection(Desk& desk, int way, bool add) {
  const std::vector<Part>& parts = desk.board().parts;
  if (parts.empty()) return;
  const Part* now = desk.selection.empty() ? nullptr : desk.board().find(desk.selection.back());
  const int n = int(parts.size()), at = now ? desk.board().index_of(now->id) : (way > 0 ? -1 : 0);
  const std::string& next = parts[size_t((at + way + n) % n)].name;
  if (!add) return desk.select(next);
  // Back over the last one taken in: it leaves again.
  if (desk.selects(next) && desk.selection.size() > 1 && desk.selection[desk.selection.size() - 2] == next)
    desk.toggle(std::string(desk.selection.back()));
  else
    desk.add(next);
}

// ---- What the keys of the table do; `chord` is the index in its row.

constexpr GridPoint kWays[] = {{-1, 0}, {1, 0}, {0, -1}, {0, 1}};  // as the arrows stand in the table

void put_down(Desk& desk) {
  if (desk.tool) desk.tool->cancel(desk), desk.use(nullptr);
}

void do_cursor(Desk& desk, int chord) { move_cursor(desk, kWays[chord].x, kWays[chord].y); }
void do_nudge(Desk& desk, int chord) {
  if (!desk.tool) desk.nudge_selected(kWays[chord].x, kWays[chord].y);
}
// The hole cursor goes to the middle of the next breadboard.
void do_board(Desk& desk, int chord) {
  const int n = int(desk.board().breadboards.size());
  const int now = desk.cursor_shown && desk.board().has(desk.cursor) ? desk.cursor.breadboard : chord == 0 ? -1 : n;
  const int next = (now + (chord == 0 ? 1 : n - 1)) % n;
  const Layout& l = layout(desk.board().breadboards[size_t(next)].layout);
  desk.cursor = {uint8_t(next), uint16_t(l.columns / 2 * kRowsPerColumn + 4)};
  desk.cursor_shown = true;
  desk.typed.clear();  // an address typed just now was meant for the other board
  desk.tell("bench.board", {}, std::to_string(next + 1), desk.board().name_of(desk.cursor));
}
void do_use(Desk& desk, int) { use_cursor(desk); }
void do_type(Desk& desk, int) { type_address(desk); }
void do_hold(Desk& desk, int) { hold_keys(desk); }

void do_add(Desk& desk, int) {
  if (!desk.cursor_shown || desk.tool || !desk.board().has(desk.cursor)) return;
  const PartId in = desk.board().lead_in(desk.cursor).part;
  if (const Part* part = desk.board().find(in ? in : desk.board().body_over(desk.cursor))) desk.toggle(part->name);
}

void turn(Desk& desk, int quarters) { desk.tool ? desk.tool->turn(desk, quarters) : desk.turn_selected(quarters); }
void do_turn(Desk& desk, int) { turn(desk, 1); }
void do_turn_back(Desk& desk, int) { turn(desk, 3); }
void do_remove(Desk& desk, int) {
  put_down(desk);
  desk.remove_selected();
}
void do_duplicate(Desk& desk, int) {
  put_down(desk);
  void(desk.duplicate_selected());
}
void do_all(Desk& desk, int) {
  put_down(desk);
  desk.select_all();
}
void do_none(Desk& desk, int) {
  if (desk.tool) return put_down(desk);
  if (!desk.selection.empty()) return desk.select({});
  desk.cursor_shown = false;
  ++desk.view_revision;
}
void do_step(Desk& desk, int chord) { step_selection(desk, chord == 0 ? -1 : 1, false); }
void do_step_adding(Desk& desk, int chord) { step_selection(desk, chord == 0 ? -1 : 1, true); }
void do_undo(Desk& desk, int) { desk.undo(); }
void do_redo(Desk& desk, int) { desk.redo(); }
void do_hill(Desk& desk, int) {
  desk.view.hill = !desk.view.hill;
  desk.tell(desk.view.hill ? "bench.hill.opened" : "bench.hill.closed", desk.hill.part());
}
// To where the hole cursor stands, or to the selected parts; from there, or with neither, back to the whole bench.
void do_closer(Desk& desk, int) {
  const Hole hole = desk.cursor_shown && desk.board().has(desk.cursor) ? desk.cursor : Hole{};
  Sight wanted{hole.valid() ? std::vector<std::string>{} : desk.selection, hole};
  if (desk.camera.touched && wanted == desk.sight) wanted = {};
  if (wanted == Sight{}) desk.tell("bench.sight.all");
  else if (hole.valid()) desk.tell("bench.sight.hole", {}, {}, desk.board().name_of(hole));
  else desk.tell("bench.sight.part", desk.selection.front());
  desk.sight_due = std::move(wanted);
}
void do_all_in_sight(Desk& desk, int) {
  desk.sight_due = Sight{};
  desk.tell("bench.sight.all");
}
void do_step_time(Desk& desk, int) { desk.step_time(); }

std::vector<Chord> arrows(int modifiers) {
  return {{modifiers, ImGuiKey_LeftArrow, "left"}, {modifiers, ImGuiKey_RightArrow, "right"},
          {modifiers, ImGuiKey_UpArrow, "up"},     {modifiers, ImGuiKey_DownArrow, "down"}};
}
Chord command_and(ImGuiKey key, std::string_view name, int more = 0) { return {kWithCommand | more, key, name}; }
Chord plain(ImGuiKey key, std::string_view name) { return {kPlainKey, key, name}; }
Chord shifted(ImGuiKey key, std::string_view name) { return {kWithShift, key, name}; }

std::vector<Shortcut> make_table() {
  using enum Reach;
  return {
      {"holes", "cursor", kPressed, arrows(kPlainKey), do_cursor, true},
      {"holes", "type", kEveryFrame, {}, do_type},
      {"holes", "board", kPressed, {plain(ImGuiKey_N, "N"), shifted(ImGuiKey_N, "N")}, do_board},
      {"holes", "seat", kPressed, {plain(ImGuiKey_Enter, "enter"), plain(ImGuiKey_KeypadEnter, "enter")}, do_use},
      {"holes", "hold", kEveryFrame, {}, do_hold},
      {"parts", "step", kPressed, {plain(ImGuiKey_LeftBracket, "bracket-left"), plain(ImGuiKey_RightBracket, "bracket-right")}, do_step, true},
      {"parts", "step-adding", kPressed, {shifted(ImGuiKey_LeftBracket, "bracket-left"), shifted(ImGuiKey_RightBracket, "bracket-right")}, do_step_adding, true},
      {"parts", "add", kPressed, {shifted(ImGuiKey_Enter, "enter")}, do_add},
      {"parts", "all", kPressed, {command_and(ImGuiKey_A, "A")}, do_all},
      {"parts", "none", kPressed, {plain(ImGuiKey_Escape, "escape")}, do_none},
      {"parts", "nudge", kPressed, arrows(kWithAlt), do_nudge, true},
      {"parts", "turn", kPressed, {plain(ImGuiKey_R, "R")}, do_turn},
      {"parts", "turn-back", kPressed, {shifted(ImGuiKey_R, "R")}, do_turn_back},
      {"parts", "remove", kPressed, {plain(ImGuiKey_Delete, "delete"), plain(ImGuiKey_Backspace, "backspace")}, do_remove},
      {"parts", "duplicate", kPressed, {command_and(ImGuiKey_D, "D")}, do_duplicate},
      {"parts", "copy", kPage, {command_and(ImGuiKey_C, "C")}},
      {"parts", "cut", kPage, {command_and(ImGuiKey_X, "X")}},
      {"parts", "paste", kPage, {command_and(ImGuiKey_V, "V")}},
      {"page", "undo", kPressed, {command_and(ImGuiKey_Z, "Z")}, do_undo, true},
      {"page", "redo", kPressed, {command_and(ImGuiKey_Z, "Z", kWithShift), command_and(ImGuiKey_Y, "Y")}, do_redo, true},
      {"page", "step-time", kPressed, {plain(ImGuiKey_Period, ".")}, do_step_time, true},
      {"page", "cross-over", kPage, {plain(ImGuiKey_F6, "F6"), shifted(ImGuiKey_F6, "F6")}},
      {"page", "closer", kPressed, {plain(ImGuiKey_Z, "Z")}, do_closer},
      {"page", "all-in-sight", kPressed, {shifted(ImGuiKey_Z, "Z")}, do_all_in_sight},
      {"page", "hill", kPressed, {plain(ImGuiKey_P, "P")}, do_hill},
      {"page", "search", kPage, {{kPlainKey, ImGuiKey_None, "/"}}},
      {"page", "shortcuts", kPage, {{kPlainKey, ImGuiKey_None, "?"}}},
      {"mouse", "place", kGesture},
      {"mouse", "wire", kGesture},
      {"mouse", "move", kGesture},
      {"mouse", "bend", kGesture},
      {"mouse", "select", kGesture},
      {"mouse", "toggle", kGesture},
      {"mouse", "box", kGesture},
      {"mouse", "pan", kGesture},
      {"mouse", "zoom", kGesture},
      {"mouse", "put-down", kGesture},
      {"touch", "finger-place", kGesture},
      {"touch", "finger-move", kGesture},
      {"touch", "finger-toggle", kGesture},
      {"touch", "finger-box", kGesture},
      {"touch", "finger-zoom", kGesture},
  };
}

int modifiers_now() {
  const ImGuiIO& io = ImGui::GetIO();
  return (io.KeyShift ? kWithShift : 0) | (command() ? kWithCommand : 0) | (io.KeyAlt ? kWithAlt : 0);
}

}  // namespace

std::span<const Shortcut> shortcuts() {
  static const std::vector<Shortcut> table = make_table();
  return table;
}

void read_keys(Desk& desk) {
  if (ImGui::GetIO().WantTextInput) return;
  const int modifiers = modifiers_now();
  // What is held or typed comes first: the digit of an address presses no button.
  for (const Shortcut& row : shortcuts())
    if (row.reach == Reach::kEveryFrame) row.act(desk, 0);
  for (const Shortcut& row : shortcuts()) {
    if (row.reach != Reach::kPressed) continue;
    for (size_t i = 0; i < row.chords.size(); ++i)
      if (row.chords[i].modifiers == modifiers && pressed(row.chords[i].key, row.repeats)) return row.act(desk, int(i));
  }
}

}  // namespace tiepoint
