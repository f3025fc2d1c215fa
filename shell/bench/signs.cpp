#include "shell/bench/signs.h"

#include <algorithm>
#include <string>

#include "engine/parts/part_type.h"
#include "shell/bench/desk.h"
#include "shell/bench/draw.h"
#include "shell/bench/theme.h"

namespace tiepoint {
namespace {

bool stands_already(const Board& board, const Part& part) {
  return std::any_of(board.parts.begin(), board.parts.end(),
                     [&](const Part& other) { return other.kind == part.kind && other.leads == part.leads; });
}

ImVec2 at(const Desk& desk, Hole hole) { return desk.camera.screen(desk.board().mat_of(hole)); }

// Broad and pale below what it runs along. A broken stretch is dashed: the difference does not rest on colour.
void draw_stretch(Desk& desk, std::span<const ImVec2> course, bool whole) {
  const float s = desk.camera.scale, width = std::max(0.62f * s, 9.0f);
  if (whole) {
    desk.paint.path(course, width + 3, theme::rgb(theme::kFlowEdge, 0.35f));
    desk.paint.path(course, width, theme::rgb(theme::kFlow, 0.85f));
    return;
  }
  const float dash = 0.45f * s;
  for (size_t i = 0; i + 1 < course.size(); ++i) {
    const ImVec2 d = course[i + 1] - course[i];
    const float l = length(d);
    for (float t = 0; t < l; t += 2.4f * dash) {
      const ImVec2 piece[] = {course[i] + d * (t / l), course[i] + d * (std::min(t + dash, l) / l)};
      desk.paint.path(piece, width * 0.55f, theme::rgb(theme::kRefuse, 0.75f));
    }
  }
}

void draw_straight(Desk& desk, Hole from, Hole to, bool whole) {
  if (from == to || !desk.board().has(from) || !desk.board().has(to)) return;
  const ImVec2 course[] = {at(desk, from), at(desk, to)};
  draw_stretch(desk, course, whole);
}

// Bowed, so that two leads that change places have an arrow each.
void draw_arrow(Desk& desk, ImVec2 from, ImVec2 to) {
  const float s = desk.camera.scale, k = std::max(0.34f * s, 6.0f);
  const ImVec2 bow = lerp(from, to, 0.5f) + across(unit(to - from)) * std::max(0.25f * length(to - from), 0.9f * s);
  const std::span<const ImVec2> curve = desk.paint.quadratic(from, bow, to);
  const std::vector<ImVec2> course(curve.begin(), curve.end());
  const ImVec2 d = unit(to - bow), side = across(d),
               head[] = {to - d * k - side * (0.7f * k), to, to - d * k + side * (0.7f * k)};
  for (const auto& [width, colour] :
       {std::pair{6.0f, theme::rgb(theme::kPill, 0.55f)}, std::pair{3.0f, theme::rgb(theme::kSelect)}})
    desk.paint.path(course, width, colour), desk.paint.path(head, width, colour);
}

void draw_flag(Desk& desk, ImVec2 foot, std::string_view name) {
  const float s = std::max(desk.camera.scale, 16.0f);
  const ImVec2 top = foot - ImVec2{0, 1.9f * s};
  desk.paint.line(foot, top, 3.4f, theme::rgb(theme::kPill, 0.8f));
  desk.paint.line(foot, top, 1.8f, theme::rgb(theme::kPillText));
  const Outline cloth = polygon({top, top + ImVec2{1.25f * s, 0.42f * s}, top + ImVec2{0, 0.84f * s}});
  desk.paint.fill(cloth, theme::rgb(theme::kRefuse));
  desk.paint.stroke(cloth, 1.2f, theme::rgb(theme::kPillText, 0.9f));
  desk.paint.text(top + ImVec2{0.36f * s, 0.42f * s}, 0.5f, 0.62f * s, theme::rgb(theme::kWhite), "!", Weight::kStrong);
  desk.mark("flag", name, {}, {top, top + ImVec2{1.25f * s, 0.84f * s}});
}

// The hole of a supply's lead that feeds the strip of `hole`; invalid when none does.
Hole feeding(const Desk& desk, Hole hole) {
  const Wiring& wiring = desk.session.wiring();
  const Board& board = desk.board();
  if (!board.has(hole)) return {};
  const StripIndex strip = strip_of(board, wiring, hole);
  for (const Part& part : board.parts) {
    if (!is_supply(part)) continue;
    for (const Hole lead : part.leads)
      if (lead.valid() && strip_of(board, wiring, lead) == strip) return lead;
  }
  return {};
}

}  // namespace

void draw_ghosts(Desk& desk, const Board& other) {
  const Camera& camera = desk.camera;
  const ImU32 line = theme::rgb(theme::kSelect, 0.6f), ring = theme::rgb(theme::kSelect, 0.8f);
  for (const Part& part : other.parts) {
    if (stands_already(desk.board(), part)) continue;
    draw_outline(desk.paint, camera, part, pose_of(camera, other, part), line, 1.6f);
    for (const Hole hole : part.leads)
      if (hole.valid()) draw_hole_ring(desk.paint, camera.screen(other.mat_of(hole)), camera.scale, ring);
  }
}

void draw_way(Desk& desk) {
  const std::vector<WayPiece>& way = desk.signs.way;
  if (way.empty()) return;
  const Board& board = desk.board();
  draw_straight(desk, feeding(desk, way.front().in), way.front().in, desk.signs.whole >= 0);
  for (size_t i = 0; i < way.size(); ++i) {
    const bool whole = int(i) < desk.signs.whole;
    const Part* part = board.find(way[i].part);
    if (part && type_of(*part).body == Body::kWire) {
      const Pose pose = desk.pose(*part);
      const std::span<const ImVec2> course = wire_course(desk.paint, desk.camera, *part, pose);
      const std::vector<ImVec2> kept(course.begin(), course.end());  // drawing takes the list for itself
      draw_stretch(desk, kept, whole);
    } else {
      draw_straight(desk, way[i].in, way[i].out, whole);
    }
    if (i + 1 < way.size()) draw_straight(desk, way[i].out, way[i + 1].in, whole && int(i + 1) < desk.signs.whole);
  }
  draw_straight(desk, way.back().out, feeding(desk, way.back().out), int(way.size()) <= desk.signs.whole);
}

// The notebook's list of the way has the same numbers.
void draw_way_numbers(Desk& desk) {
  for (size_t i = 0; i < desk.signs.way.size(); ++i) {
    const WayPiece& piece = desk.signs.way[i];
    if (!desk.board().has(piece.in)) continue;
    const bool whole = int(i) < desk.signs.whole;
    const ImVec2 c = at(desk, piece.in) - ImVec2{0, 0.62f * desk.camera.scale};
    desk.paint.fill(circle(c, 8.5f), theme::rgb(theme::kPillText));
    desk.paint.fill(circle(c, 7.2f), theme::rgb(whole ? theme::kCursor : theme::kRefuse));
    desk.paint.text(c, 0.5f, 10.5f, theme::rgb(theme::kWhite), std::to_string(i + 1), Weight::kStrong);
  }
}

void draw_mended(Desk& desk) {
  if (!desk.signs.mended) return;
  const Board &board = desk.board(), &mended = *desk.signs.mended;
  draw_ghosts(desk, mended);
  const float s = desk.camera.scale;
  const ImU32 under = theme::rgb(theme::kPill, 0.55f);
  for (const Part& part : board.parts) {
    const Part* then = mended.find(part.id);
    if (!then) {  // taken away
      const Box box = desk.pose(part).bounds().grown(0.2f * s);
      for (const auto& [a, b] :
           {std::pair{box.min, box.max}, std::pair{ImVec2{box.min.x, box.max.y}, ImVec2{box.max.x, box.min.y}}}) {
        desk.paint.line(a, b, 5.5f, under);
        desk.paint.line(a, b, 3, theme::rgb(theme::kRefuse));
      }
      continue;
    }
    for (size_t i = 0; i < part.leads.size() && i < then->leads.size(); ++i) {
      const Hole from = part.leads[i], to = then->leads[i];
      if (from == to || !board.has(from) || !board.has(to)) continue;
      draw_arrow(desk, at(desk, from), at(desk, to));
    }
  }
}

void draw_flags(Desk& desk) {
  const float r = 0.42f * std::max(desk.camera.scale, 16.0f);
  for (const Hole hole : desk.signs.flags) {
    if (!desk.board().has(hole)) continue;
    desk.paint.stroke(circle(at(desk, hole), r), 3.5f, theme::rgb(theme::kWhite, 0.85f));
    desk.paint.stroke(circle(at(desk, hole), r), 2, theme::rgb(theme::kRefuse));
    draw_flag(desk, at(desk, hole), desk.board().name_of(hole));
  }
  for (const PartId id : desk.signs.flagged) {
    const Part* part = desk.board().find(id);
    if (!part) continue;
    const Box box = desk.pose(*part).bounds();
    draw_flag(desk, {box.centre().x, box.min.y}, part->name);
  }
}

}  // namespace tiepoint
