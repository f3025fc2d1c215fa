// The bench itself, from the mat upwards.
#include <algorithm>

#include "shell/bench/draw.h"
#include "shell/bench/panels.h"
#include "shell/bench/shown.h"
#include "shell/bench/signs.h"
#include "shell/bench/theme.h"
#include "shell/bench/tool.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {

constexpr double kNoteTime = 3.5;  // [s]

// Names of the sheets of the bench.
enum class Of : uint64_t { kMat = 1, kBoard, kPart, kGlow, kLeads };
uint64_t name_of(Of what, uint32_t which) { return uint64_t(what) << 32 | which; }

bool lifted(const Desk& desk, const Part& part) { return desk.tool && desk.tool->lifts(part.name); }

void draw_layer(Desk& desk, Layer layer) {
  for (const Part& part : desk.board().parts) {
    if (layer_of(part) != layer || lifted(desk, part)) continue;
    const Pose pose = desk.pose(part);
    PartNumbers shown;
    PartLook look{nullptr, false, desk.rotors.turned(part.id), desk.session.scope(part.id)};
    if (const PartReading* reading = desk.reading_of(part)) shown = desk.shown(part, *reading), look.reading = &shown;
    const bool selected = desk.selects(part.name), hovered = part.name == desk.hovered && !desk.tool;
    const uint64_t key = Key().word(key_of(desk.camera, part, pose, look, desk.paint.px)).add(selected).add(hovered).value();
    desk.sheets.show(desk.paint, name_of(Of::kPart, part.id.value), key, [&] {
      if (selected) {  // amber alone is lost on the cream of a board
        draw_outline(desk.paint, desk.camera, part, pose, theme::rgb(theme::kPill, 0.85f), 4.4f);
        draw_outline(desk.paint, desk.camera, part, pose, theme::rgb(theme::kSelect), 2.2f);
      }
      if (hovered && !selected) draw_outline(desk.paint, desk.camera, part, pose, theme::rgb(theme::kSelect, 0.45f), 1.6f);
      draw_part(desk.paint, desk.camera, part, pose, look);
      if (look.reading) draw_condition(desk.paint, part, pose, *look.reading);
    });
  }
}

void mark_parts(Desk& desk) {
  for (const Part& part : desk.board().parts) {
    const Pose pose = desk.pose(part);
    if (pose.half.x > 0) {
      desk.mark("part", part.name, {}, pose.bounds());
    } else {
      const std::span<const ImVec2> course = wire_course(desk.paint, desk.camera, part, pose);
      const ImVec2 middle = course[course.size() / 2], half = ImVec2{6, 6};
      desk.mark("part", part.name, {}, {middle - half, middle + half});
    }
    const Box control = control_of(part, pose);
    if (control.size().x > 0) desk.mark("control", part.name, {}, control);
    const float r = std::max(0.3f * pose.scale, 5.0f);
    for (int i = 0; i < pose.count; ++i) {
      ImVec2 at = pose.lead[i];
      if (part.kind->footprint.seat == Seat::kMat && !pose.seated[i]) at.x -= 0.5f * pose.scale;  // the sleeve of the plug
      desk.mark("lead", part.name, part.kind->leads[size_t(i)].name, {at - ImVec2{r, r}, at + ImVec2{r, r}});
    }
  }
}

// The metal under a hole the pointer rests on lights up faintly.
void draw_hovered_clip(Desk& desk) {
  if (desk.tool || !desk.pointer.over || !desk.hovered.empty()) return;
  const Hole hole = hole_under(desk, desk.pointer.at, desk.pointer.touch);
  if (!hole.valid() || desk.pointer.touch) return;
  draw_clip(desk.paint, desk.camera, desk.board(), hole, theme::rgb(theme::kJoin, 0.13f), theme::rgb(theme::kJoin, 0.45f));
  draw_hole_ring(desk.paint, desk.camera.screen(desk.board().mat_of(hole)), desk.camera.scale, theme::rgb(theme::kJoin, 0.8f));
}

// Holes that a lesson points at.
void draw_pointed(Desk& desk) {
  for (const Hole hole : desk.pointed) {
    if (!desk.board().has(hole)) continue;
    const ImVec2 at = desk.camera.screen(desk.board().mat_of(hole));
    const float r = std::max(0.5f * desk.camera.scale, 9.0f);
    desk.paint.stroke(circle(at, r), 5, theme::rgb(theme::kWhite, 0.9f));
    desk.paint.stroke(circle(at, r), 2.6f, theme::rgb(theme::kRefuse));
  }
}

void draw_cursor(Desk& desk) {
  if (!desk.cursor_shown || !desk.board().has(desk.cursor)) return;
  const ImVec2 at = desk.camera.screen(desk.board().mat_of(desk.cursor));
  const float r = std::max(0.46f * desk.camera.scale, 9.0f);
  desk.paint.stroke(circle(at, r + 1.5f), 4.5f, theme::rgb(theme::kWhite, 0.9f));
  desk.paint.stroke(circle(at, r + 1.5f), 2.2f, theme::rgb(theme::kCursor));
  draw_pill(desk.paint, at - ImVec2{0, r + 18}, desk.board().name_of(desk.cursor));
  desk.mark("cursor", {}, {}, {at - ImVec2{r, r}, at + ImVec2{r, r}});
}

