#include "shell/bench/paint.h"

#include <algorithm>
#include <cmath>

#include "shell/bench/host.h"

#include "shell/bench/vector.h"

namespace tiepoint {

namespace {
constexpr float kPi = 3.14159265f;

// Corner points such that the chord strays less than about 0.1 px from the arc: sagitta r(1 - cos(step/2)).
int arc_points(float radius, float angle) {
  const float step = 2 * std::acos(1 - std::min(0.12f / std::max(radius, 0.13f), 0.9f));
  return std::clamp(int(std::ceil(angle / step)), 1, 30);
}

// Vertex normals of a closed clockwise outline, scaled so that moving along them by d moves both edges by d (limited at
// spikes).
void normals_of(const Outline& o, ImVec2* out) {
  for (int i = 0; i < o.n; ++i) {
    const ImVec2 before = unit(o.p[i] - o.p[(i + o.n - 1) % o.n]), after = unit(o.p[(i + 1) % o.n] - o.p[i]);
    const ImVec2 n0 = {before.y, -before.x}, n1 = {after.y, -after.x};
    const ImVec2 sum = (n0 + n1) * 0.5f;
    out[i] = sum * (1 / std::max(dot(sum, sum), 0.25f));
  }
}

// Points of the closed outline cut to the half plane  sign * (position(p) - t) >= 0.
void cut(const Outline& in, const Fill& fill, float t, float sign, Outline& out) {
  out.n = 0;
  for (int i = 0; i < in.n; ++i) {
    const ImVec2 a = in.p[i], b = in.p[(i + 1) % in.n];
    const float da = sign * (fill.position(a) - t), db = sign * (fill.position(b) - t);
    if (da >= 0) out.add(a);
    if ((da > 0 && db < 0) || (da < 0 && db > 0)) out.add(lerp(a, b, da / (da - db)));
  }
}

// Distinct neighbours only: double points have no normal.
void tidy(Outline& o) {
  int n = 0;
  for (int i = 0; i < o.n; ++i)
    if (n == 0 || std::fabs(o.p[i].x - o.p[n - 1].x) + std::fabs(o.p[i].y - o.p[n - 1].y) > 1e-3f) o.p[n++] = o.p[i];
  while (n > 1 && std::fabs(o.p[0].x - o.p[n - 1].x) + std::fabs(o.p[0].y - o.p[n - 1].y) < 1e-3f) --n;
  o.n = n;
}
}  // namespace

float length(ImVec2 v) { return std::sqrt(v.x * v.x + v.y * v.y); }
ImVec2 unit(ImVec2 v) {
  const float l = length(v);
  return l > 1e-9f ? ImVec2{v.x / l, v.y / l} : ImVec2{1, 0};
}
ImVec2 lerp(ImVec2 a, ImVec2 b, float t) { return {a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t}; }

Fill::Fill(ImVec2 from_, ImVec2 to_, std::initializer_list<Stop> list) : from(from_), to(to_) {
  for (const Stop& s : list)
    if (count < 5) stops[count++] = s;
}

float Fill::position(ImVec2 p) const {
  const ImVec2 d = to - from;
  return dot(p - from, d) / std::max(dot(d, d), 1e-9f);
}

ImU32 Fill::at(float t) const {
  if (count == 1 || t <= stops[0].at) return stops[0].colour;
  for (int i = 1; i < count; ++i)
    if (t <= stops[i].at)
      return theme::mix(stops[i - 1].colour, stops[i].colour,
                        (t - stops[i - 1].at) / std::max(stops[i].at - stops[i - 1].at, 1e-6f));
  return stops[count - 1].colour;
}

void Outline::arc(ImVec2 c, float rx, float ry, float a, float b) {
  const int steps = arc_points(std::max(rx, ry), std::fabs(b - a));
  for (int i = 0; i <= steps; ++i) {
    const float angle = a + (b - a) * float(i) / float(steps);
    add({c.x + rx * std::cos(angle), c.y + ry * std::sin(angle)});
  }
}

Outline ellipse(ImVec2 centre, float rx, float ry) {
  Outline o;
  const int n = std::clamp(arc_points(std::max(rx, ry), 2 * kPi) * 2, 12, 72);
  for (int i = 0; i < n; ++i) {
    const float a = 2 * kPi * float(i) / float(n);
    o.add({centre.x + rx * std::cos(a), centre.y + ry * std::sin(a)});
  }
  return o;
}
Outline circle(ImVec2 centre, float radius) { return ellipse(centre, radius, radius); }

Outline rounded(ImVec2 centre, ImVec2 half, float radius, ImVec2 axis) {
  Outline o;
  radius = std::clamp(radius, 0.0f, std::min(half.x, half.y));
  const ImVec2 side = across(axis);
  const auto corner = [&](float sx, float sy, float start) {
    const ImVec2 c = centre + axis * (sx * (half.x - radius)) + side * (sy * (half.y - radius));
    if (radius < 0.05f) return o.add(c);
    const int steps = arc_points(radius, kPi / 2);
    for (int i = 0; i <= steps; ++i) {
      const float a = start + kPi / 2 * float(i) / float(steps);
      o.add(c + axis * (radius * std::cos(a)) + side * (radius * std::sin(a)));
    }
  };
  corner(-1, -1, kPi), corner(1, -1, 1.5f * kPi), corner(1, 1, 0), corner(-1, 1, 0.5f * kPi);
  return o;
}
Outline rounded(const Box& box, float radius) { return rounded(box.centre(), box.size() * 0.5f, radius); }

Outline polygon(std::initializer_list<ImVec2> points) {
  Outline o;
  for (ImVec2 p : points) o.add(p);
  return o;
}

void Paint::begin(ImDrawList* target, float dpr) {
  list = target;
  px = 1 / dpr;
  opacity = 1;
  uv_ = ImGui::GetFontTexUvWhitePixel();
}

Index Paint::reserve(int indices, int vertices) {
  list->PrimReserve(indices, vertices);
  return Index(list->_VtxCurrentIdx);
}

void Paint::quad(Index a, Index b, Index c, Index d) {
  for (Index i : {a, b, c, a, c, d}) list->PrimWriteIdx(i);
}

void Paint::fan(const Outline& o, const Fill& fill) {
  if (o.n < 3) return;
  const Index first = reserve((o.n - 2) * 3, o.n);
  for (int i = 0; i < o.n; ++i) put(o.p[i], ink(fill.count == 1 ? fill.stops[0].colour : fill.at(fill.position(o.p[i]))));
  for (int i = 2; i < o.n; ++i) {
    list->PrimWriteIdx(first);
    list->PrimWriteIdx(Index(first + Index(i - 1)));
    list->PrimWriteIdx(Index(first + Index(i)));
  }
}

void Paint::fill(const Outline& given, const Fill& fill) {
  if (vector) return vector->fill(given, fill, opacity);
  Outline o = given;
  tidy(o);
  if (o.n < 3) return;
  // Insert points where stops cross the rim, so that the softened edge carries the right colours.
  if (fill.count > 1) {
    for (int s = 0; s < fill.count; ++s) {
      Outline with;
      for (int i = 0; i < o.n; ++i) {
        const ImVec2 a = o.p[i], b = o.p[(i + 1) % o.n];
        const float da = fill.position(a) - fill.stops[s].at, db = fill.position(b) - fill.stops[s].at;
        with.add(a);
        if ((da > 1e-4f && db < -1e-4f) || (da < -1e-4f && db > 1e-4f)) with.add(lerp(a, b, da / (da - db)));
      }
      o = with;
    }
    tidy(o);
  }
  ImVec2 normal[Outline::kMost];
  normals_of(o, normal);
  const float half = px * 0.5f;
  {
    const Index first = reserve(o.n * 6, o.n * 2);
    for (int i = 0; i < o.n; ++i) {
      const ImU32 c = ink(fill.at(fill.position(o.p[i])));
      put(o.p[i] - normal[i] * half, c);
      put(o.p[i] + normal[i] * half, c & ~ImU32(IM_COL32_A_MASK));
    }
    for (int i = 0; i < o.n; ++i) {
      const Index a = Index(first + Index(2 * i)), b = Index(first + Index(2 * ((i + 1) % o.n)));
      quad(a, Index(a + 1), Index(b + 1), b);
    }
  }
  for (int i = 0; i < o.n; ++i) o.p[i] = o.p[i] - normal[i] * half;
  if (fill.count < 3) return fan(o, fill);
  Outline above, slice;
  for (int s = 0; s + 1 < fill.count; ++s) {
    const bool first = s == 0, last = s + 2 == fill.count;
    if (first)
      above = o;
    else
      cut(o, fill, fill.stops[s].at, 1, above);
    if (last)
      slice = above;
    else
      cut(above, fill, fill.stops[s + 1].at, -1, slice);
    fan(slice, fill);
  }
}

void Paint::stroke(const Outline& given, float width, ImU32 colour) {
  colour = drawn(colour);
  if (vector) return vector->stroke(given, width, ink(colour));
  Outline o = given;
  tidy(o);
  if (o.n < 3) return;
  colour = ink(colour);
  if (width < px) colour = theme::fade(colour, width / px), width = px;
  ImVec2 normal[Outline::kMost];
  normals_of(o, normal);
  const float in = std::max(width - px, 0.0f) * 0.5f, out = in + px;
  const float offsets[4] = {-out, -in, in, out};
  const ImU32 clear = colour & ~ImU32(IM_COL32_A_MASK);
  const Index first = reserve(o.n * 18, o.n * 4);
  for (int i = 0; i < o.n; ++i)
    for (int k = 0; k < 4; ++k) put(o.p[i] + normal[i] * offsets[k], k == 0 || k == 3 ? clear : colour);
  for (int i = 0; i < o.n; ++i)
    for (int k = 0; k < 3; ++k) {
      const Index a = Index(first + Index(4 * i + k)), b = Index(first + Index(4 * ((i + 1) % o.n) + k));
      quad(a, Index(a + 1), Index(b + 1), b);
    }
}

namespace {
// Shade of a profile at `at`, between its columns.
float profile_at(std::span<const Across> profile, float at) {
  if (at <= profile.front().at) return profile.front().shade;
  for (size_t i = 1; i < profile.size(); ++i)
    if (at <= profile[i].at) {
      const float t = (at - profile[i - 1].at) / std::max(profile[i].at - profile[i - 1].at, 1e-6f);
      return profile[i - 1].shade + (profile[i].shade - profile[i - 1].shade) * t;
    }
  return profile.back().shade;
}
}  // namespace

// Of a body's edge where more contrast is asked for: 3 : 1 against the board for any colour, WCAG 2.2, 1.4.11.
constexpr float kEdgeShade = -0.75f;

void Paint::body(std::span<const Station> s, std::span<const Across> profile, bool lit_from_top) {
  if (vector) return vector->body(s, profile, opacity);
  constexpr int kMostColumns = 16;
  const int n = int(s.size()), inner = std::min(int(profile.size()), kMostColumns), columns = inner + 2;
  if (n < 2) return;
  // The same profile seen from its other side, for stretches that run to the left: the light always comes from above.
  float mirrored[kMostColumns];
  for (int k = 0; k < inner; ++k) mirrored[k] = profile_at(profile, -profile[size_t(k)].at);
  const Index first = reserve((n - 1) * (columns - 1) * 6, n * columns);
  const float half = px * 0.5f;
  for (int i = 0; i < n; ++i) {
    const ImVec2 before = i > 0 ? unit(s[i].p - s[i - 1].p) : unit(s[1].p - s[0].p);
    const ImVec2 after = i + 1 < n ? unit(s[i + 1].p - s[i].p) : before;
    ImVec2 direction = unit(before + after);
    if (i > 0 && length(s[i].p - s[i - 1].p) < 1e-4f) direction = i + 1 < n ? after : before;
    const ImVec2 normal = across(direction);
    // Column -1 lies on the side of -normal; the light falls from the upper left.
    const float lit = lit_from_top ? std::clamp(0.5f + 1.5f * dot(normal, {0.35f, 0.94f}), 0.0f, 1.0f) : 1.0f;
    const float r = std::max(s[i].radius - half, 0.0f), edge = s[i].radius + half;
    const auto tone = [&](int k) {
      if (more_contrast && lit_from_top && (k == 0 || k == inner - 1)) return ink(theme::shade(s[i].colour, kEdgeShade));
      const float plain = profile[size_t(k)].shade;
      return ink(theme::shade(s[i].colour, plain * lit + mirrored[k] * (1 - lit)));
    };
    put(s[i].p - normal * edge, tone(0) & ~ImU32(IM_COL32_A_MASK));
    for (int k = 0; k < inner; ++k) put(s[i].p + normal * (profile[size_t(k)].at * r), tone(k));
    put(s[i].p + normal * edge, tone(inner - 1) & ~ImU32(IM_COL32_A_MASK));
  }
  for (int i = 0; i + 1 < n; ++i)
    for (int k = 0; k + 1 < columns; ++k) {
      const Index a = Index(first + Index(i * columns + k)), b = Index(a + Index(columns));
      quad(a, Index(a + 1), Index(b + 1), b);
    }
}

void Paint::tube(std::span<const ImVec2> points, float radius, ImU32 colour, bool round_ends) {
  static constexpr Across kRound[] = {{-1, -0.22f},   {-0.72f, 0.02f}, {-0.34f, 0.34f},
                                      {0.02f, 0.10f}, {0.5f, -0.06f},  {1, -0.36f}};
  const int n = int(points.size());
  if (n < 2) return;
  if (vector) {
    vector->line(points, 2 * radius, ink(theme::shade(colour, -0.12f)));
    return vector->line(points, 0.8f * radius, ink(theme::shade(colour, 0.25f)));
  }
  stations_.clear();
  const int cap = round_ends ? std::clamp(int(radius), 2, 6) : 0;
  const auto end = [&](ImVec2 p, ImVec2 outward, bool opening) {
    for (int k = 0; k < cap; ++k) {
      const float a = kPi / 2 * float(opening ? k : cap - 1 - k) / float(cap);  // 0 at the tip
      stations_.push_back({p + outward * (radius * std::cos(a)), radius * std::sin(a), colour});
    }
  };
  end(points[0], unit(points[0] - points[1]), true);
  for (ImVec2 p : points) stations_.push_back({p, radius, colour});
  end(points[size_t(n - 1)], unit(points[size_t(n - 1)] - points[size_t(n - 2)]), false);
  body(stations_, kRound);
}

void Paint::path(std::span<const ImVec2> points, float width, ImU32 colour) {
  colour = drawn(colour);
  if (vector) return vector->line(points, width, ink(colour));
  static constexpr Across kFlat[] = {{-1, 0}, {1, 0}};
  const int n = int(points.size());
  if (n < 2) return;
  if (width < px) colour = theme::fade(colour, width / px), width = px;
  const float radius = width / 2;
  stations_.clear();
  const int cap = std::clamp(int(radius * 1.5f) + 1, 2, 6);
  const ImVec2 first = unit(points[0] - points[1]), last = unit(points[size_t(n - 1)] - points[size_t(n - 2)]);
  for (int k = 0; k < cap; ++k) {
    const float a = kPi / 2 * float(k) / float(cap);
    stations_.push_back({points[0] + first * (radius * std::cos(a)), radius * std::sin(a), colour});
  }
  for (ImVec2 p : points) stations_.push_back({p, radius, colour});
  for (int k = cap - 1; k >= 0; --k) {
    const float a = kPi / 2 * float(k) / float(cap);
    stations_.push_back({points[size_t(n - 1)] + last * (radius * std::cos(a)), radius * std::sin(a), colour});
  }
  body(stations_, kFlat, false);
}

void Paint::trace(std::span<const ImVec2> points, float width, ImU32 colour) {
  if (vector) return vector->line(points, width, ink(colour));
  list->AddPolyline(points.data(), int(points.size()), colour, 0, width);
}

void Paint::thin(ImVec2 a, ImVec2 b, float width, ImU32 colour) {
  const ImVec2 points[2] = {a, b};
  vector ? vector->line(points, width, ink(colour)) : list->AddLine(a, b, colour, width);
}

void Paint::bar(const Box& box, ImU32 colour) {
  vector ? vector->fill(polygon({box.min, {box.max.x, box.min.y}, box.max, {box.min.x, box.max.y}}), colour, opacity) : list->AddRectFilled(box.min, box.max, colour);
}

void Paint::triangle(ImVec2 a, ImVec2 b, ImVec2 c, ImU32 colour) {
  vector ? vector->fill(polygon({a, b, c}), colour, opacity) : list->AddTriangleFilled(a, b, c, colour);
}

void Paint::clip(const Box& box) { vector ? vector->clip(box) : list->PushClipRect(box.min, box.max, true); }

void Paint::unclip() { vector ? vector->unclip() : list->PopClipRect(); }

void Paint::line(ImVec2 a, ImVec2 b, float width, ImU32 colour) {
  const ImVec2 points[2] = {a, b};
  path(points, width, colour);
}

namespace {
std::vector<ImVec2> moved(std::span<const ImVec2> points, ImVec2 by) {
  std::vector<ImVec2> out;
  for (const ImVec2 p : points) out.push_back(p + by);
  return out;
}
}  // namespace

void Paint::path_shadow(std::span<const ImVec2> points, float radius, float blur, ImVec2 offset, float alpha) {
  const int n = int(points.size());
  if (n < 2) return;
  if (vector) {
    const std::vector<ImVec2> below = moved(points, offset);
    return vector->line_shadow(below, 2 * radius, blur, ink(theme::rgb(theme::kShadow, alpha)));
  }
  static constexpr float kAt[] = {-1, -0.5f, 0, 0.5f, 1};
  static constexpr float kAlpha[] = {0, 0.42f, 1, 0.42f, 0};
  const float wide = radius + blur;
  const Index first = reserve((n + 1) * 4 * 6, (n + 2) * 5);
  for (int i = -1; i <= n; ++i) {
    const int k = std::clamp(i, 0, n - 1);
    const ImVec2 before = k > 0 ? unit(points[size_t(k)] - points[size_t(k - 1)]) : unit(points[1] - points[0]);
    const ImVec2 after = k + 1 < n ? unit(points[size_t(k + 1)] - points[size_t(k)]) : before;
    const ImVec2 direction = unit(before + after), side = across(direction);
    const bool beyond = i < 0 || i >= n;
    const ImVec2 p = points[size_t(k)] + offset + direction * (beyond ? (i < 0 ? -wide : wide) : 0.0f);
    for (int c = 0; c < 5; ++c)
      put(p + side * (kAt[c] * wide * (beyond ? 0.6f : 1.0f)), ink(theme::rgb(theme::kShadow, beyond ? 0 : alpha * kAlpha[c])));
  }
  for (int i = 0; i <= n; ++i)
    for (int c = 0; c < 4; ++c) {
      const Index a = Index(first + Index(i * 5 + c)), b = Index(a + 5);
      quad(a, Index(a + 1), Index(b + 1), b);
    }
}

void Paint::rings(int loops, int points, const ImVec2* at, const ImU32* colour, bool closed_middle) {
  const Index first = reserve((loops - 1) * points * 6 + (closed_middle ? (points - 2) * 3 : 0), loops * points);
  for (int l = 0; l < loops; ++l)
    for (int i = 0; i < points; ++i) put(at[l * points + i], colour[l]);
  for (int l = 0; l + 1 < loops; ++l)
    for (int i = 0; i < points; ++i) {
      const int j = (i + 1) % points;
      quad(Index(first + Index(l * points + i)), Index(first + Index((l + 1) * points + i)),
           Index(first + Index((l + 1) * points + j)), Index(first + Index(l * points + j)));
    }
  if (closed_middle)
    for (int i = 2; i < points; ++i) {
      list->PrimWriteIdx(first);
      list->PrimWriteIdx(Index(first + Index(i - 1)));
      list->PrimWriteIdx(Index(first + Index(i)));
    }
}

void Paint::shadow(ImVec2 centre, ImVec2 half, float radius, ImVec2 axis, float blur, float alpha) {
  if (vector) return vector->shadow(rounded(centre, half, radius, axis), blur, ink(theme::rgb(theme::kShadow, alpha)));
  // Profile of a blurred edge: the normal distribution's sum over [-1, 1] blur widths, from inside out.
  static constexpr float kAt[] = {-1.0f, -0.6f, -0.3f, 0.0f, 0.3f, 0.6f, 1.0f};
  static constexpr float kAlpha[] = {1.0f, 0.90f, 0.74f, 0.5f, 0.26f, 0.10f, 0.0f};
  constexpr int kLoops = 7, kCorner = 6, kPoints = 4 * kCorner;
  ImVec2 at[kLoops * kPoints];
  ImU32 colour[kLoops];
  const ImVec2 side = across(axis);
  for (int l = 0; l < kLoops; ++l) {
    const float d = kAt[l] * blur;
    const ImVec2 h = {std::max(half.x + d, 0.5f), std::max(half.y + d, 0.5f)};
    const float r = std::clamp(radius + std::max(d, 0.0f) + blur * 0.4f, 0.1f, std::min(h.x, h.y));
    colour[l] = ink(theme::rgb(theme::kShadow, alpha * kAlpha[l]));
    static constexpr float kSx[] = {-1, 1, 1, -1}, kSy[] = {-1, -1, 1, 1}, kStart[] = {kPi, 1.5f * kPi, 0, 0.5f * kPi};
    for (int c = 0; c < 4; ++c)
      for (int i = 0; i < kCorner; ++i) {
        const float a = kStart[c] + kPi / 2 * float(i) / float(kCorner - 1);
        const float x = kSx[c] * (h.x - r) + r * std::cos(a), y = kSy[c] * (h.y - r) + r * std::sin(a);
        at[l * kPoints + c * kCorner + i] = centre + axis * x + side * y;
      }
  }
  rings(kLoops, kPoints, at, colour, true);
}

void Paint::shadow(const Box& box, float radius, float blur, ImVec2 offset, float alpha) {
  shadow(box.centre() + offset, box.size() * 0.5f, radius, {1, 0}, blur, alpha);
}

void Paint::glow(ImVec2 centre, float rx, float ry, std::span<const Fill::Stop> stops) {
  if (vector) return vector->glow(centre, rx, ry, stops, opacity);
  constexpr int kPoints = 56, kMostLoops = 12;
  ImVec2 at[kMostLoops * kPoints];
  ImU32 colour[kMostLoops];
  const int loops = std::min(int(stops.size()), kMostLoops);
  for (int l = 0; l < loops; ++l) {
    colour[l] = ink(stops[size_t(l)].colour);
    for (int i = 0; i < kPoints; ++i) {
      const float a = 2 * kPi * float(i) / float(kPoints), r = std::max(stops[size_t(l)].at, 0.001f);
      at[l * kPoints + i] = {centre.x + rx * r * std::cos(a), centre.y + ry * r * std::sin(a)};
    }
  }
  rings(loops, kPoints, at, colour, true);
}

void Paint::hole(ImVec2 c, float r, ImU32 rim, ImU32 top, ImU32 bottom) {
  rim = drawn(rim);
  if (vector) return vector->hole(c, r, rim, theme::mix(top, bottom, 0.4f));
  // Four octagons: the softened outside, the rim twice, the dark mouth; then the mouth filled, darker at its top.
  const float out = r * 1.42f, mouth = r, f = px * 0.5f;
  const float half[4] = {out + f, out - f, mouth + f, mouth - f};
  const float cut_[4] = {r * 0.52f, r * 0.50f, r * 0.32f, r * 0.28f};
  const ImU32 clear = rim & ~ImU32(IM_COL32_A_MASK);
  const Index first = reserve(3 * 8 * 6 + 6 * 3, 32);
  for (int l = 0; l < 4; ++l) {
    const float h = half[l], k = h - cut_[l];
    const ImVec2 p[8] = {{-k, -h}, {k, -h}, {h, -k}, {h, k}, {k, h}, {-k, h}, {-h, k}, {-h, -k}};
    for (int i = 0; i < 8; ++i) put(c + p[i], l == 0 ? clear : l < 3 ? rim : (i <= 2 || i == 7 ? top : bottom));
  }
  for (int l = 0; l < 3; ++l)
    for (int i = 0; i < 8; ++i) {
      const int j = (i + 1) & 7;
      quad(Index(first + Index(l * 8 + i)), Index(first + Index(l * 8 + j)), Index(first + Index(l * 8 + 8 + j)),
           Index(first + Index(l * 8 + 8 + i)));
    }
  for (int i = 2; i < 8; ++i) {
    list->PrimWriteIdx(Index(first + 24));
    list->PrimWriteIdx(Index(first + Index(24 + i - 1)));
    list->PrimWriteIdx(Index(first + Index(24 + i)));
  }
}

}  // namespace tiepoint
