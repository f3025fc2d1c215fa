// The bench's fonts: rasterised anew whenever the dpr changes.
#include "shell/bench/font_files.h"
#include "shell/bench/host.h"

namespace tiepoint {
namespace {

// Pairs of first and last code point, ended by 0. The subsets hold no glyph outside them.
const ImWchar kText[] = {0x20, 0x17F, 0x370, 0x3FF, 0x2010, 0x209F, 0x20AC, 0x20AC, 0x2122, 0x2126, 0x2190, 0x21FF,
                         0x2200, 0x22FF, 0x25A0, 0x26FF, 0x2713, 0x2717, 0};
const ImWchar kNarrow[] = {0x20, 0x17F, 0x3A9, 0x3A9, 0x3BC, 0x3BC, 0x2013, 0x2013, 0x2126, 0x2126, 0x2212, 0x2212, 0};

const ImWchar kHebrew[] = {0x590, 0x5FF, 0};

ImFont* add(fonts::File file, float pixels, float dpr, const ImWchar* ranges, bool merged = false) {
  ImFontConfig config;
  config.FontDataOwnedByAtlas = false;
  // Dense screens need no horizontal oversampling.
  config.OversampleH = dpr < 1.5f ? 2 : 1;
  config.OversampleV = 1;
  config.PixelSnapH = false;
  config.MergeMode = merged;
  const std::span<const unsigned char> bytes = fonts::file_of(file);
  // ImGui takes the pointer as mutable, yet writes only to data it owns.
  ImFont* font = ImGui::GetIO().Fonts->AddFontFromMemoryTTF(const_cast<unsigned char*>(bytes.data()), static_cast<int>(bytes.size()), pixels * dpr, &config, ranges);
  if (merged || fonts::file_of(fonts::File::kMore).empty()) return font;
  return add(fonts::File::kMore, pixels, dpr, kHebrew, true);
}

}  // namespace

void Host::bake_fonts() {
  ImGuiIO& io = ImGui::GetIO();
  io.Fonts->Clear();
  io.Fonts->Flags |= ImFontAtlasFlags_NoMouseCursors;
  add(fonts::File::kRegular, fonts::kBodySize, in_.dpr, kText);
  add(fonts::File::kStrong, fonts::kBodySize, in_.dpr, kNarrow);
  add(fonts::File::kRegular, fonts::kLargeSize, in_.dpr, kNarrow);
  io.Fonts->Build();
  io.FontGlobalScale = 1.0f / in_.dpr;
  fonts_changed_ = true;
}

namespace fonts {
ImFont* body() { return ImGui::GetIO().Fonts->Fonts[0]; }
ImFont* strong() { return ImGui::GetIO().Fonts->Fonts[1]; }
ImFont* large() { return ImGui::GetIO().Fonts->Fonts[2]; }
}  // namespace fonts

}  // namespace tiepoint
