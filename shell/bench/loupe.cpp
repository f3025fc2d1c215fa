#include "shell/bench/loupe.h"

#include <algorithm>
#include <cmath>

#include "shell/bench/draw.h"
#include "shell/bench/theme.h"
#include "shell/bench/tool.h"

namespace tiepoint {
namespace {

constexpr ImVec2 kSize = {156, 116};                // [CSS px]
constexpr float kAbove = 52, kBeside = 44;          // [CSS px] from the finger's middle to its edge
constexpr float kLeastPitch = 40, kMostPitch = 64;  // [CSS px] between holes

bool in_sight(const Pose& pose, const Box& lens) {
  Box all = pose.half.x > 0 ? pose.bounds() : Box{pose.lead[0], pose.lead[0]};
  for (int i = 0; i < pose.count; ++i) {
    all.min = {std::min(all.min.x, pose.lead[i].x), std::min(all.min.y, pose.lead[i].y)};
    all.max = {std::max(all.max.x, pose.lead[i].x), std::max(all.max.y, pose.lead[i].y)};
  }
  all = all.grown(2 * pose.scale);  // wires bow
  return all.min.x < lens.max.x && all.max.x > lens.min.x && all.min.y < lens.max.y && all.max.y > lens.min.y;
}

}  // namespace

Box loupe_box(ImVec2 at, const Box& room) {
  ImVec2 corner = {at.x - kSize.x / 2, at.y - kAbove - kSize.y};
  if (corner.y < room.min.y + 4) {
    // No room above: to the side that has more.
    corner.y = at.y - kSize.y / 2;
    corner.x = at.x < room.centre().x ? at.x + kBeside : at.x - kBeside - kSize.x;
  }
  corner.x = std::round(std::clamp(corner.x, room.min.x + 4, std::max(room.min.x + 4, room.max.x - 4 - kSize.x)));
  corner.y = std::round(std::clamp(corner.y, room.min.y + 4, std::max(room.min.y + 4, room.max.y - 4 - kSize.y)));
  return {corner, corner + kSize};
}

void draw_loupe(Desk& desk, ImVec2 tip, Hole hole, bool refused) {
  Paint& paint = desk.paint;
  const Board& board = desk.board();
  const Box lens = loupe_box(desk.pointer.at, desk.bench);
  const uint32_t colour = refused ? theme::kRefuse : theme::kJoin;
  Camera camera = desk.camera;
  camera.scale = std::clamp(1.8f * desk.camera.scale, kLeastPitch, kMostPitch);
  const MatPoint middle = desk.camera.mat(tip);
  camera.origin = {0, 0};
  camera.origin = lens.centre() - camera.screen(middle);

  paint.piece();
  paint.shadow(lens, 4, 14, {0, 5}, 0.55f);
  paint.list->PushClipRect(lens.min, lens.max, true);
  paint.fill(rounded(lens, 3), theme::rgb(theme::kMat));
  for (const Breadboard& b : board.breadboards) draw_breadboard(paint, camera, b, lens, desk.view.under_board);
  if (hole.valid()) draw_clip(paint, camera, board, hole, theme::rgb(colour, 0.26f), theme::rgb(colour, 0.95f));
  for (const Layer layer : {Layer::kFlat, Layer::kStanding, Layer::kWire})
    for (const Part& part : board.parts) {
      if (layer_of(part) != layer || (desk.tool && desk.tool->lifts(part.name))) continue;
      const Pose pose = pose_of(camera, board, part);
      if (in_sight(pose, lens)) draw_part(paint, camera, part, pose, {desk.reading_of(part)});
    }
  const int x0 = int(std::floor(camera.mat(lens.min).x)), x1 = int(std::ceil(camera.mat(lens.max).x));
  const int y0 = int(std::floor(camera.mat(lens.min).y)), y1 = int(std::ceil(camera.mat(lens.max).y));
  for (int y = y0; y <= y1; ++y)
    for (int x = x0; x <= x1; ++x) {
      const Hole named = board.hole_at({x, y});
      if (!named.valid() || named == hole || board.lead_in(named).part) continue;
      paint.text(camera.screen(x, y) + ImVec2{0, 0.36f * camera.scale}, 0.5f, 10.0f, theme::rgb(theme::kLettering),
                 board.name_of(named));
    }
  // Where the end is held, and the hole it would go into.
  paint.line(lens.centre() - ImVec2{7, 0}, lens.centre() + ImVec2{7, 0}, 1.4f, theme::rgb(theme::kCursor));
  paint.line(lens.centre() - ImVec2{0, 7}, lens.centre() + ImVec2{0, 7}, 1.4f, theme::rgb(theme::kCursor));
  if (hole.valid()) draw_hole_ring(paint, camera.screen(board.mat_of(hole)), camera.scale, theme::rgb(colour));
  paint.list->PopClipRect();
  paint.stroke(rounded(lens, 3), 2.4f, theme::rgb(hole.valid() ? colour : theme::kCaseText));
  const std::string name = hole.valid() ? board.name_of(hole) : std::string();
  if (hole.valid()) draw_pill(paint, {lens.centre().x, lens.max.y - 14}, name);
  desk.mark("loupe", name, {}, lens);
}

}  // namespace tiepoint
