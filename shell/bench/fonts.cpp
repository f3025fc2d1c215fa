// The bench's fonts: bytes baked into the program by shell/tools/make_fonts.py, rasterised anew whenever the dpr changes.
#include <vector>

#include "shell/bench/host.h"

namespace tiepoint {

extern const unsigned char kFontRegular[];
extern const unsigned kFontRegular_size;
extern const unsigned char kFontStrong[];
extern const unsigned kFontStrong_size;

namespace {

// Pairs of first and last code point, ended by 0. The subsets hold no glyph outside them.
const ImWchar kText[] = {0x20, 0x17F, 0x370, 0x3FF, 0x2010, 0x209F, 0x20AC, 0x20AC, 0x2122, 0x2126, 0x2190, 0x21FF,
                         0x2200, 0x22FF, 0x25A0, 0x26FF, 0x2713, 0x2717, 0};
const ImWchar kNarrow[] = {0x20, 0x17F, 0x3A9, 0x3A9, 0x3BC, 0x3BC, 0x2013, 0x2013, 0x2126, 0x2126, 0x2212, 0x2212, 0};

const ImWchar kHebrew[] = {0x590, 0x5FF, 0};
std::vector<unsigned char> more;

ImFont* add(const unsigned char* bytes, unsigned size, float pixels, float dpr, const ImWchar* ranges) {
  ImFontConfig config;
  config.FontDataOwnedByAtlas = false;
  // Dense screens need no horizontal oversampling.
  config.OversampleH = dpr < 1.5f ? 2 : 1;
  config.OversampleV = 1;
  config.PixelSnapH = false;
  // ImGui takes the pointer as mutable, yet writes only to data it owns.
  void* data = const_cast<unsigned char*>(bytes);
  ImFont* font = ImGui::GetIO().Fonts->AddFontFromMemoryTTF(data, static_cast<int>(size), pixels * dpr, &config, ranges);
  if (more.empty()) return font;
  config.MergeMode = true;
  return ImGui::GetIO().Fonts->AddFontFromMemoryTTF(more.data(), static_cast<int>(more.size()), pixels * dpr, &config, kHebrew);
}

}  // namespace

void Host::bake_fonts() {
  ImGuiIO& io = ImGui::GetIO();
  io.Fonts->Clear();
  io.Fonts->Flags |= ImFontAtlasFlags_NoMouseCursors;
  add(kFontRegular, kFontRegular_size, fonts::kBodySize, in_.dpr, kText);
  add(kFontStrong, kFontStrong_size, fonts::kBodySize, in_.dpr, kNarrow);
  add(kFontRegular, kFontRegular_size, fonts::kLargeSize, in_.dpr, kNarrow);
  io.Fonts->Build();
  io.FontGlobalScale = 1.0f / in_.dpr;
  fonts_changed_ = true;
}

namespace fonts {
void give_more(std::span<const unsigned char> file) { more.assign(file.begin(), file.end()); }
ImFont* body() { return ImGui::GetIO().Fonts->Fonts[0]; }
ImFont* strong() { return ImGui::GetIO().Fonts->Fonts[1]; }
ImFont* large() { return ImGui::GetIO().Fonts->Fonts[2]; }
}  // namespace fonts

}  // namespace tiepoint
