// The path as a hill, on the bench and in the answers to the page.
#include "shell/bench/hill.h"

#include "shell/bench/page_api.h"
#include "tests/shell/hands.h"

namespace tiepoint {
namespace {

double drop(Hands& h, const std::string& name) {
  for (const HillStep& step : h.bench.desk().hill.steps(h.bench.session()))
    if (h.board().find(step.part)->name == name) return step.before - step.after;
  ADD_FAILURE() << name << " is on no path";
  return 0;
}

TEST(HillView, AKeyOpensItAndTheBoardMakesRoom) {
  Hands h;
  h.bench.load(example_board("one-button"));
  h.frames(2);
  const ImVec2 before = h.hole("j30");
  EXPECT_EQ(h.find("hill.LED1"), nullptr);
  h.key(ImGuiKey_P);
  ASSERT_NE(h.find("hill.LED1"), nullptr);
  ASSERT_NE(h.find("hill.PS1"), nullptr);
  EXPECT_EQ(h.find("hill.W1"), nullptr) << "a wire takes no step";
  EXPECT_LT(h.hole("j30").y, before.y);
  EXPECT_LT(h.hole("bottom-1").y, h.find("hill.PS1")->y);
  h.picture("hill-open");
  h.key(ImGuiKey_P);
  EXPECT_EQ(h.find("hill.LED1"), nullptr);
  EXPECT_EQ(h.hole("j30").y, before.y);
}

TEST(HillView, PressingTheButtonChangesTheHillLive) {
  Hands h;
  h.bench.load(example_board("one-button"));
  h.key(ImGuiKey_P);
  EXPECT_NEAR(drop(h, "S1"), 5, 0.1);
  h.down(h.at("control.S1"));
  h.wait(0.2);
  EXPECT_NEAR(drop(h, "S1"), 0, 0.05);
  EXPECT_NEAR(drop(h, "LED1") + drop(h, "R1"), 5, 0.1);
  h.picture("hill-pressed");
  h.up(h.at("control.S1"));
  h.wait(0.2);
  EXPECT_NEAR(drop(h, "S1"), 5, 0.1);
}

TEST(HillView, AtRestItCostsNoStep) {
  Hands h;
  h.bench.load(example_board("one-button"));
  h.key(ImGuiKey_P);
  h.wait(1);
  const uint64_t before = h.bench.session().readings_revision();
  h.wait(1);
  EXPECT_EQ(h.bench.session().readings_revision(), before);
  EXPECT_LT(h.wake, 0) << "asleep until the next input";
}

TEST(HillView, AStepIsSelectedByMouseAndByFinger) {
  for (const PointerSource source : {PointerSource::kMouse, PointerSource::kTouch}) {
    Hands h;
    h.source = source;
    h.bench.load(example_board("one-button"));
    h.key(ImGuiKey_P);
    h.click(h.at("hill.R1"));
    EXPECT_EQ(h.bench.selected(), "R1");
    EXPECT_EQ(h.bench.desk().hill.part(), "R1") << "and it is the chosen part now";
    h.click(h.at("hill.close"));
    EXPECT_FALSE(h.bench.view().hill);
  }
}

TEST(HillView, OnAPhoneEveryStepIsStillInSight) {
  Hands h(360, 304);
  h.bench.load(example_board("one-button"));
  h.key(ImGuiKey_P);
  for (const char* name : {"hill.PS1", "hill.S1", "hill.R1", "hill.LED1"}) {
    const Widget* w = h.find(name);
    ASSERT_NE(w, nullptr) << name;
    EXPECT_GE(w->x, 0);
    EXPECT_LE(w->x + w->w, 360);
    EXPECT_GE(w->w, 24);
  }
  h.picture("hill-phone");
}

TEST(HillView, OnAPhoneTheBoxGivesItsPlaceToTheBoardUntilTheHillIsClosed) {
  Hands h(360, 302, 2);
  h.bench.load(example_board("one-button"));
  h.frames(2);
  const auto across = [&] { return h.hole("a30").x - h.hole("a1").x; };
  const float before = across();
  ASSERT_NE(h.find("box.resistor"), nullptr);
  h.key(ImGuiKey_P);
  h.frames(2);
  EXPECT_EQ(h.find("box.resistor"), nullptr);
  EXPECT_EQ(h.find("search.field"), nullptr) << "the page takes its field away";
  EXPECT_GT(across(), 0.9f * before) << "the board stays as large as it was";
  h.picture("hill-phone");
  h.key(ImGuiKey_P);
  h.frames(2);
  EXPECT_NE(h.find("box.resistor"), nullptr);
  EXPECT_EQ(across(), before);
}

TEST(HillView, WithoutAPathItSaysSo) {
  Hands h;
  h.key(ImGuiKey_P);
  h.picture("hill-empty");
  h.drag(h.at("box.led"), h.between("c15", "c16"));
  EXPECT_EQ(h.bench.desk().hill.part(), "LED1");
  EXPECT_TRUE(h.bench.desk().hill.steps(h.bench.session()).empty());
  h.picture("hill-none");
}

TEST(HillView, EveryExampleHasAHillOfWhichNoStepIsLost) {
  for (const char* name : {"one-button", "lamp-room"}) {
    Hands h;
    h.bench.load(example_board(name));
    h.key(ImGuiKey_P);
    for (const Part& part : h.board().parts) {
      if (!takes_a_step(part)) continue;
      h.bench.desk().hill.choose(h.board(), part.name);
      for (const HillStep& step : h.bench.desk().hill.steps(h.bench.session())) EXPECT_NE(h.board().find(step.part), nullptr);
    }
    h.picture(std::string("hill-") + name);
  }
}

TEST(HillView, ThePageIsToldTheStepsAndRefusedWithThePlace) {
  Hands h;
  h.bench.load(example_board("one-button"));
  const std::string answer = call(h.bench, R"({"do":"hill","part":"LED1"})");
  EXPECT_NE(answer.find(R"("part":"LED1","choices":["S1","R1","LED1"],"steps":[{"part":"PS1")"), std::string::npos) << answer;
  EXPECT_NE(call(h.bench, R"({"do":"hill","part":"Q9"})").find("unknown-part"), std::string::npos);
  EXPECT_NE(call(h.bench, R"({"do":"hill","part":"W1"})").find("\"pointer\":\"/part\""), std::string::npos);
  EXPECT_NE(call(h.bench, R"({"do":"view","hill":true})").find("\"hill\":true"), std::string::npos);
  EXPECT_TRUE(h.bench.view().hill);
}

}  // namespace
}  // namespace tiepoint
