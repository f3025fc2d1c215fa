#include "shell/bench/raster.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "shell/bench/sheet.h"

namespace tiepoint {
namespace {

constexpr int kSubBits = 8;  // 1/256 pixel
constexpr int kSub = 1 << kSubBits;

struct Corner {
  int64_t x, y;      // fixed point
  float u, v;        // texels
  float r, g, b, a;  // 0..255, alpha 0..1
};

struct Scissor {
  int x0, y0, x1, y1;  // x1, y1 exclusive
};

// Bilinear coverage at a texel position, texel centres at +0.5, clamped at the border: what GL_LINEAR gives.
float sample(const Coverage& t, float u, float v) {
  u -= 0.5f, v -= 0.5f;
  const float fu = std::floor(u), fv = std::floor(v);
  const float du = u - fu, dv = v - fv;
  const auto texel = [&](int x, int y) {
    x = std::clamp(x, 0, t.width - 1), y = std::clamp(y, 0, t.height - 1);
    return float(t.alpha[size_t(y) * size_t(t.width) + size_t(x)]);
  };
  const int x = int(fu), y = int(fv);
  const float top = texel(x, y) + (texel(x + 1, y) - texel(x, y)) * du;
  const float bottom = texel(x, y + 1) + (texel(x + 1, y + 1) - texel(x, y + 1)) * du;
  return (top + (bottom - top) * dv) * (1.0f / 255.0f);
}

void blend(uint8_t* d, float r, float g, float b, float a) {
  const float keep = 1.0f - a;
  d[0] = uint8_t(r * a + d[0] * keep + 0.5f);
  d[1] = uint8_t(g * a + d[1] * keep + 0.5f);
  d[2] = uint8_t(b * a + d[2] * keep + 0.5f);
  d[3] = uint8_t(255.0f * a + d[3] * keep + 0.5f);
}

// One edge a -> b of a triangle wound clockwise on the screen: e(p) >= 0 inside, 0 belongs to it on top and left edges only.
struct Edge {
  int64_t step_x, step_y, at;  // change of e per pixel to the right and down; e at the first pixel, bias included
  Edge(const Corner& a, const Corner& b, int64_t px, int64_t py) {
    const int64_t dx = b.x - a.x, dy = b.y - a.y;
    step_x = -dy * kSub;
    step_y = dx * kSub;
    at = dx * (py - a.y) - dy * (px - a.x);
    const bool top_left = dy < 0 || (dy == 0 && dx > 0);
    if (!top_left) at -= 1;
  }
};

void triangle(Corner a, Corner b, Corner c, const Scissor& s, const Coverage& atlas, Image& image) {
  int64_t area = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
  if (area == 0) return;
  if (area < 0) std::swap(b, c), area = -area;
  const auto floor_pixel = [](int64_t v) { return int(v >> kSubBits); };
  const int x0 = std::max(s.x0, floor_pixel(std::min({a.x, b.x, c.x})));
  const int y0 = std::max(s.y0, floor_pixel(std::min({a.y, b.y, c.y})));
  const int x1 = std::min(s.x1, floor_pixel(std::max({a.x, b.x, c.x})) + 1);
  const int y1 = std::min(s.y1, floor_pixel(std::max({a.y, b.y, c.y})) + 1);
  if (x0 >= x1 || y0 >= y1) return;

  const int64_t px = int64_t(x0) * kSub + kSub / 2, py = int64_t(y0) * kSub + kSub / 2;
  Edge bc(b, c, px, py), ca(c, a, px, py), ab(a, b, px, py);
  const float scale = 1.0f / float(area);
  const bool plain = a.u == b.u && a.u == c.u && a.v == b.v && a.v == c.v;
  const float flat_cover = plain ? sample(atlas, a.u, a.v) : 0;
  const bool one_colour =
      a.r == b.r && a.r == c.r && a.g == b.g && a.g == c.g && a.b == b.b && a.b == c.b && a.a == b.a && a.a == c.a;

  for (int y = y0; y < y1; ++y, bc.at += bc.step_y, ca.at += ca.step_y, ab.at += ab.step_y) {
    int64_t wa = bc.at, wb = ca.at, wc = ab.at;
    uint8_t* out = &image.rgba[4 * (size_t(y) * size_t(image.width) + size_t(x0))];
    for (int x = x0; x < x1; ++x, out += 4, wa += bc.step_x, wb += ca.step_x, wc += ab.step_x) {
      if ((wa | wb | wc) < 0) continue;
      if (one_colour && plain) {
        blend(out, a.r, a.g, a.b, a.a * flat_cover);
        continue;
      }
      const float fa = float(wa) * scale, fb = float(wb) * scale, fc = 1.0f - fa - fb;
      const float cover = plain ? flat_cover : sample(atlas, a.u * fa + b.u * fb + c.u * fc, a.v * fa + b.v * fb + c.v * fc);
      const float alpha = (a.a * fa + b.a * fb + c.a * fc) * cover;
      if (alpha <= 0) continue;
      blend(out, a.r * fa + b.r * fb + c.r * fc, a.g * fa + b.g * fb + c.g * fc, a.b * fa + b.b * fb + c.b * fc,
            std::min(alpha, 1.0f));
    }
  }
}

Corner corner(const ImDrawVert& v, const ImDrawData& data, const Coverage& atlas) {
  Corner c;
  // Far off-screen positions are clamped so that the products of edge functions stay within 64 bits.
  const auto fixed = [](float p) { return int64_t(std::lround(std::clamp(p, -60000.0f, 60000.0f) * float(kSub))); };
  c.x = fixed((v.pos.x - data.DisplayPos.x) * data.FramebufferScale.x);
  c.y = fixed((v.pos.y - data.DisplayPos.y) * data.FramebufferScale.y);
  c.u = v.uv.x * float(atlas.width);
  c.v = v.uv.y * float(atlas.height);
  c.r = float((v.col >> IM_COL32_R_SHIFT) & 255);
  c.g = float((v.col >> IM_COL32_G_SHIFT) & 255);
  c.b = float((v.col >> IM_COL32_B_SHIFT) & 255);
  c.a = float((v.col >> IM_COL32_A_SHIFT) & 255) * (1.0f / 255.0f);
  return c;
}

// Triangles with one clip rectangle.
void triangles(const ImDrawVert* vertex, const ImDrawIdx* index, unsigned count, const ImVec4& clip, const ImDrawData& data, const Coverage& atlas, Image& image) {
  const auto edge = [&](float p, float origin, float scale, int most) { return std::clamp(int(std::floor((p - origin) * scale + 0.5f)), 0, most); };
  const Scissor s{edge(clip.x, data.DisplayPos.x, data.FramebufferScale.x, image.width), edge(clip.y, data.DisplayPos.y, data.FramebufferScale.y, image.height),
                  edge(clip.z, data.DisplayPos.x, data.FramebufferScale.x, image.width), edge(clip.w, data.DisplayPos.y, data.FramebufferScale.y, image.height)};
  if (s.x0 >= s.x1 || s.y0 >= s.y1) return;
  for (unsigned i = 0; i + 2 < count; i += 3) {
    const ImDrawVert &a = vertex[index[i]], &b = vertex[index[i + 1]], &c = vertex[index[i + 2]];
    if (((a.col | b.col | c.col) & IM_COL32_A_MASK) == 0) continue;
    triangle(corner(a, data, atlas), corner(b, data, atlas), corner(c, data, atlas), s, atlas, image);
  }
}

}  // namespace

void Image::resize(int w, int h) {
  width = w, height = h;
  rgba.assign(size_t(w) * size_t(h) * 4, 0);
}

void Image::clear(ImU32 colour) {
  for (size_t i = 0; i < rgba.size(); i += 4) {
    rgba[i] = uint8_t(colour >> IM_COL32_R_SHIFT);
    rgba[i + 1] = uint8_t(colour >> IM_COL32_G_SHIFT);
    rgba[i + 2] = uint8_t(colour >> IM_COL32_B_SHIFT);
    rgba[i + 3] = uint8_t(colour >> IM_COL32_A_SHIFT);
  }
}

ImU32 Image::at(int x, int y) const {
  const uint8_t* p = &rgba[4 * (size_t(y) * size_t(width) + size_t(x))];
  return IM_COL32(p[0], p[1], p[2], p[3]);
}

Coverage atlas_coverage() {
  Coverage out;
  unsigned char* pixels = nullptr;
  ImGui::GetIO().Fonts->GetTexDataAsAlpha8(&pixels, &out.width, &out.height);
  out.alpha = pixels;
  return out;
}

void rasterise(const ImDrawData& data, const Coverage& atlas, Image& image) {
  for (const ImDrawList* list : data.CmdLists)
    for (const ImDrawCmd& command : list->CmdBuffer) {
      if (const Sheet* sheet = sheet_of(command)) {
        for (const SheetPiece& piece : sheet->pieces)
          triangles(sheet->vertices.data(), sheet->indices.data() + piece.first_index, piece.indices, clip_of(command, piece), data, atlas, image);
      } else if (!command.UserCallback) {
        triangles(list->VtxBuffer.Data + command.VtxOffset, list->IdxBuffer.Data + command.IdxOffset, command.ElemCount, command.ClipRect, data, atlas, image);
      }
    }
}

std::vector<uint8_t> to_ppm(const Image& image) {
  char head[40];
  const int length = std::snprintf(head, sizeof head, "P6\n%d %d\n255\n", image.width, image.height);
  std::vector<uint8_t> out(head, head + length);
  out.reserve(out.size() + size_t(image.width) * size_t(image.height) * 3);
  for (size_t i = 0; i + 3 < image.rgba.size(); i += 4) out.insert(out.end(), &image.rgba[i], &image.rgba[i] + 3);
  return out;
}

}  // namespace tiepoint
