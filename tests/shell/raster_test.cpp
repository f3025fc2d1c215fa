// The software rasteriser against the rules of OpenGL: each pixel centre belongs to one of two triangles that share an edge.
#include "shell/bench/raster.h"

#include <gtest/gtest.h>

#include <cmath>

#include "imgui_internal.h"

namespace tiepoint {
namespace {

// One opaque white texel.
constexpr uint8_t kWhiteTexel[1] = {255};
constexpr Coverage kWhite = {kWhiteTexel, 1, 1};

struct Sheet {
  ImDrawListSharedData shared;
  ImDrawList list{&shared};
  ImDrawData data;
  Image image;
  Sheet(int width, int height) {
    list._ResetForNewFrame();
    list.PushClipRect({0, 0}, {float(width), float(height)});
    list.PushTextureID(nullptr);
    image.resize(width, height);
  }
  void triangle(ImVec2 a, ImVec2 b, ImVec2 c, ImU32 ca, ImU32 cb, ImU32 cc) {
    list.PrimReserve(3, 3);
    list.PrimVtx(a, {0.5f, 0.5f}, ca), list.PrimVtx(b, {0.5f, 0.5f}, cb), list.PrimVtx(c, {0.5f, 0.5f}, cc);
  }
  void triangle(ImVec2 a, ImVec2 b, ImVec2 c, ImU32 colour) { triangle(a, b, c, colour, colour, colour); }
  void draw(const Coverage& atlas = kWhite) {
    data.Valid = true;
    data.DisplayPos = {0, 0};
    data.DisplaySize = {float(image.width), float(image.height)};
    data.FramebufferScale = {1, 1};
    data.CmdLists.push_back(&list);
    data.CmdListsCount = 1;
    rasterise(data, atlas, image);
  }
};

TEST(Raster, FanCoversEachPixelOnce) {
  // Half-transparent triangles about a point off the pixel grid: any pixel touched twice would be darker, any missed one empty.
  Sheet s(64, 64);
  const ImU32 half = IM_COL32(255, 255, 255, 128);
  const ImVec2 centre = {31.37f, 30.81f};
  constexpr int kParts = 37;
  const auto rim = [&](int i) {
    const float a = 6.2831853f * float(i % kParts) / kParts;
    return ImVec2{32 + 29 * std::cos(a), 32 + 29 * std::sin(a)};
  };
  for (int i = 0; i < kParts; ++i) s.triangle(centre, rim(i), rim(i + 1), half);
  s.draw();
  int once = 0, wrong = 0;
  for (int y = 0; y < 64; ++y)
    for (int x = 0; x < 64; ++x) {
      const int a = int(s.image.at(x, y) >> IM_COL32_A_SHIFT);
      once += a == 128;
      wrong += a != 128 && a != 0;
      if (std::hypot(x + 0.5 - 32, y + 0.5 - 32) < 28) {
        EXPECT_EQ(a, 128) << x << ' ' << y;
      }
    }
  EXPECT_EQ(wrong, 0);
  EXPECT_NEAR(once, 3.14159 * 29 * 29, 40);
}

TEST(Raster, PixelCentreOnTopLeftEdgeIsInsideOnBottomRightOutside) {
  Sheet s(8, 8);
  const ImU32 white = IM_COL32_WHITE;
  // A square whose edges run through pixel centres 1.5 and 4.5.
  s.triangle({1.5f, 1.5f}, {4.5f, 1.5f}, {4.5f, 4.5f}, white);
  s.triangle({1.5f, 1.5f}, {4.5f, 4.5f}, {1.5f, 4.5f}, white);
  s.draw();
  for (int y = 0; y < 8; ++y)
    for (int x = 0; x < 8; ++x) {
      const bool inside = x >= 1 && x < 4 && y >= 1 && y < 4;
      EXPECT_EQ(int(s.image.at(x, y) >> IM_COL32_A_SHIFT), inside ? 255 : 0) << x << ' ' << y;
    }
}

TEST(Raster, ColourRunsEvenlyAcrossATriangle) {
  Sheet s(100, 4);
  const ImU32 black = IM_COL32(0, 0, 0, 255), red = IM_COL32(255, 0, 0, 255);
  s.triangle({0, 0}, {100, 0}, {100, 4}, black, red, red);
  s.triangle({0, 0}, {100, 4}, {0, 4}, black, red, black);
  s.draw();
  for (int x = 0; x < 100; ++x) EXPECT_NEAR(int(s.image.at(x, 1) & 255), 255 * (x + 0.5) / 100, 1.0);
}

TEST(Raster, AtlasIsSampledBetweenTexels) {
  static constexpr uint8_t kTwo[2] = {0, 255};
  Sheet s(16, 1);
  s.list.PrimReserve(6, 4);
  s.list.PrimRectUV({0, 0}, {16, 1}, {0, 0}, {1, 1}, IM_COL32_WHITE);
  s.draw({kTwo, 2, 1});
  // Two texels over sixteen pixels: their centres lie at pixels 4 and 12; between them coverage rises evenly.
  EXPECT_EQ(int(s.image.at(0, 0) >> IM_COL32_A_SHIFT), 0);
  EXPECT_EQ(int(s.image.at(15, 0) >> IM_COL32_A_SHIFT), 255);
  for (int x = 4; x < 12; ++x) EXPECT_NEAR(int(s.image.at(x, 0) >> IM_COL32_A_SHIFT), 255 * (x + 0.5 - 4) / 8, 1.5);
}

TEST(Raster, ScissorCutsAtItsPixels) {
  Sheet s(10, 10);
  s.list.PushClipRect({2, 3}, {5, 7});
  s.triangle({-50, -50}, {200, -50}, {-50, 200}, IM_COL32_WHITE);
  s.draw();
  for (int y = 0; y < 10; ++y)
    for (int x = 0; x < 10; ++x) EXPECT_EQ(s.image.at(x, y) != 0, x >= 2 && x < 5 && y >= 3 && y < 7) << x << ' ' << y;
}

TEST(Raster, PpmHasHeadAndThreeBytesAPixel) {
  Image image;
  image.resize(3, 2);
  image.clear(IM_COL32(1, 2, 3, 255));
  const std::vector<uint8_t> ppm = to_ppm(image);
  EXPECT_EQ(std::string(ppm.begin(), ppm.begin() + 11), "P6\n3 2\n255\n");
  EXPECT_EQ(ppm.size(), 11u + 18u);
  EXPECT_EQ(ppm.back(), 3);
}

}  // namespace
}  // namespace tiepoint
