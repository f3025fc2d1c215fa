#include "shell/bench/host.h"

#include <cfloat>
#include <cmath>

#include "gtest/gtest.h"

namespace tiepoint {
namespace {

// A screen with one button at a known place, a slider under it, a text field, and a square that can be moved.
class Panel : public Screen {
 public:
  double frame(const FrameIn& in) override {
    last = in;
    ++frames;
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize({in.width, in.height});
    ImGui::Begin("panel", nullptr, ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings);
    ImGui::SetCursorPos({10, 10});
    if (ImGui::Button("press", {100, 30})) ++clicks;
    ImGui::SetCursorPos({10, 60});
    ImGui::SetNextItemWidth(200);
    ImGui::SliderFloat("##slide", &slider, 0, 1);
    ImGui::SetCursorPos({10, 110});
    ImGui::InputText("##text", text, sizeof text);
    ImGui::GetWindowDrawList()->AddRectFilled({square, 200}, {square + 10, 210}, IM_COL32_WHITE);
    held = ImGui::IsMouseDown(0);
    valid = ImGui::IsMousePosValid();
    wheel += ImGui::GetIO().MouseWheel;
    ImGui::End();
    return wake;
  }
  void gesture(const Gesture& g) override { zoom *= g.scale; }
  void preferences(const Preferences&) override {}
  void let_go() override { ++released; }
  uint64_t revision(Revision) const override { return 1; }

  FrameIn last;
  int frames = 0, clicks = 0, released = 0;
  float slider = 0, square = 20, wheel = 0, zoom = 1;
  bool held = false, valid = false;
  char text[32] = "";
  double wake = kSleep;
};

struct HostTest : ::testing::Test {
  Panel panel;
  Host host{panel, 400, 300, 1};
  double now = 100;  // [s]

