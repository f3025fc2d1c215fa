// A note: a slip of paper with what somebody wrote on it, and a pointer like a pin on a thread.
#include <algorithm>

#include "shell/bench/draw.h"
#include "shell/bench/draw_kinds.h"
#include "shell/bench/draw_kit.h"
#include "shell/bench/host.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {
constexpr float kEm = 0.66f, kLine = 0.92f, kAround = 0.42f;  // hole steps: type, from line to line, paper beside the words
constexpr float kHalfWidth = 3.7f;
constexpr int kMostLines = 8, kLettersInALine = 19;  // of common words at this size
}  // namespace

ImVec2 note_half(const Part& part) {
  int letters = 0, lines = 1;
  for (const char c : part.label) {
    if (c == '\n' || letters >= kLettersInALine) ++lines, letters = 0;
    letters += (static_cast<unsigned char>(c) & 0xC0) != 0x80 && c != '\n';
  }
  return {kHalfWidth, kAround + kLine * float(std::min(lines, kMostLines)) / 2};
}

void kit::draw_note(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale;
  const Box box = {pose.centre - pose.half, pose.centre + pose.half};
  if (!look.in_box) paint.shadow(box, 0.1f * s, 0.3f * s, {0.05f * s, 0.14f * s}, 0.34f);
  // A corner turned up.
  const float fold = std::min(0.6f * s, pose.half.y);
  const ImVec2 corner = box.max;
  paint.fill(
      polygon(
          {box.min, {corner.x, box.min.y}, {corner.x, corner.y - fold}, {corner.x - fold, corner.y}, {box.min.x, corner.y}}),
      {box.min,
       {box.min.x, box.max.y},
       {{0, theme::rgb(theme::kNotePaper)}, {1, theme::shade(theme::rgb(theme::kNotePaper), -0.05f)}}});
  paint.fill(polygon({{corner.x, corner.y - fold}, {corner.x - fold, corner.y}, {corner.x - fold, corner.y - fold}}),
             theme::shade(theme::rgb(theme::kNotePaper), -0.2f));
  const bool empty = part.label.empty();
  const std::string_view words = empty ? say("bench.note.empty") : std::string_view(part.label);
  const ImU32 ink = theme::rgb(theme::kCardText, empty ? 0.62f : 1);
  const ImFont* font = fonts::body();
  const float room = 2 * pose.half.x - 2 * kAround * s;
  // Smaller type until all of it has a place.
  for (float em = kEm * s;; em *= 0.88f) {
    // As wide as Paint writes it.
    const float line = em * kLine / kEm,
                scale = paint.text_width(em, "nnnn") / font->CalcTextSizeA(font->FontSize, 1e6f, 0, "nnnn").x;
    std::string_view lines[4 * kMostLines];
    size_t n = 0;
    const char *at = words.data(), *end = at + words.size();
    while (at < end && n < std::size(lines)) {
      const char* brk = std::find(at, end, '\n');
      const char* stop = font->CalcWordWrapPositionA(scale, at, brk, room);
      if (stop == at) stop = std::min(at + 1, end);
      lines[n++] = {at, size_t(stop - at)};
      at = stop;
      while (at < end && (*at == ' ' || *at == '\n')) ++at;
    }
    if (float(n) * line > 2 * pose.half.y - 0.3f * s && em > 0.3f * s) continue;
    for (size_t k = 0; k < n; ++k) {
      const float y = pose.centre.y + (float(k) - float(n - 1) / 2) * line;
      paint.text({box.min.x + kAround * s, y}, 0, em, ink, lines[k]);
    }
    return;
  }
}

// A thread to the hole with a pin in it; without a hole the pin stands in the paper's edge, to be pulled.
void draw_pointer(Paint& paint, const Pose& pose) {
  const float s = pose.scale;
  const ImU32 red = theme::rgb(theme::kNotePin);
  const ImVec2 tip = pose.lead[0], low = pose.centre - pose.half, high = pose.centre + pose.half;
  const ImVec2 from = {std::clamp(tip.x, low.x, high.x), std::clamp(tip.y, low.y, high.y)};  // where the paper is nearest
  paint.line(from, tip, 0.09f * s, theme::rgb(theme::kNotePin, 0.85f));
  paint.fill(circle(pose.lead[0] + ImVec2{0.03f * s, 0.1f * s}, 0.26f * s), theme::rgb(theme::kShadow, 0.35f));
  paint.fill(circle(pose.lead[0], 0.25f * s), red);
  paint.fill(circle(pose.lead[0] - ImVec2{0.07f * s, 0.08f * s}, 0.09f * s), theme::shade(red, 0.45f));
}

}  // namespace tiepoint