// Name and main value of the part under the pointer.
void draw_hover_name(Desk& desk) {
  if (desk.tool || desk.hovered.empty() || desk.selects(desk.hovered) || desk.pointer.touch) return;
  const Part* part = desk.board().find(desk.hovered);
  if (!part) return;
  std::string value;
  for (size_t i = 0; i < part->kind->values.size() && value.empty(); ++i) {
    const ValueSpec& spec = part->kind->values[i];
    if (spec.use == Use::kValue && spec.options.empty()) value = say_marking(part->values[i], spec.unit);
  }
  const std::string words = value.empty() ? part->name : say("bench.hover", {{"part", part->name}, {"value", value}});
  const Pose pose = desk.pose(*part);
  ImVec2 at = {pose.centre.x, pose.bounds().min.y - 18};
  if (type_of(*part).body == Body::kWire) at = desk.pointer.at - ImVec2{0, 26};
  at.y = std::max(at.y, desk.bench.min.y + 14);
  draw_pill(desk.paint, at, words);
}

void draw_refusal(Desk& desk) {
  const Message& m = desk.message;
  if (!m.refused || desk.now - m.time > kNoteTime || m.number == 0) return;
  // A tool that still complains shows its own note.
  if (desk.tool && desk.pointer.down) return;
  const ImVec2 at = desk.bench.contains(m.at) ? m.at : ImVec2{desk.bench.centre().x - 100, desk.bench.max.y - 70};
  draw_note(desk.paint, at, sentence(text(m)), theme::kRefuse, desk.bench);
}

// What the hand is about to do, while it has a part and waits for holes.
void draw_hint(Desk& desk) {
  if (!desk.tool || desk.pointer.down || desk.message.refused || !desk.message.key.starts_with("bench.hint.")) return;
  const std::string words = text(desk.message);
  const float half = desk.paint.text_width(12.4f, words) / 2 + 16;
  const ImVec2 c = {desk.bench.centre().x, desk.bench.max.y - 24};
  desk.paint.shadow({c - ImVec2{half, 15}, c + ImVec2{half, 15}}, 15, 10, {0, 3}, 0.45f);
  desk.paint.fill(rounded(Box{c - ImVec2{half, 15}, c + ImVec2{half, 15}}, 15), theme::rgb(theme::kPill, 0.96f));
  desk.paint.text(c, 0.5f, 12.4f, theme::rgb(theme::kPillText), words);
}

}  // namespace

void draw_scene(Desk& desk) {
  Paint& paint = desk.paint;
  paint.list->PushClipRect(desk.bench.min, desk.bench.max, true);
  const uint64_t here = Key().add(double(paint.px)).add(double(desk.camera.scale)).add(desk.camera.origin).add(desk.bench).value();
  desk.sheets.show(paint, name_of(Of::kMat, 0), here, [&] { draw_mat(paint, desk.camera, desk.bench); });
  uint32_t which = 0;
  const bool several = desk.board().breadboards.size() > 1;
  for (const Breadboard& b : desk.board().breadboards) {
    const uint64_t key = Key().word(here).add(b.layout).add(b.split_rails).add(b.cuts().rails).add(b.origin.x).add(b.origin.y).add(desk.view.under_board).add(several).value();
    const int number = several ? int(which) + 1 : 0;
    desk.sheets.show(paint, name_of(Of::kBoard, which++), key, [&] { draw_breadboard(paint, desk.camera, b, desk.bench, desk.view.under_board, number); });
  }
  paint.piece();
  if (desk.view.levels) draw_levels(desk);
  paint.piece();
  draw_hovered_clip(desk);
  if (desk.outline) draw_ghosts(desk, *desk.outline);
  draw_way(desk);
  if (desk.tool) desk.tool->draw_under(desk);
  draw_layer(desk, Layer::kMat);
  draw_layer(desk, Layer::kFlat);
  for (const Part& part : desk.board().parts) {
    const PartReading* reading = desk.reading_of(part);
    if (!reading || lifted(desk, part)) continue;
    const PartNumbers shown = desk.shown(part, *reading);
    if (shown.brightness <= 0 && std::all_of(shown.lights.begin(), shown.lights.end(), [](double light) { return light <= 0; })) continue;
    const Pose pose = desk.pose(part);
    const uint64_t key = key_of(desk.camera, part, pose, {&shown}, paint.px);
    desk.sheets.show(paint, name_of(Of::kGlow, part.id.value), key, [&] { draw_glow(paint, part, pose, shown); });
  }
  draw_layer(desk, Layer::kStanding);
  draw_layer(desk, Layer::kWire);
  paint.piece();
  for (const Part& part : desk.board().parts)
    if (layer_of(part) == Layer::kMat && !lifted(desk, part)) {
      const Pose pose = desk.pose(part);
      desk.sheets.show(paint, name_of(Of::kLeads, part.id.value), key_of(desk.camera, part, pose, {}, paint.px), [&] { draw_flying_leads(paint, pose); });
    }
  mark_parts(desk);
  paint.piece();
  if (const Part* wire = desk.selected_wire(); wire && !desk.tool) draw_grips(desk, *wire);
  if (desk.view.levels) draw_level_pills(desk);
  paint.piece();
  if (desk.tool) desk.tool->draw_over(desk);
  draw_pointed(desk);
  draw_mended(desk);
  draw_way_numbers(desk);
  draw_flags(desk);
  draw_cursor(desk);
  draw_hover_name(desk);
  draw_hint(desk);
  draw_refusal(desk);
  paint.list->PopClipRect();
}

}  // namespace tiepoint
