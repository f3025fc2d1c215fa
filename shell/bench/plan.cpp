// A part in the hand: where its leads would go, whether the board takes it there, and how that is shown.
#include <algorithm>
#include <cmath>

#include "shell/bench/draw.h"
#include "shell/bench/theme.h"
#include "shell/bench/tool.h"

namespace tiepoint {
namespace {

MatPoint turned(double x, double y, int quarters) {
  switch (((quarters % 4) + 4) % 4) {
    case 1:
      return {-y, x};
    case 2:
      return {-x, -y};
    case 3:
      return {y, -x};
    default:
      return {x, y};
  }
}

// The second lead of a flexible part: the hole at the wanted span, or the nearest to it along the same line that the leads
// reach (rails have gaps between their groups of five).
Hole second_hole(const Board& board, const PartKind& kind, Hole first, MatPoint step) {
  const MatPoint from = board.mat_of(first);
  const double span = std::hypot(step.x, step.y);
  if (span < 0.5) return {};
  for (int tries = 0; tries <= 6; ++tries) {
    const double extra = (tries + 1) / 2 * (tries % 2 == 1 ? 1.0 : -1.0);
    const double wanted = span + extra;
    if (wanted < kind.footprint.reach_min - 0.3 || wanted > kind.footprint.reach_max + 0.3) continue;
    const Hole hole = nearest_hole(board, {from.x + step.x / span * wanted, from.y + step.y / span * wanted}, 0.5);
    if (hole.valid() && hole != first) return hole;
  }
  return nearest_hole(board, {from.x + step.x, from.y + step.y}, 1.3);
}

}  // namespace

double usual_span(const PartType& type) {
  const Footprint& f = type.footprint;
  if (f.seat != Seat::kFlexible) return 0;
  switch (type.body) {
    case Body::kWire:
      return 5;
    case Body::kDiscCapacitor:
    case Body::kCanCapacitor:
      return std::clamp(2.0, f.reach_min, f.reach_max);
    case Body::kAxialResistor:
    case Body::kAxialDiode:
      return std::clamp(5.0, f.reach_min, f.reach_max);
    default:
      return std::max(f.reach_min, 1.0);
  }
}

void lead_offsets(const PartKind& kind, int turn, double span, std::vector<MatPoint>& out) {
  out.clear();
  if (kind.footprint.seat == Seat::kFlexible) {
    out.push_back(turned(-span / 2, 0, turn));
    out.push_back(turned(span / 2, 0, turn));
    return;
  }
  double x = 0, y = 0;
  for (const LeadSpec& lead : kind.leads) x += lead.dx, y += lead.dy;
  x /= double(std::max<size_t>(kind.leads.size(), 1)), y /= double(std::max<size_t>(kind.leads.size(), 1));
  for (const LeadSpec& lead : kind.leads) out.push_back(turned(lead.dx - x, lead.dy - y, turn));
}

MatPoint beside_boards(const Board& board, const Part& part, MatPoint wanted) {
  if (type_of(part).body == Body::kNote) return wanted;  // paper may lie on a board
  const ImVec2 half = mat_half(part);
  constexpr double kClear = 0.45;
  // Each board it overlaps pushes it out over the nearest edge; a few rounds settle it among several boards.
  for (int round = 0; round < 6; ++round) {
    bool moved = false;
    for (const Breadboard& b : board.breadboards) {
      const MatArea plate = board_plate(b);
      const double left = plate.min.x - half.x - kClear, right = plate.max.x + half.x + kClear;
      const double up = plate.min.y - half.y - kClear, down = plate.max.y + half.y + kClear;
      if (wanted.x <= left || wanted.x >= right || wanted.y <= up || wanted.y >= down) continue;
      const double ways[] = {wanted.y - up, down - wanted.y, wanted.x - left, right - wanted.x};
      const double least = *std::min_element(ways, ways + 4);
      if (least == ways[0])
        wanted.y = up;
      else if (least == ways[1])
        wanted.y = down;
      else if (least == ways[2])
        wanted.x = left;
      else
        wanted.x = right;
      moved = true;
    }
    if (!moved) break;
  }
  return wanted;
}

void plan_on_mat(const Desk& desk, MatPoint centre, Plan& plan) {
  plan.error.reset();
  plan.part.mat = beside_boards(desk.board(), plan.part, centre);
  plan.on_board = true;
  plan.pose = pose_of(desk.camera, desk.board(), plan.part);
}

void plan_seats(const Desk& desk, std::span<const MatPoint> leads, Plan& plan) {
  constexpr double kPull = 0.8;  // hole steps
  const Board& board = desk.board();
  const PartKind& kind = *plan.part.kind;
  plan.error.reset();
  plan.on_board = false;
  plan.part.leads.assign(kind.leads.size(), Hole{});
  const Hole first = leads.empty() ? Hole{} : nearest_hole(board, leads[0], kPull);
  if (first.valid()) {
    if (kind.footprint.seat == Seat::kRigid) {
      if (Result<std::vector<Hole>> holes = rigid_holes(board, kind, first, plan.part.turn)) {
        plan.part.leads = std::move(holes).value();
        plan.on_board = true;
      }
    } else if (leads.size() == 2) {
      const Hole second = second_hole(board, kind, first, {leads[1].x - leads[0].x, leads[1].y - leads[0].y});
      plan.part.leads = {first, second};
      plan.on_board = second.valid();
    }
  }
  if (plan.on_board) {
    plan.pose = pose_of(desk.camera, board, plan.part);
    return;
  }
  plan.part.leads.assign(kind.leads.size(), Hole{});
  ImVec2 points[Pose::kMostLeads];
  const size_t n = std::min(leads.size(), size_t(Pose::kMostLeads));
  for (size_t i = 0; i < n; ++i) points[i] = desk.camera.screen(leads[i]);
  plan.pose = pose_at(plan.part, {points, n}, desk.camera.scale);
}

void check_plan(const Desk& desk, const Edit& edit, Plan& plan) {
  plan.error.reset();
  if (!plan.on_board) return;
  const Status status = check(desk.board(), edit);
  if (!status) plan.error = status.error();
}

void draw_plan_under(Desk& desk, const Plan& plan) {
  if (!plan.on_board) return;
  const bool good = !plan.error;
  const ImU32 fill = theme::rgb(good ? theme::kJoin : theme::kRefuse, good ? 0.26f : 0.20f);
  const ImU32 line = theme::rgb(good ? theme::kJoin : theme::kRefuse, 0.95f);
  for (const Hole& hole : plan.part.leads)
    if (hole.valid()) draw_clip(desk.paint, desk.camera, desk.board(), hole, fill, line);
}

void draw_plan_over(Desk& desk, const Plan& plan) {
  Paint& paint = desk.paint;
  paint.opacity = plan.on_board && !plan.error ? 0.92f : 0.62f;
  draw_part(paint, desk.camera, plan.part, plan.pose, {});
  if (plan.part.kind->footprint.seat == Seat::kMat) draw_flying_leads(paint, plan.pose);
  paint.opacity = 1;
  for (size_t i = 0; i < plan.part.leads.size(); ++i) {
    const Hole hole = plan.part.leads[i];
    if (!hole.valid()) continue;
    draw_hole_ring(paint, desk.camera.screen(desk.board().mat_of(hole)), desk.camera.scale,
                   theme::rgb(plan.error ? theme::kRefuse : theme::kJoin));
  }
  if (plan.error) {
    const std::string words = sentence(phrase("error." + std::string(key(plan.error->code)), *plan.error));
    draw_note(paint, desk.pointer.at, words, theme::kRefuse, desk.bench);
  }
}

}  // namespace tiepoint
