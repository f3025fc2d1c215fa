// Software rasteriser: ImDrawData to pixels without a GPU. Used where WebGL is missing, for golden pictures in the tests, and
// for thumbnails. Top-left fill rule on fixed-point edge functions, so that triangles sharing an edge touch each pixel once.
#pragma once

#include <cstdint>
#include <vector>

#include "imgui.h"

namespace tiepoint {

struct Image {
  int width = 0, height = 0;
  std::vector<uint8_t> rgba;  // rgba[4 * (y * width + x) + channel], rows from the top, not premultiplied
  void resize(int w, int h);
  void clear(ImU32 colour);
  ImU32 at(int x, int y) const;
};

// The font atlas as coverage: alpha[y * width + x]; its colour is white everywhere.
struct Coverage {
  const uint8_t* alpha = nullptr;
  int width = 0, height = 0;
};

// The atlas of the current ImGui context.
Coverage atlas_coverage();

// Draws over what `image` holds; its size must be the display size times the framebuffer scale. Textures other than the atlas
// and callbacks are skipped; sheets (sheet.h) are not.
void rasterise(const ImDrawData& data, const Coverage& atlas, Image& image);

// Binary PPM (P6) of the picture, alpha dropped.
std::vector<uint8_t> to_ppm(const Image& image);

}  // namespace tiepoint
