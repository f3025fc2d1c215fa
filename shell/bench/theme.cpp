#include "shell/bench/theme.h"

#include <cmath>

namespace tiepoint::theme {

uint32_t wire_colour(std::string_view name) {
  static constexpr NamedColour kTable[] = {
      {"red", 0xC8443C},    {"black", 0x23282B},  {"blue", 0x2F6DB5},  {"yellow", 0xE0A526},
      {"green", 0x3D8C5A},  {"orange", 0xDB7129}, {"white", 0xE4E1D8}, {"brown", 0x7A4B2C},
      {"violet", 0x7B4FA3}, {"grey", 0x858D91},   {"pink", 0xD9799B},
  };
  for (const NamedColour& c : kTable)
    if (c.name == name) return c.colour;
  return kTable[3].colour;
}

const LedColour& led_colour(std::string_view name) {
  static constexpr LedColour kTable[] = {
      {"red", 0xC23A33, 0xFF4A3A, 0xFFC2B0},    {"orange", 0xD97A28, 0xFFA02E, 0xFFE3B0},
      {"yellow", 0xD9B334, 0xFFD93B, 0xFFF6C8}, {"green", 0x3C9A52, 0x4CFF7C, 0xD2FFDC},
      {"blue", 0x3567C4, 0x4A8CFF, 0xCFE2FF},   {"white", 0xDAD9D2, 0xF4F8FF, 0xFFFFFF},
  };
  for (const LedColour& c : kTable)
    if (c.name == name) return c;
  return kTable[0];
}

uint32_t band_colour(int band) {
  static constexpr uint32_t kTable[] = {0x23221F, 0x6B4226, 0xC23A2F, 0xE07B2A, 0xE9CE3B, 0x3F8F4E, 0x2F5FB0,
                                        0x7B4FA3, 0x8A8D8F, 0xF2EFE8, 0xB98C1E, 0xB9BEC1, 0xD9799B, 0xDBC290};
  return band >= 0 && band < int(sizeof(kTable) / sizeof(kTable[0])) ? kTable[band] : kTable[0];
}

namespace {
int channel(ImU32 c, int shift) { return int((c >> shift) & 255); }
}  // namespace

ImU32 mix(ImU32 a, ImU32 b, float t) {
  t = t < 0 ? 0 : t > 1 ? 1 : t;
  ImU32 out = 0;
  for (int shift = 0; shift < 32; shift += 8) {
    const float v = channel(a, shift) + (channel(b, shift) - channel(a, shift)) * t;
    out |= ImU32(v + 0.5f) << shift;
  }
  return out;
}

ImU32 shade(ImU32 colour, float amount) {
  const ImU32 alpha = colour & IM_COL32_A_MASK;
  const ImU32 target = (amount >= 0 ? 0x00FFFFFFu : 0u) | alpha;
  return mix(colour, target, std::fabs(amount));
}

ImU32 fade(ImU32 colour, float alpha) {
  alpha = alpha < 0 ? 0 : alpha > 1 ? 1 : alpha;
  const float a = channel(colour, IM_COL32_A_SHIFT) * alpha;
  return (colour & ~ImU32(IM_COL32_A_MASK)) | (ImU32(a + 0.5f) << IM_COL32_A_SHIFT);
}

ImU32 stronger(ImU32 colour) {
  static constexpr struct {
    uint32_t plain, strong;
  } kTable[] = {{kLettering, kBlack},        {kCaseText, kBlack},         {kCaseSmall, kBlack},      {kCardText, kBlack},
                {kCardDim, kBlack},          {kDiscText, kBlack},         {kDanger, 0x7E1A12},       {kCompartmentText, kWhite},
                {kDisplayDim, kWhite},       {kDisplayText, 0xFFD98A},    {kDisplayOff, kDisplayDim}, {kPillText, kWhite},
                {kMouldText, kWhite},        {kCanStripe, kWhite},        {kSelect, 0xFFD98A},       {kRailPlus, 0x8E1B14},
                {kRailMinus, 0x123F7A},      {kCompartmentLine, 0xA9BEC4}, {kCardLine, kCardDim},     {kHoleRim, 0x8A7F6A}};
  for (const auto& entry : kTable)
    if (((colour ^ rgb(entry.plain)) & ~ImU32(IM_COL32_A_MASK)) == 0) return (rgb(entry.strong) & ~ImU32(IM_COL32_A_MASK)) | (colour & IM_COL32_A_MASK);
  return colour;
}

double luminance(uint32_t hex) {
  // Relative luminance of sRGB, Web Content Accessibility Guidelines 2.2, "relative luminance".
  const auto linear = [](uint32_t v) {
    const double c = v / 255.0;
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
  };
  return 0.2126 * linear((hex >> 16) & 255) + 0.7152 * linear((hex >> 8) & 255) + 0.0722 * linear(hex & 255);
}

double contrast(uint32_t a, uint32_t b) {
  double la = luminance(a), lb = luminance(b);
  if (la < lb) std::swap(la, lb);
  return (la + 0.05) / (lb + 0.05);
}

}  // namespace tiepoint::theme
