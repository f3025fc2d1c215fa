// Pictures of the bench by the software rasteriser: what must be seen is seen.
#include "shell/bench/draw.h"
#include "shell/bench/theme.h"
#include "tests/shell/hands.h"

namespace tiepoint {
namespace {

struct Colour {
  int r, g, b;
};
Colour at(const Image& image, ImVec2 p) {
  const ImU32 c = image.at(int(p.x), int(p.y));
  return {int(c & 255), int((c >> 8) & 255), int((c >> 16) & 255)};
}
int brightness(Colour c) { return c.r + c.g + c.b; }

TEST(BenchPicture, EveryExampleIsDrawn) {
  for (const char* name : {"empty", "one-button", "two-in-series", "two-in-parallel", "led-reversed", "no-resistor",
                           "rail-split", "rc-afterglow", "harbour-lights"}) {
    Hands hands;
    hands.bench.load(example_board(name));
    hands.frames(2);
    const Image image = hands.picture(name);
    // The plastic between two holes is light, the hole dark, whatever stands elsewhere.
    const ImVec2 free_hole = hands.hole("i3");
    EXPECT_GT(brightness(at(image, {free_hole.x + hands.bench.screen_of("i4")->x / 2 - free_hole.x / 2, free_hole.y})), 600)
        << name;
    EXPECT_LT(brightness(at(image, free_hole)), 240) << name;
  }
}

TEST(BenchPicture, PressedButtonLightsTheBoardAroundItsLed) {
  Hands hands;
  hands.bench.load(example_board("one-button"));
  hands.frames(2);
  const ImVec2 lamp = hands.at("part.LED1");
  const Image dark = hands.picture("one-button-up");
  hands.down(hands.at("control.S1"));
  hands.wait(0.3);
  const Image lit = hands.picture("one-button-down");
  EXPECT_GT(at(lit, lamp).r, at(dark, lamp).r + 30);
  // The mat and the plastic around it take the light: its red stays, its blue goes.
  const ImVec2 beside = {lamp.x + 40, lamp.y + 30};
  EXPECT_LT(at(lit, beside).b, at(dark, beside).b - 10);
  hands.up(hands.at("control.S1"));
  hands.wait(0.3);
  const Image again = hands.picture("one-button-again");
  EXPECT_EQ(at(again, lamp).r, at(dark, lamp).r);
}

TEST(BenchPicture, SelectedPartHasItsCardAndAnotherScreenIsSharp) {
  Hands hands(1014, 724, 2);
  hands.bench.load(example_board("two-in-series"));
  hands.frames(2);
  hands.bench.select("R1");
  hands.frames(2);
  const Image image = hands.picture("inspector@2x");
  EXPECT_EQ(image.width, 2028);
  const Widget* card = hands.find("inspector");
  ASSERT_NE(card, nullptr);
  EXPECT_GT(brightness(at(image, {(card->x + 6) * 2, (card->y + 20) * 2})), 700);
}

TEST(BenchPicture, LevelsAndFlow) {
  Hands hands;
  hands.bench.load(example_board("two-in-series"));
  ViewOptions view;
  view.levels = view.flow = true;
  hands.bench.set_view(view);
  hands.host.key(ImGuiKey_1, true, 0);
  hands.host.key(ImGuiKey_2, true, 0);
  hands.wait(0.4);
  EXPECT_GE(hands.wake, 0) << "chevrons walk";
  hands.picture("levels-flow");
  view.under_board = true;
  hands.bench.set_view(view);
  hands.picture("under-board");
}

// Text and controls on the canvas against what lies behind them: WCAG 2.2, 1.4.3 (4.5 : 1) and 1.4.11 (3 : 1).
TEST(BenchPicture, ColoursHaveEnoughContrast) {
  using namespace theme;
  const struct {
    uint32_t text, behind;
    double least;
  } pairs[] = {{kPillText, kPill, 4.5},
               {kCompartmentText, kCompartment, 4.5},
               {kCompartmentText, kCompartmentHover, 4.5},
               {kCardText, kCard, 4.5},
               {kCardDim, kCard, 4.5},
               {kCardText, kField, 4.5},
               {kCardText, kFieldHover, 4.5},
               {kDanger, kField, 4.5},
               {kDisplayText, kDisplay, 4.5},
               {kDisplayDim, kDisplay, 4.5},
               {kCaseText, kCase, 4.5},
               {kCaseSmall, kCase, 4.5},
               {kDisplayDim, kStrip, 4.5},
               {kSelect, kCompartment, 4.5},
               {kLettering, kBoard, 4.5},
               {kLettering, kBoardBottom, 4.5},
               {kPillText, kRefuse, 3.0},
               {kMouldText, kMould, 4.5},
               {kCanStripe, kCan, 4.5},
               {kDiscText, kDisc, 4.5},
               {kRailPlus, kBoard, 3.0},
               {kRailMinus, kBoard, 3.0},
               {kJoin, kBoardTop, 3.0},
               {kRefuse, kBoard, 3.0},
               {kCursor, kBoard, 3.0},
               {kHoleBottom, kBoard, 3.0}};
  for (const auto& p : pairs) EXPECT_GE(contrast(p.text, p.behind), p.least) << std::hex << p.text << " on " << p.behind;
}

// For who asks the system for more contrast: WCAG 2.2, 1.4.6 (7 : 1) for letters, and 3 : 1 for the edge of any wire.
TEST(BenchPicture, WithMoreContrastLettersHaveSevenToOneAndEdgesAreDark) {
  using namespace theme;
  const struct {
    uint32_t text, behind;
  } pairs[] = {{kPillText, kPill},      {kCompartmentText, kCompartment}, {kCompartmentText, kCompartmentHover}, {kCardText, kCard}, {kCardDim, kCard},
               {kCardText, kFieldHover}, {kDanger, kField},               {kDisplayText, kDisplay}, {kDisplayDim, kDisplay}, {kCaseText, kCase},
               {kCaseSmall, kCase},     {kDisplayDim, kStrip},            {kSelect, kCompartment}, {kLettering, kBoardBottom}, {kMouldText, kMould},
               {kCanStripe, kCan},      {kDiscText, kDisc},               {kRailPlus, kBoard},     {kRailMinus, kBoard}};
  for (const auto& p : pairs) {
    const ImU32 drawn = stronger(rgb(p.text));
    const uint32_t hex = (drawn & 255) << 16 | (drawn & 0xFF00) | ((drawn >> 16) & 255);
    EXPECT_GE(contrast(hex, p.behind), 7.0) << std::hex << p.text << " on " << p.behind;
  }
  EXPECT_EQ(stronger(rgb(kLettering, 0.5f)), rgb(kBlack, 0.5f));
  EXPECT_EQ(stronger(rgb(kJoin)), rgb(kJoin));

  Hands hands;
  hands.bench.load(example_board("two-in-series"));
  hands.frames(2);
  const Image plain = hands.picture("plain");
  hands.host.preferences({.more_contrast = true});
  hands.frames(2);
  const Image strong = hands.picture("more-contrast");
  // Along a line down through the resistor's body the darkest place is its edge.
  const auto darkest = [&](const Image& image) {
    int least = 765;
    const ImVec2 middle = hands.at("part.R1");
    for (float dy = -14; dy <= 14; dy += 1) least = std::min(least, brightness(at(image, {middle.x, middle.y + dy})));
    return least;
  };
  EXPECT_LT(darkest(strong), darkest(plain) - 60);
  hands.host.preferences({});
  hands.frames(2);
  EXPECT_EQ(hands.picture("plain-again").rgba, plain.rgba);
}

// What tells of a state without letters: 1.4.11. Amber is lost on a board's cream, so the outline of what is selected has a dark rim.
TEST(BenchPicture, MarksAndGraphicsHaveThreeToOne) {
  using namespace theme;
  const struct {
    const char* what;
    uint32_t mark, behind;
  } pairs[] = {{"rim of what is selected", kPill, kBoard}, {"its amber", kSelect, kPill}, {"selected on the mat", kSelect, kMatCentre},
               {"selected on a card", kAccent, kCard},     {"hole cursor", kCursor, kBoardBottom}, {"refusal", kRefuse, kBoardBottom},
               {"joined clips", kJoin, kBoardBottom},      {"joined clips on the mat", kJoinLight, kMatCentre}, {"flow", kFlow, kFlowEdge},
               {"trace 1", kTrace1, kDisplay},             {"trace 2", kTrace2, kDisplay}, {"trace 3", kTrace3, kDisplay},
               {"trace 4", kTrace4, kDisplay},             {"switched on", kSwitchOn, kCase}, {"switched off", kSwitchOff, kCase},
               {"high against low", kLevelHigh, kLevelLow}, {"danger", kDanger, kCard}};
  for (const auto& p : pairs) EXPECT_GE(contrast(p.mark, p.behind), 3.0) << p.what;
}

}  // namespace
}  // namespace tiepoint
