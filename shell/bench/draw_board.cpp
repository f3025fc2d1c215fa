// The mat, and the breadboards on it.
#include <algorithm>
#include <cmath>

#include "shell/bench/draw.h"
#include "shell/bench/theme.h"

namespace tiepoint {
namespace {

using theme::rgb;

// Number to text without the C library: at most three digits.
std::string_view digits(int value, char (&buffer)[8]) {
  int at = 8;
  do buffer[--at] = char('0' + value % 10);
  while ((value /= 10) > 0 && at > 0);
  return {buffer + at, size_t(8 - at)};
}

float snapped(float v, float px) { return std::floor(v / px) * px + px * 0.5f; }

// A jagged line through the plastic, across one rail.
void draw_crack(Paint& paint, const Camera& camera, double x, double y) {
  static constexpr MatPoint kJags[] = {{0.10, -0.62}, {-0.12, -0.30}, {0.14, -0.06}, {-0.14, 0.22}, {0.06, 0.60}};
  for (size_t k = 0; k + 1 < std::size(kJags); ++k)
    paint.line(camera.screen(x + kJags[k].x, y + kJags[k].y), camera.screen(x + kJags[k + 1].x, y + kJags[k + 1].y),
               std::max(0.07f * camera.scale, 1.4f), rgb(theme::kLettering));
}

void draw_rails(Paint& paint, const Camera& camera, const Breadboard& b, const Layout& l) {
  struct Line {
    Rail rail;
    double y, line;
    uint32_t colour;
    std::string_view sign;
  };
  static constexpr Line kLines[] = {{Rail::kTopMinus, -3, -3.52, theme::kRailMinus, "−"},
                                    {Rail::kTopPlus, -2, -1.48, theme::kRailPlus, "+"},
                                    {Rail::kBottomMinus, 13, 12.48, theme::kRailMinus, "−"},
                                    {Rail::kBottomPlus, 14, 14.52, theme::kRailPlus, "+"}};
  const float s = camera.scale, em = 0.58f * s;
  const double left = b.origin.x - 0.1, right = b.origin.x + l.columns - 0.9;
  const auto rail_x = [&](int hole) { return b.origin.x + grid_of(l, index_of(l, {.on_rail = true, .rail_hole = hole})).x; };
  const double middle = (rail_x(rail_cut(l)) + rail_x(rail_cut(l) + 1)) / 2.0;
  for (const Line& line : kLines) {
    const ImU32 colour = rgb(line.colour);
    const auto stretch = [&](double x0, double x1) {
      const ImVec2 a = camera.screen(x0, b.origin.y + line.line), c = camera.screen(x1, b.origin.y + line.line);
      const float y = snapped(a.y, paint.px);
      paint.line({a.x, y}, {c.x, y}, std::max(0.075f * s, 1.2f), colour);
    };
    if (b.split_rails)
      stretch(left, middle - 0.55), stretch(middle + 0.55, right);
    else
      stretch(left, right);
    if (b.cracks[size_t(line.rail)] == Crack::kFound) draw_crack(paint, camera, middle, b.origin.y + line.y);
    if (em > 6) {
      paint.text(camera.screen(b.origin.x - 0.72, b.origin.y + line.y), 0.5f, em, colour, line.sign, Weight::kStrong);
      paint.text(camera.screen(b.origin.x + l.columns - 0.28, b.origin.y + line.y), 0.5f, em, colour, line.sign,
                 Weight::kStrong);
    }
  }
}

void draw_lettering(Paint& paint, const Camera& camera, const Breadboard& b, const Layout& l) {
  const float em = 0.405f * camera.scale;
  if (em < 5) return;
  const ImU32 ink = rgb(theme::kLettering);
  for (int column = 1; column <= l.columns; ++column) {
    if (column != 1 && column % 5 != 0) continue;
    char buffer[8];
    const std::string_view number = digits(column, buffer);
    const double x = b.origin.x + column - 1;
    paint.text(camera.screen(x, b.origin.y - 0.68), 0.5f, em, ink, number);
    paint.text(camera.screen(x, b.origin.y + 11.68), 0.5f, em, ink, number);
  }
  static constexpr std::string_view kRows = "abcdefghij";
  for (int row = 0; row < kRowsPerColumn; ++row) {
    const double y = b.origin.y + row + (row >= 5 ? 2 : 0);
    paint.text(camera.screen(b.origin.x - 1.02, y), 0.5f, em, ink, kRows.substr(size_t(row), 1));
    paint.text(camera.screen(b.origin.x + l.columns + 0.02, y), 0.5f, em, ink, kRows.substr(size_t(row), 1));
  }
}

void draw_holes(Paint& paint, const Camera& camera, const Breadboard& b, const Layout& l, const Box& visible) {
  const float s = camera.scale, r = 0.138f * s;
  const Box box = visible.grown(s);
  const ImU32 rim = rgb(theme::kHoleRim), top = rgb(theme::kHoleTop), bottom = rgb(theme::kHoleBottom);
  for (int i = 0; i < l.hole_count(); ++i) {
    const GridPoint g = grid_of(l, i);
    const ImVec2 at = camera.screen(b.origin.x + g.x, b.origin.y + g.y);
    if (box.contains(at)) paint.hole(at, r, rim, top, bottom);
  }
}

// The metal inside, for the view from below: five-spring clips and the long rail clips.
void draw_springs(Paint& paint, const Camera& camera, const Breadboard& b, const Layout& l) {
  const float s = camera.scale;
  const ImU32 metal = rgb(theme::kSpring, 0.55f), edge = rgb(0x8A6430, 0.75f);
  const auto bar = [&](double x0, double y0, double x1, double y1) {
    const Box box = {camera.screen(b.origin.x + x0 - 0.3, b.origin.y + y0 - 0.3),
                     camera.screen(b.origin.x + x1 + 0.3, b.origin.y + y1 + 0.3)};
    paint.fill(rounded(box, 0.16f * s), metal);
    paint.stroke(rounded(box, 0.16f * s), std::max(1.0f, 0.05f * s), edge);
  };
  for (int c = 0; c < l.columns; ++c) bar(c, 0, c, 4), bar(c, 7, c, 11);
  const int strips = strip_count(l, b.cuts()), first_rail = 2 * l.columns;
  for (int strip = first_rail; strip < strips; ++strip) {
    GridPoint low = {1 << 20, 0}, high = {-1, 0};
    for (int i = l.columns * kRowsPerColumn; i < l.hole_count(); ++i) {
      if (strip_of(l, b.cuts(), i) != strip) continue;
      const GridPoint g = grid_of(l, i);
      if (g.x < low.x) low = g;
      if (g.x > high.x) high = g;
    }
    if (high.x >= low.x) bar(low.x, low.y, high.x, high.y);
  }
}

}  // namespace

void draw_mat(Paint& paint, const Camera& camera, const Box& area) {
  paint.fill(rounded(area, 0), rgb(theme::kMat));
  // A lamp above the bench: brighter in the middle, dim at the edges.
  const ImVec2 c = area.centre(), half = area.size() * 0.5f;
  const Fill::Stop lamp[] = {
      {0, rgb(theme::kMatCentre, 0.95f)}, {0.45f, rgb(theme::kMatCentre, 0.55f)}, {1.0f, rgb(theme::kMatCentre, 0)}};
  paint.clip(area);
  paint.glow(c, half.x * 1.05f, half.y * 1.15f, lamp);
  const float s = camera.scale;
  // Finer than 9 px the grid would only be noise: then every fifth line.
  const int every = s >= 9 ? 1 : 5;
  const MatPoint from = camera.mat(area.min), to = camera.mat(area.max);
  const auto draw_line = [&](bool vertical, int k) {
    const bool strong = ((k % 10) + 10) % 10 == 0;
    const ImU32 colour = rgb(strong ? theme::kMatLineStrong : theme::kMatLine, strong ? 0.9f : 0.75f);
    const ImVec2 p = camera.screen(vertical ? k + 0.5 : 0, vertical ? 0 : k + 0.5);
    const float at = std::floor((vertical ? p.x : p.y) / paint.px) * paint.px;
    paint.bar(vertical ? Box{{at, area.min.y}, {at + paint.px, area.max.y}} : Box{{area.min.x, at}, {area.max.x, at + paint.px}}, colour);
  };
  for (int k = int(std::floor(from.x)) - 1; k <= int(std::ceil(to.x)); ++k)
    if (((k % every) + every) % every == 0) draw_line(true, k);
  for (int k = int(std::floor(from.y)) - 1; k <= int(std::ceil(to.y)); ++k)
    if (((k % every) + every) % every == 0) draw_line(false, k);
  paint.unclip();
}

void draw_breadboard(Paint& paint, const Camera& camera, const Breadboard& b, const Box& visible, bool under, int number) {
  const Layout& l = layout(b.layout);
  const MatArea plate = board_plate(b);
  const Box box = {camera.screen(plate.min), camera.screen(plate.max)};
  const float s = camera.scale, radius = 0.38f * s;
  paint.shadow(box, radius, 0.62f * s, {0, 0.26f * s}, 0.62f);
  paint.shadow(box, radius, 0.16f * s, {0, 0.08f * s}, 0.40f);
  // The side of the plate shows below its face: it is a block, not a sheet.
  paint.fill(rounded({box.min + ImVec2{0, 0.12f * s}, box.max + ImVec2{0, 0.13f * s}}, radius), rgb(theme::kBoardEdgeDark));
  paint.fill(rounded(box, radius), {box.min,
                                    {box.min.x, box.max.y},
                                    {{0, rgb(theme::kBoardTop)}, {0.5f, rgb(theme::kBoard)}, {1, rgb(theme::kBoardBottom)}}});
  const Box inner = box.grown(-std::max(0.045f * s, 0.7f));
  paint.stroke(rounded(inner, radius), std::max(0.055f * s, 0.9f), rgb(theme::kBoardEdgeLight, 0.85f));

  const auto row = [&](double y) { return camera.screen(0, b.origin.y + y).y; };
  const auto band = [&](double y0, double y1, const Fill& fill) {
    paint.fill(rounded({{box.min.x, row(y0)}, {box.max.x, row(y1)}}, 0), fill);
  };
  // Centre gap: a trench lit from above, its upper wall in shadow.
  const double gap0 = 4.82, gap1 = 6.18;
  band(gap0, gap1,
       {{0, row(gap0)},
        {0, row(gap1)},
        {{0, rgb(theme::kGapDark)}, {0.16f, rgb(theme::kGap)}, {0.88f, rgb(theme::kGap)}, {1, rgb(theme::kGapLight)}}});
  band(gap0, gap0 + 0.1, rgb(0xB3A88F));
  band(gap1, gap1 + 0.05, rgb(theme::kBoardEdgeLight, 0.8f));
  if (number > 0) {
    const char sign[] = {char('0' + number), ':', 0};
    paint.text(camera.screen(b.origin.x - 0.9, b.origin.y + 5.5), 0.5f, std::max(0.86f * s, 9.0f), rgb(theme::kCaseSmall), sign, Weight::kStrong);
  }
  if (l.rail_holes > 0) {
    for (double y : {-0.98, 11.98}) {
      band(y - 0.04, y + 0.02, rgb(theme::kSeam));
      band(y + 0.02, y + 0.07, rgb(theme::kBoardEdgeLight, 0.9f));
    }
    draw_rails(paint, camera, b, l);
  }
  if (under) draw_springs(paint, camera, b, l);
  draw_lettering(paint, camera, b, l);
  draw_holes(paint, camera, b, l, visible);
}

void draw_clip(Paint& paint, const Camera& camera, const Board& board, Hole hole, ImU32 fill, ImU32 line, bool as_it_is) {
  ImVec2 low = {1e9f, 1e9f}, high = {-1e9f, -1e9f};
  const Breadboard& b = board.breadboards[hole.breadboard];
  const Layout& l = layout(b.layout);
  const RailCuts cuts = as_it_is ? b.true_cuts() : b.cuts();
  const int strip = strip_of(l, cuts, hole.index);
  const bool rail = place_of(l, hole.index).on_rail;
  // A terminal strip's five holes follow one another; a rail is searched whole.
  const int first = rail ? l.columns * kRowsPerColumn : (hole.index / 5) * 5, last = rail ? l.hole_count() : first + 5;
  for (int i = first; i < last; ++i) {
    if (strip_of(l, cuts, i) != strip) continue;
    const GridPoint g = grid_of(l, i);
    const ImVec2 p = camera.screen(b.origin.x + g.x, b.origin.y + g.y);
    low = {std::min(low.x, p.x), std::min(low.y, p.y)}, high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  if (high.x < low.x) return;
  const float s = camera.scale;
  const Box box = Box{low, high}.grown(0.36f * s);
  paint.fill(rounded(box, 0.32f * s), fill);
  paint.stroke(rounded(box, 0.32f * s), std::max(1.2f, 0.058f * s), line);
}

void draw_hole_ring(Paint& paint, ImVec2 centre, float scale, ImU32 colour) {
  paint.stroke(circle(centre, 0.34f * scale), std::max(1.6f, 0.09f * scale), colour);
}

}  // namespace tiepoint
