// Words and marks over the bench: notes near the pointer, pills with a reading.
#include <algorithm>
#include <cfloat>

#include "shell/bench/host.h"
#include "shell/bench/theme.h"
#include "shell/bench/tool.h"

namespace tiepoint {

std::string sentence(std::string words) {
  if (words.empty()) return words;
  if (words[0] >= 'a' && words[0] <= 'z') words[0] = char(words[0] - 'a' + 'A');
  const char last = words.back();
  if (last != '.' && last != '!' && last != '?') words += '.';
  return words;
}

void draw_note(Paint& paint, ImVec2 near, std::string_view words, uint32_t accent, const Box& room) {
  if (words.empty()) return;
  constexpr float kEm = 12.4f, kLine = 17, kPadX = 12, kPadY = 8, kBar = 4;
  const float most = std::min(330.0f, room.size().x - 2 * kPadX - 24);
  const ImFont* font = fonts::body();
  const float scale = fonts::kBodySize / font->FontSize;
  // Lines broken at spaces.
  std::string_view lines[4];
  int n = 0;
  float width = 0;
  const char *at = words.data(), *end = at + words.size();
  while (at < end && n < 4) {
    const char* stop = n == 3 ? end : font->CalcWordWrapPositionA(scale, at, end, most);
    if (stop == at) stop = end;
    lines[n] = {at, size_t(stop - at)};
    width = std::max(width, paint.text_width(kEm, lines[n]));
    ++n;
    at = stop;
    while (at < end && *at == ' ') ++at;
  }
  const ImVec2 size = {width + 2 * kPadX + kBar, float(n) * kLine + 2 * kPadY};
  ImVec2 corner = near + ImVec2{18, 20};
  if (corner.x + size.x > room.max.x - 8) corner.x = near.x - size.x - 14;
  if (corner.y + size.y > room.max.y - 8) corner.y = near.y - size.y - 18;
  corner.x = std::clamp(corner.x, room.min.x + 8, std::max(room.min.x + 8, room.max.x - size.x - 8));
  corner.y = std::clamp(corner.y, room.min.y + 8, std::max(room.min.y + 8, room.max.y - size.y - 8));
  const Box card = {corner, corner + size};
  paint.shadow(card, 8, 12, {0, 4}, 0.5f);
  paint.fill(rounded(card, 8), theme::rgb(theme::kPill, 0.97f));
  paint.fill(rounded({card.min + ImVec2{5, 6}, {card.min.x + 5 + kBar, card.max.y - 6}}, kBar / 2), theme::rgb(accent));
  for (int i = 0; i < n; ++i)
    paint.text({card.min.x + kPadX + kBar + 2, card.min.y + kPadY + kLine * (float(i) + 0.5f)}, 0, kEm,
               theme::rgb(theme::kPillText), lines[i]);
}

void draw_pill(Paint& paint, ImVec2 centre, std::string_view words) {
  constexpr float kEm = 11.5f;
  const float half = paint.text_width(kEm, words) / 2 + 9;
  const Box box = {{centre.x - half, centre.y - 10}, {centre.x + half, centre.y + 10}};
  paint.fill(rounded(box, 10), theme::rgb(theme::kPill, 0.92f));
  paint.text(centre, 0.5f, kEm, theme::rgb(theme::kPillText), words);
}

}  // namespace tiepoint