  void run(int frames) {
    for (int i = 0; i < frames; ++i) host.frame(now += 1.0 / 60);
  }
  void rest() {
    now += 2;
    run(4);
  }
  void mouse(PointerKind kind, float x, float y, int button = -1) { host.pointer(kind, PointerSource::kMouse, button, x, y); }
  void click(float x, float y) {
    mouse(PointerKind::kMove, x, y);
    mouse(PointerKind::kDown, x, y, 0);
    mouse(PointerKind::kUp, x, y, 0);
    run(6);
  }
};

TEST_F(HostTest, MouseClickReachesTheButtonUnderIt) {
  run(2);
  click(50, 25);
  EXPECT_EQ(panel.clicks, 1);
  click(300, 250);
  EXPECT_EQ(panel.clicks, 1);
}

TEST_F(HostTest, TwoTapsAreTwoClicks) {
  run(2);
  for (int tap = 1; tap <= 2; ++tap) {
    host.pointer(PointerKind::kDown, PointerSource::kTouch, 0, 50, 25);
    run(3);
    host.pointer(PointerKind::kUp, PointerSource::kTouch, 0, 50, 25);
    run(6);
    EXPECT_EQ(panel.clicks, tap);
  }
}

TEST_F(HostTest, LiftedFingerHoversOverNothing) {
  run(2);
  host.pointer(PointerKind::kDown, PointerSource::kTouch, 0, 50, 25);
  host.pointer(PointerKind::kUp, PointerSource::kTouch, 0, 50, 25);
  run(8);
  EXPECT_FALSE(panel.valid);
}

TEST_F(HostTest, CancelledPressClicksNothing) {
  run(2);
  host.pointer(PointerKind::kDown, PointerSource::kTouch, 0, 50, 25);
  run(3);
  EXPECT_TRUE(panel.held);
  host.pointer(PointerKind::kCancel, PointerSource::kTouch, -1, 50, 25);
  run(6);
  EXPECT_FALSE(panel.held);
  EXPECT_EQ(panel.clicks, 0);
}

TEST_F(HostTest, DragMovesTheSliderAsFarAsThePointer) {
  run(2);
  mouse(PointerKind::kMove, 20, 70);
  mouse(PointerKind::kDown, 20, 70, 0);
  run(3);
  mouse(PointerKind::kMove, 110, 70);
  run(3);
  mouse(PointerKind::kUp, 110, 70, 0);
  run(3);
  EXPECT_NEAR(panel.slider, 0.5, 0.02);
}

TEST_F(HostTest, TextArrivesInTheFieldAndIsWantedOnlyThere) {
  run(2);
  EXPECT_EQ(host.want() & kWantText, 0);
  click(100, 120);
  EXPECT_NE(host.want() & kWantText, 0);
  host.text("4k7 Ω");
  run(3);
  EXPECT_STREQ(panel.text, "4k7 Ω");
  click(300, 250);
  EXPECT_EQ(host.want() & kWantText, 0);
}

TEST_F(HostTest, WheelKeepsFractions) {
  run(2);
  mouse(PointerKind::kMove, 300, 250);
  host.wheel(0, 0.25f);
  run(3);
  EXPECT_FLOAT_EQ(panel.wheel, 0.25f);
}

TEST_F(HostTest, GestureGoesToTheScreenAndNonsenseDoesNot) {
  host.gesture({.x = 10, .y = 10, .scale = 2});
  EXPECT_FLOAT_EQ(panel.zoom, 2);
  host.gesture({.scale = 0});
  host.gesture({.scale = NAN});
  host.gesture({.scale = -1});
  EXPECT_FLOAT_EQ(panel.zoom, 2);
}

TEST_F(HostTest, LosingTheFocusLetsGoOfEverything) {
  run(2);
  mouse(PointerKind::kMove, 50, 25);
  mouse(PointerKind::kDown, 50, 25, 0);
  run(3);
  host.focus(false);
  run(3);
  EXPECT_EQ(panel.released, 1);
  EXPECT_FALSE(panel.held);
}

TEST_F(HostTest, SleepsWhenNothingMoves) {
  run(4);
  now += 1;
  EXPECT_EQ(host.frame(now), kSleep);
}

TEST_F(HostTest, DrawsAFewFramesAfterInputThenLingersThenSleeps) {
  rest();
  now += 1;
  mouse(PointerKind::kMove, 30, 250);
  EXPECT_EQ(host.frame(now += 0.01), kNextFrame);
  EXPECT_EQ(host.frame(now += 0.01), kNextFrame);
  const double linger = host.frame(now += 0.01);
  EXPECT_GT(linger, 0.02);
  EXPECT_LT(linger, 0.1);
  EXPECT_EQ(host.frame(now += 0.8), kSleep);
}

TEST_F(HostTest, TheScreensOwnWakeIsKept) {
  rest();
  now += 1;
  panel.wake = 5;
  EXPECT_EQ(host.frame(now += 0.1), 5);
  panel.wake = kNextFrame;
  EXPECT_EQ(host.frame(now += 0.1), kNextFrame);
}

TEST_F(HostTest, ATextFieldKeepsItsCaretBlinking) {
  run(2);
  click(100, 120);
  rest();
  const double wake = host.frame(now += 1);
  EXPECT_GT(wake, 0);
  EXPECT_LE(wake, 0.5);
}

TEST_F(HostTest, ALongSleepIsNoLongStep) {
  run(2);
  now += 3600;
  run(1);
  EXPECT_LE(ImGui::GetIO().DeltaTime, 0.1f);
  host.frame(now);  // a clock that stands still
  EXPECT_GT(ImGui::GetIO().DeltaTime, 0);
}

TEST_F(HostTest, PictureChangesOnlyWhenSomethingLooksDifferent) {
  rest();
  host.picture_changed();
  run(1);
  EXPECT_FALSE(host.picture_changed());
  panel.square += 1;
  run(1);
  EXPECT_TRUE(host.picture_changed());
  run(1);
  EXPECT_FALSE(host.picture_changed());
  host.forget_picture();
  EXPECT_TRUE(host.picture_changed());
}

TEST_F(HostTest, ResizeShowsTheSamePictureAnew) {
  rest();
  host.picture_changed();
  host.resize(400, 300, 1);
  run(1);
  EXPECT_TRUE(host.picture_changed());
}

TEST_F(HostTest, ADenserScreenGetsSharperGlyphsOfTheSameSize) {
  run(2);
  host.take_fonts_changed();
  const float width = fonts::body()->CalcTextSizeA(fonts::kBodySize, FLT_MAX, 0, "4.7 kΩ → 20 mA").x;
  // [texel] of a capital in the atlas
  const auto height = [] {
    const ImFontGlyph* glyph = fonts::body()->FindGlyph('H');
    return (glyph->V1 - glyph->V0) * ImGui::GetIO().Fonts->TexHeight;
  };
  const float coarse = height();
  host.resize(400, 300, 2);
  EXPECT_TRUE(host.take_fonts_changed());
  EXPECT_FALSE(host.take_fonts_changed());
  run(1);
  EXPECT_NEAR(fonts::body()->CalcTextSizeA(fonts::kBodySize, FLT_MAX, 0, "4.7 kΩ → 20 mA").x, width, 1.5);
  EXPECT_NEAR(height(), 2 * coarse, 1.5);
  EXPECT_EQ(panel.last.dpr, 2);
}

TEST_F(HostTest, EverySignOfTheTradeHasAGlyph) {
  fonts::require("é");
  run(1);
  for (const ImWchar c : {0x03A9, 0x2126, 0x00B5, 0x03BC, 0x00B0, 0x00B1, 0x00D7, 0x2192, 0x2190, 0x2212, 0x2248,
                          0x2264, 0x2265, 0x221E, 0x2713, 0x26A0, 0x25CF, 0x25B6, 0x2080, 0x00BD, 0x0142, 0x00FC})
    EXPECT_NE(fonts::body()->FindGlyphNoFallback(c), nullptr) << std::hex << c;
  for (const ImWchar c : {0x03A9, 0x00B5, 0x2212, 0x00E9}) {
    EXPECT_NE(fonts::strong()->FindGlyphNoFallback(c), nullptr) << std::hex << c;
    EXPECT_NE(fonts::large()->FindGlyphNoFallback(c), nullptr) << std::hex << c;
  }
}

TEST_F(HostTest, LettersThatAreWrittenForTheFirstTimeAreInThatVeryFrame) {
  run(1);
  const unsigned before = fonts::generation();
  const int built = panel.frames;
  host.take_fonts_changed();
  fonts::require("5 × 2 ÷ 3 µ°");  // as many bytes, but no letters with accents
  run(1);
  EXPECT_EQ(panel.frames, built + 1);
  fonts::require("Łódź");
  run(1);
  EXPECT_EQ(fonts::generation(), before + 1);
  EXPECT_EQ(panel.frames, built + 3);
  EXPECT_TRUE(host.take_fonts_changed());
  EXPECT_NE(fonts::body()->FindGlyphNoFallback(0x141), nullptr);
  EXPECT_NE(fonts::large()->FindGlyphNoFallback(0xF3), nullptr);
  run(1);
  EXPECT_EQ(panel.frames, built + 4) << "once is enough";
}

TEST_F(HostTest, ASizelessCanvasIsNoDisaster) {
  host.resize(0, 0, 0);
  run(3);
  EXPECT_GE(panel.last.width, 1);
  EXPECT_GT(panel.last.dpr, 0);
}

}  // namespace
}  // namespace tiepoint
