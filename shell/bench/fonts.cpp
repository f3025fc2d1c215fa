// The bench's fonts: rasterised anew whenever the dpr changes.
#include "shell/bench/font_files.h"
#include "shell/bench/host.h"

namespace tiepoint {
namespace {

// Pairs of first and last code point, ended by 0. The subsets hold no glyph outside them.
const ImWchar kText[] = {0x20,   0xBF,   0xD7,   0xD7,   0xF7,   0xF7,   0x370,  0x3FF,  0x2010, 0x209F, 0x20AC, 0x20AC,
                         0x2122, 0x2126, 0x2190, 0x21FF, 0x2200, 0x22FF, 0x25A0, 0x26FF, 0x2713, 0x2717, 0};
const ImWchar kNarrow[] = {0x20,   0xBF,   0xD7,   0xD7,   0x3A9,  0x3A9,  0x3BC, 0x3BC,
                           0x2013, 0x2013, 0x2126, 0x2126, 0x2212, 0x2212, 0};
const ImWchar kAccents[] = {0xC0, 0xD6, 0xD8, 0xF6, 0xF8, 0x17F, 0};

const ImWchar kHebrew[] = {0x590, 0x5FF, 0};

ImFont* add(fonts::File file, float pixels, float dpr, const ImWchar* ranges, bool accents, bool merged = false) {
  ImFontConfig config;
  config.FontDataOwnedByAtlas = false;
  // Dense screens need no horizontal oversampling.
  config.OversampleH = dpr < 1.5f ? 2 : 1;
  config.OversampleV = 1;
  config.PixelSnapH = false;
  config.MergeMode = merged;
  const std::span<const unsigned char> bytes = fonts::file_of(file);
  // ImGui takes the pointer as mutable, yet writes only to data it owns.
  ImFont* font = ImGui::GetIO().Fonts->AddFontFromMemoryTTF(const_cast<unsigned char*>(bytes.data()),
                                                            static_cast<int>(bytes.size()), pixels * dpr, &config, ranges);
  if (merged) return font;
  if (accents) add(file, pixels, dpr, kAccents, false, true);
  if (!fonts::file_of(fonts::File::kMore).empty()) add(fonts::File::kMore, pixels, dpr, kHebrew, false, true);
  return font;
}

}  // namespace

void Host::bake_fonts() {
  ImGuiIO& io = ImGui::GetIO();
  letters_.has_accents = letters_.want_accents;
  ++letters_.generation;
  io.UserData = &letters_;
  io.Fonts->Clear();
  io.Fonts->Flags |= ImFontAtlasFlags_NoMouseCursors;
  add(fonts::File::kRegular, fonts::kBodySize, in_.dpr, kText, letters_.has_accents);
  add(fonts::File::kStrong, fonts::kBodySize, in_.dpr, kNarrow, letters_.has_accents);
  add(fonts::File::kRegular, fonts::kLargeSize, in_.dpr, kNarrow, letters_.has_accents);
  io.Fonts->Build();
  io.FontGlobalScale = 1.0f / in_.dpr;
  fonts_changed_ = true;
}

namespace fonts {
namespace {
Letters& letters() { return *static_cast<Letters*>(ImGui::GetIO().UserData); }
}  // namespace

// They begin with these bytes in UTF-8; so do × and ÷, which are no letters.
bool accented(std::string_view words) {
  for (size_t i = 0; i + 1 < words.size(); ++i) {
    const auto lead = static_cast<unsigned char>(words[i]), next = static_cast<unsigned char>(words[i + 1]);
    if (lead == 0xC4 || lead == 0xC5 || (lead == 0xC3 && next != 0x97 && next != 0xB7)) return true;
  }
  return false;
}

void require(std::string_view words) {
  if (!letters().want_accents) letters().want_accents = accented(words);
}
unsigned generation() { return letters().generation; }
ImFont* body() { return ImGui::GetIO().Fonts->Fonts[0]; }
ImFont* strong() { return ImGui::GetIO().Fonts->Fonts[1]; }
ImFont* large() { return ImGui::GetIO().Fonts->Fonts[2]; }
}  // namespace fonts

}  // namespace tiepoint
