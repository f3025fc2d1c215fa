// The oscilloscope under the hand: its buttons, its probes, what it has on its screen, and when it draws.
#include <gtest/gtest.h>
#include <rapidjson/document.h>

#include "shell/bench/draw_scope.h"
#include "shell/bench/page_api.h"
#include "tests/shell/hands.h"

namespace tiepoint {
namespace {

double value(Hands& hands, std::string_view key) { return value_of(*hands.part("OS1"), key); }

const Scope& scope(Hands& hands) { return *hands.bench.session().scope(hands.part("OS1")->id); }

Camera camera_of(Hands& hands) {
  Camera camera;
  camera.origin = hands.hole("a1");
  camera.scale = hands.hole("a2").x - hands.hole("a1").x;
  return camera;
}

// Middle of a button of its front that fits.
template <class Fits>
ImVec2 button(Hands& hands, Fits fits) {
  const Part& part = *hands.part("OS1");
  ScopeButton buttons[kMostScopeButtons];
  const int n = scope_buttons(part, pose_of(camera_of(hands), hands.board(), part), buttons);
  for (int i = 0; i < n; ++i)
    if (fits(buttons[i])) return buttons[i].box.centre();
  ADD_FAILURE() << "no such button";
  return {-100, -100};
}
ImVec2 knob(Hands& hands, ScopeKnob which, int step, int channel = 0) {
  return button(hands, [&](const ScopeButton& b) { return b.knob && b.which == which && b.step == step && b.channel == channel; });
}
ImVec2 press(Hands& hands, ScopeSwitch action, int channel = 0) {
  return button(hands, [&](const ScopeButton& b) { return !b.knob && b.action == action && b.channel == channel; });
}

struct BenchScope : testing::Test {
  Hands hands;
  void open(const std::string& name) {
    hands.bench.load(example_board(name));
    hands.frames(3);
    hands.wait(0.4);
  }
};

TEST_F(BenchScope, ButtonsOfItsFrontTurnTheScalesTheTriggerAndTheChannels) {
  open("scope-on-a-filter");
  hands.picture("scope-filter");
  const MatPoint mat = hands.part("OS1")->mat;
  const double time = value(hands, "time-scale"), volts = value(hands, "volts-2"), level = value(hands, "trigger-level");
  hands.click(knob(hands, ScopeKnob::kTime, +1));
  EXPECT_EQ(value(hands, "time-scale"), time + 1);
  hands.click(knob(hands, ScopeKnob::kTime, -1));
  EXPECT_EQ(value(hands, "time-scale"), time);
  hands.click(knob(hands, ScopeKnob::kVolts, -1, 1));
  EXPECT_EQ(value(hands, "volts-2"), volts - 1);
  hands.click(knob(hands, ScopeKnob::kLevel, -1));
  EXPECT_EQ(value(hands, "trigger-level"), level - 0.5) << "a quarter of a square of 2 V";
  hands.click(press(hands, ScopeSwitch::kShown, 1));
  EXPECT_EQ(value(hands, "shown-2"), 0);
  hands.click(press(hands, ScopeSwitch::kChart));
  EXPECT_EQ(value(hands, "display"), 1);
  hands.click(press(hands, ScopeSwitch::kRun));
  EXPECT_EQ(value(hands, "running"), 0);
  EXPECT_EQ(hands.part("OS1")->mat, mat) << "a button does not move the case";
  EXPECT_TRUE(hands.bench.undo());
  EXPECT_EQ(value(hands, "running"), 1) << "a setting is an edit like any other";
}

TEST_F(BenchScope, FitMakesTheSignalFillItsScreen) {
  open("scope-on-a-filter");
  for (const char* key : {"volts-1", "volts-2"}) ASSERT_TRUE(hands.bench.act({SetValue{"OS1", key, 10}}).ok());
  ASSERT_TRUE(hands.bench.act({SetValue{"OS1", "time-scale", 15}}).ok());
  hands.wait(1.5);
  hands.click(press(hands, ScopeSwitch::kFit));
  hands.wait(0.5);
  hands.picture("scope-fitted");
  EXPECT_EQ(scope(hands).screen().state, ScopeState::kTriggered);
  EXPECT_NEAR(scope(hands).screen().channel[0].measured.frequency, 200, 1);
  EXPECT_GE(scope(hands).screen().channel[0].measured.periods, 1);
  const ScopeSettings& s = scope(hands).settings();
  EXPECT_GE(s.height(0, 5) - s.height(0, 0), 2);
  EXPECT_TRUE(hands.bench.undo());
  EXPECT_EQ(value(hands, "time-scale"), 15) << "one step back takes all of it back";
}

TEST_F(BenchScope, ProbeIsDraggedFromItsRestIntoAHole) {
  open("scope-on-the-button");
  hands.drag(hands.at("lead.OS1.probe-3"), hands.hole("b5"));
  EXPECT_EQ(hands.hole_of("OS1", 2), "b5");
}

TEST_F(BenchScope, AFingerBetweenTheButtonsAndOnTheScreenTakesTheCase) {
  open("scope-on-a-filter");
  const MatPoint mat = hands.part("OS1")->mat;
  const Pose pose = pose_of(camera_of(hands), hands.board(), *hands.part("OS1"));
  const ImVec2 from = scope_glass(pose).centre();
  hands.drag(from, from - ImVec2{60, 0});
  EXPECT_LT(hands.part("OS1")->mat.x, mat.x);
}

TEST_F(BenchScope, ShowsAPressAndThenSleeps) {
  open("scope-on-the-button");
  ASSERT_TRUE(hands.bench.act({SetValue{"OS1", "time-scale", 12}}).ok());  // 10 ms: 100 ms across
  hands.wait(1);
  EXPECT_EQ(hands.wake, kSleep);
  hands.down(hands.at("control.S1"));
  hands.wait(0.05);
  EXPECT_NE(hands.wake, kSleep);
  hands.wait(1);
  hands.picture("scope-button");
  EXPECT_EQ(hands.wake, kSleep) << "once all of it has come over the screen";
  hands.up(hands.at("control.S1"));
}

TEST_F(BenchScope, InspectorTellsWhatIsMeasuredAndStepsTheScales) {
  open("scope-on-a-filter");
  hands.bench.select("OS1");
  hands.frames(3);
  hands.picture("scope-inspector");
  const double time = value(hands, "time-scale");
  hands.click(hands.at("inspector.time-scale.up"));
  EXPECT_EQ(value(hands, "time-scale"), time + 1);
  hands.click(hands.at("inspector.work"));
  EXPECT_EQ(value(hands, "running"), 0);
  EXPECT_EQ(scope_words(scope(hands), 0), "200 Hz, 5 V swing");
}

TEST_F(BenchScope, EqualPicturesHaveEqualNumbersAndOthersOthers) {
  open("scope-on-a-filter");
  hands.wait(0.2);
  const uint64_t before = seen_on(scope(hands));
  EXPECT_EQ(seen_on(scope(hands)), before);
  ASSERT_TRUE(hands.bench.act({SetValue{"OS1", "volts-2", 5}}).ok());
  hands.wait(0.2);
  EXPECT_NE(seen_on(scope(hands)), before);
}

TEST_F(BenchScope, ThePageIsToldWhatItShowsAndMayArmAndFitIt) {
  open("scope-on-a-filter");
  const auto ask = [&](const std::string& command) {
    rapidjson::Document json;
    json.Parse(call(hands.bench, command).c_str());
    return json;
  };
  const auto shown = ask(R"({"do":"scope","part":"OS1","columns":50})");
  ASSERT_TRUE(shown["ok"].GetBool());
  EXPECT_STREQ(shown["state"].GetString(), "triggered");
  EXPECT_STREQ(shown["timeText"].GetString(), "1 ms");
  ASSERT_EQ(shown["channels"].Size(), 2u);
  EXPECT_EQ(shown["channels"][0]["columns"].Size(), 100u);
  // 5 V at 2 V a square, its zero half a square above the middle: high is at 3.
  EXPECT_NEAR(shown["channels"][0]["columns"][53].GetDouble(), 3, 0.02);
  EXPECT_STREQ(shown["channels"][0]["measured"]["frequency"].GetString(), "200 Hz");
  EXPECT_TRUE(shown["cursors"]["times"].IsNull());
  EXPECT_TRUE(ask(R"({"do":"set","part":"OS1","key":"cursors","text":"both-cursors"})")["ok"].GetBool());
  const auto cursors = ask(R"({"do":"scope","part":"OS1"})");
  EXPECT_STREQ(cursors["cursors"]["timeText"].GetString(), "4 ms");
  EXPECT_STREQ(cursors["cursors"]["rateText"].GetString(), "250 Hz");
  EXPECT_STREQ(cursors["cursors"]["levelText"].GetString(), "4 V");
  EXPECT_TRUE(ask(R"({"do":"scope","part":"OS1","fit":true})")["fitted"].GetBool());
  EXPECT_TRUE(ask(R"({"do":"set","part":"OS1","key":"trigger-mode","text":"single"})")["ok"].GetBool());
  hands.wait(0.3);
  EXPECT_STREQ(ask(R"({"do":"scope","part":"OS1"})")["state"].GetString(), "caught");
  EXPECT_STREQ(ask(R"({"do":"scope","part":"OS1","arm":true})")["state"].GetString(), "waiting");
  EXPECT_EQ(std::string(ask(R"({"do":"scope","part":"OS1","csv":true})")["text"].GetString()).substr(0, 8), "time (s)");
  EXPECT_FALSE(ask(R"({"do":"scope","part":"R1"})")["ok"].GetBool());
  EXPECT_FALSE(ask(R"({"do":"scope","part":"OS1","columns":100000})")["ok"].GetBool());
}

}  // namespace
}  // namespace tiepoint
