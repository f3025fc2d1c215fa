// Text and curves of Paint.
#include <algorithm>
#include <cmath>

#include "shell/bench/bidi.h"
#include "shell/bench/host.h"
#include "shell/bench/paint.h"
#include "shell/bench/vector.h"

namespace tiepoint {
namespace {

// ImGui measures a font by its line: ascent 0.96875 + descent 0.2412 em for Inter. The middle of its capitals (0.727 em high)
// then lies half a line down.
constexpr float kLine = 1.21f;

ImFont* face(Weight weight, float em, std::string_view words) {
  fonts::require(words);
  if (weight == Weight::kStrong) return fonts::strong();
  if (weight == Weight::kLarge || em > 19) return fonts::large();
  return fonts::body();
}

int steps_for(float reach) { return std::clamp(int(reach / 7) + 6, 8, 48); }

}  // namespace

void Paint::text(ImVec2 at, float anchor, float em, ImU32 colour, std::string_view words, Weight weight) {
  if (words.empty()) return;
  colour = drawn(colour);
  if (vector) {
    const float width = text_width(em, words, weight);
    return vector->text({at.x - anchor * width, at.y}, em, width, ink(colour), words, weight == Weight::kStrong, false);
  }
  const std::string shown = visual_order(words);
  const ImFont* font = face(weight, em, shown);
  const float size = em * kLine;
  // On a device pixel, or the letters blur.
  const float x = std::round((at.x - anchor * text_width(em, words, weight)) / px) * px;
  const float y = std::round((at.y - size * 0.5f) / px) * px;
  list->AddText(font, size, {x, y}, ink(colour), shown.data(), shown.data() + shown.size());
}

float Paint::text_width(float em, std::string_view words, Weight weight) const {
  if (words.empty()) return 0;
  return face(weight, em, words)->CalcTextSizeA(em * kLine, FLT_MAX, 0, words.data(), words.data() + words.size()).x;
}

void Paint::text_upright(ImVec2 at, float em, ImU32 colour, std::string_view words) {
  colour = drawn(colour);
  const float w = text_width(em, words), h = em * kLine;
  if (vector) return vector->text({at.x, at.y + w / 2}, em, w, ink(colour), words, false, true);
  const int first = list->VtxBuffer.Size;
  const std::string shown = visual_order(words);
  const ImFont* font = face(Weight::kBody, em, shown);
  const ImVec2 corner = {std::floor(at.x - w / 2), std::floor(at.y - h / 2)};
  list->AddText(font, h, corner, ink(colour), shown.data(), shown.data() + shown.size());
  const ImVec2 middle = corner + ImVec2{w / 2, h / 2};
  for (int i = first; i < list->VtxBuffer.Size; ++i) {
    const ImVec2 d = list->VtxBuffer[i].pos - middle;
    list->VtxBuffer[i].pos = at + ImVec2{d.y, -d.x};
  }
}

std::span<const ImVec2> Paint::quadratic(ImVec2 a, ImVec2 b, ImVec2 c) {
  const int steps = steps_for(length(b - a) + length(c - b));
  curve_.clear();
  for (int i = 0; i <= steps; ++i) {
    const float t = float(i) / float(steps), u = 1 - t;
    curve_.push_back(a * (u * u) + b * (2 * u * t) + c * (t * t));
  }
  return curve_;
}

std::span<const ImVec2> Paint::cubic(ImVec2 a, ImVec2 b, ImVec2 c, ImVec2 d) {
  const int steps = steps_for(length(b - a) + length(c - b) + length(d - c));
  curve_.clear();
  for (int i = 0; i <= steps; ++i) {
    const float t = float(i) / float(steps), u = 1 - t;
    curve_.push_back(a * (u * u * u) + b * (3 * u * u * t) + c * (3 * u * t * t) + d * (t * t * t));
  }
  return curve_;
}

std::span<const ImVec2> Paint::smooth(std::span<const ImVec2> q) {
  curve_.clear();
  const int n = int(q.size());
  if (n == 0) return curve_;
  for (int i = 0; i + 1 < n; ++i) {
    const ImVec2 p0 = q[size_t(std::max(i - 1, 0))], p1 = q[size_t(i)], p2 = q[size_t(i + 1)],
                 p3 = q[size_t(std::min(i + 2, n - 1))];
    const int steps = steps_for(length(p2 - p1));
    for (int k = 0; k < steps; ++k) {
      const float t = float(k) / float(steps);
      // Catmull-Rom: cubic through p1, p2 with tangents (p2 - p0)/2 and (p3 - p1)/2.
      const ImVec2 a = p1 * 2.0f, b = p2 - p0, c = p0 * 2.0f - p1 * 5.0f + p2 * 4.0f - p3, d = (p1 - p2) * 3.0f + p3 - p0;
      curve_.push_back((a + b * t + c * (t * t) + d * (t * t * t)) * 0.5f);
    }
  }
  curve_.push_back(q[size_t(n - 1)]);
  return curve_;
}

}  // namespace tiepoint
