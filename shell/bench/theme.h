// The one table of colours of the bench, and the arithmetic on them. Opaque 0xRRGGBB as one writes them; drawing turns them into
// ImGui's byte order. Wires and LEDs take theirs from the tables at the end, by the option word of the part's value.
#pragma once

#include <cstdint>
#include <string_view>

#include "imgui.h"

namespace tiepoint::theme {

// 0xRRGGBB to ImGui's packed colour, alpha 0..1.
constexpr ImU32 rgb(uint32_t hex, float alpha = 1.0f) {
  return IM_COL32((hex >> 16) & 255, (hex >> 8) & 255, hex & 255, int(alpha * 255.0f + 0.5f));
}

// The mat the boards lie on.
inline constexpr uint32_t kMat = 0x223840;
inline constexpr uint32_t kMatCentre = 0x274049;     // the lamp above the bench brightens the middle
inline constexpr uint32_t kMatEdge = 0x1B2E35;
inline constexpr uint32_t kMatLine = 0x2C4751;
inline constexpr uint32_t kMatLineStrong = 0x325059;
inline constexpr uint32_t kShadow = 0x081013;

// The breadboard.
inline constexpr uint32_t kBoard = 0xF3EDE0;
inline constexpr uint32_t kBoardTop = 0xF7F2E7;
inline constexpr uint32_t kBoardBottom = 0xEDE6D7;
inline constexpr uint32_t kBoardEdgeLight = 0xFFFDF6;
inline constexpr uint32_t kBoardEdgeDark = 0xCFC5B1;
inline constexpr uint32_t kGap = 0xDCD3C0;
inline constexpr uint32_t kGapDark = 0xC3B9A2;
inline constexpr uint32_t kGapLight = 0xE9E1D0;
inline constexpr uint32_t kSeam = 0xDDD4C2;
inline constexpr uint32_t kHoleRim = 0xD4CAB6;
inline constexpr uint32_t kHoleTop = 0x26282A;
inline constexpr uint32_t kHoleBottom = 0x44474A;
inline constexpr uint32_t kLettering = 0x6B655A;
inline constexpr uint32_t kRailPlus = 0xC8443C;
inline constexpr uint32_t kRailMinus = 0x2F6DB5;

// Hints drawn over the board.
inline constexpr uint32_t kJoin = 0x17928A;           // clips that a lead would join
inline constexpr uint32_t kJoinLight = 0x7FE3D8;
inline constexpr uint32_t kRefuse = 0xD9483B;
inline constexpr uint32_t kSelect = 0xF2B84B;
inline constexpr uint32_t kCursor = 0x0F7F78;
inline constexpr uint32_t kFlow = 0x3FE0CF;
inline constexpr uint32_t kFlowEdge = 0x0E3B3A;
inline constexpr uint32_t kLevelHigh = 0xFBE34C;
inline constexpr uint32_t kLevelMid = 0x8E8E86;
inline constexpr uint32_t kLevelLow = 0x1B2A5A;
inline constexpr uint32_t kPill = 0x17262C;
inline constexpr uint32_t kPillText = 0xF7F2E6;
inline constexpr uint32_t kSpring = 0xB98A4A;         // the clip's metal, seen under the board

// Metal and bodies.
inline constexpr uint32_t kLead = 0xB9C0C2;
inline constexpr uint32_t kLeadLight = 0xE8ECEC;
inline constexpr uint32_t kLeadDark = 0x747C7F;
inline constexpr uint32_t kResistor = 0xDBC290;
inline constexpr uint32_t kGlass = 0xC4592E;
inline constexpr uint32_t kDiodeBlack = 0x2A2D30;
inline constexpr uint32_t kDiodeBand = 0xD5D9DA;
inline constexpr uint32_t kButtonBase = 0x2D3236;
inline constexpr uint32_t kButtonFace = 0x43494E;
inline constexpr uint32_t kButtonRivet = 0x5A6267;
inline constexpr uint32_t kButtonCap = 0xE8B23E;
inline constexpr uint32_t kButtonCapDown = 0xC7922B;
inline constexpr uint32_t kSwitchShell = 0xA9B1B5;
inline constexpr uint32_t kSwitchSlot = 0x1E2326;
inline constexpr uint32_t kSwitchKnob = 0x33393D;
inline constexpr uint32_t kDisc = 0xD08A3C;
inline constexpr uint32_t kDiscText = 0x45260A;
inline constexpr uint32_t kCan = 0x28345A;
inline constexpr uint32_t kCanStripe = 0xC7CDD8;
inline constexpr uint32_t kCanTop = 0xAEB6BD;

// More kinds of part.
inline constexpr uint32_t kSteel = 0xB4BBBE;
inline constexpr uint32_t kBrass = 0xC9A24A;
inline constexpr uint32_t kBrassDark = 0x8A6A25;
inline constexpr uint32_t kCopper = 0xB8703A;
inline constexpr uint32_t kMould = 0x2B2F33;          // black moulding of chips and transistors
inline constexpr uint32_t kMouldText = 0xD3D9DB;
inline constexpr uint32_t kKnob = 0x3E72A8;
inline constexpr uint32_t kKnobDark = 0x394047;
inline constexpr uint32_t kPanel = 0xCBBF9F;          // laminated board of potentiometers
inline constexpr uint32_t kTrimmerBlue = 0x3F73B8;
inline constexpr uint32_t kPhotoFace = 0xE2B25C;
inline constexpr uint32_t kPhotoTrack = 0x8C3F22;
inline constexpr uint32_t kBead = 0x3B7A57;
inline constexpr uint32_t kPolymer = 0xE3BE3C;
inline constexpr uint32_t kFilm = 0xC98F45;           // polyimide of force and flex strips
inline constexpr uint32_t kFerrite = 0x4A4C50;
inline constexpr uint32_t kRelayCase = 0x2F5F9E;
inline constexpr uint32_t kDipRed = 0xB5382F;
inline constexpr uint32_t kNylon = 0xEFEDE6;
inline constexpr uint32_t kGlassTint = 0xBFD6D8;
inline constexpr uint32_t kCeramic = 0xF1EEE6;
inline constexpr uint32_t kCone = 0x3A3E42;
inline constexpr uint32_t kModule = 0x1F5F56;         // solder mask of a small module
inline constexpr uint32_t kSolar = 0x1E2F63;
inline constexpr uint32_t kSolarLine = 0xB9C6D8;
inline constexpr uint32_t kMagnetNorth = 0xC8443C;
inline constexpr uint32_t kMagnetSouth = 0x2F6DB5;
inline constexpr uint32_t kSegmentOff = 0x4A3331;     // a segment that is dark, just to be seen
inline constexpr uint32_t kDigitFace = 0x1B1D1F;
inline constexpr uint32_t kServo = 0x2E5FA6;
inline constexpr uint32_t kFilament = 0xFFB347;
inline constexpr uint32_t kFilamentCore = 0xFFF3D0;
inline constexpr uint32_t kLampShell = 0x6E5A2E;
inline constexpr uint32_t kBlockTop = 0xC8683A;       // the copper-coloured half of a 9 V block

// Supplies.
inline constexpr uint32_t kCase = 0xE9E2D2;
inline constexpr uint32_t kCaseLight = 0xF6F1E5;
inline constexpr uint32_t kCaseDark = 0xCFC6B2;
inline constexpr uint32_t kDisplay = 0x18262B;
inline constexpr uint32_t kDisplayText = 0xF2B84B;
inline constexpr uint32_t kDisplayDim = 0x93AAB1;
inline constexpr uint32_t kDisplayOff = 0x5A6B70;
inline constexpr uint32_t kCaseText = 0x4A4A44;
inline constexpr uint32_t kCaseSmall = 0x655F54;
inline constexpr uint32_t kSwitchOn = 0x0F857D;
inline constexpr uint32_t kSwitchOff = 0x77736A;
inline constexpr uint32_t kPlusWire = 0xC8443C;
inline constexpr uint32_t kMinusWire = 0x23282B;
inline constexpr uint32_t kHolder = 0x2B3034;
inline constexpr uint32_t kCell = 0x3C6E9A;
inline constexpr uint32_t kCellBand = 0xD9A441;

// Traces on a dark screen; the number of its channel stands beside each.
inline constexpr uint32_t kTrace1 = 0xF2B84B;
inline constexpr uint32_t kTrace2 = 0x6FDDD2;
inline constexpr uint32_t kTrace3 = 0xF49A8A;
inline constexpr uint32_t kTrace4 = 0xC3B0F4;

// Parts box, inspector, messages.
inline constexpr uint32_t kStrip = 0x142126;
inline constexpr uint32_t kStripEdge = 0x0C1518;
inline constexpr uint32_t kCompartment = 0x1E3138;
inline constexpr uint32_t kCompartmentHover = 0x264049;
inline constexpr uint32_t kCompartmentLine = 0x2E4851;
inline constexpr uint32_t kCompartmentText = 0xC6D6DA;
inline constexpr uint32_t kCard = 0xFBF8F1;
inline constexpr uint32_t kCardLine = 0xE2D9C5;
inline constexpr uint32_t kCardText = 0x24323A;
inline constexpr uint32_t kCardDim = 0x6D6244;
inline constexpr uint32_t kField = 0xF1EADA;
inline constexpr uint32_t kFieldHover = 0xE6DCC6;
inline constexpr uint32_t kAccent = 0x0F7F78;
inline constexpr uint32_t kDanger = 0xB23A30;
inline constexpr uint32_t kNotePaper = 0xF6E7B4;
inline constexpr uint32_t kNotePin = 0xC8643A;
inline constexpr uint32_t kWhite = 0xFFFFFF;
inline constexpr uint32_t kBlack = 0x000000;

struct NamedColour {
  std::string_view name;
  uint32_t colour;
};
// Insulation of jumper wires, by option word.
uint32_t wire_colour(std::string_view name);
// Coloured lens of an LED unlit, and its light.
struct LedColour {
  std::string_view name;
  uint32_t lens, light, core;
};
const LedColour& led_colour(std::string_view name);
// Rings of IEC 60062, index: engine/parts/marking.h Band.
uint32_t band_colour(int band);

ImU32 mix(ImU32 a, ImU32 b, float t);            // all four channels
ImU32 shade(ImU32 colour, float amount);         // towards white (+) or black (-), alpha kept
ImU32 fade(ImU32 colour, float alpha);           // alpha multiplied
// WCAG relative luminance and contrast ratio of two opaque colours.
double luminance(uint32_t hex);
double contrast(uint32_t a, uint32_t b);
// The colour of letters and lines for who asks for more contrast: 7 : 1 and more for text, WCAG 2.2, 1.4.6; alpha kept. Other colours stay.
ImU32 stronger(ImU32 colour);

}  // namespace tiepoint::theme
