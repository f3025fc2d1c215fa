// What is kept from frame to frame is what would be drawn anew.
#include "shell/bench/sheet.h"

#include "tests/shell/hands.h"

namespace tiepoint {
namespace {

uint64_t drawn(Hands& hands) { return hands.bench.sheets_drawn(); }

TEST(Sheets, NothingIsDrawnAnewWhereNothingChangedAndOneForOnePart) {
  Hands hands;
  hands.bench.load(example_board("harbour-lights"));
  hands.wait(1);
  const uint64_t before = drawn(hands);
  hands.frames(10);
  EXPECT_EQ(drawn(hands), before);
  hands.move(hands.at("part.R1"));
  hands.wait(0.1);
  EXPECT_EQ(drawn(hands), before + 1) << "the part under the pointer has its outline";
}

TEST(Sheets, APartInTheHandLeavesTheOthersAlone) {
  Hands hands;
  hands.bench.load(example_board("lamp-room"));
  ASSERT_TRUE(hands.bench.act({SetValue{"PS1", "on", 0}}).ok());
  hands.wait(20);
  const ImVec2 from = hands.at("part.R2");
  hands.down(from);
  hands.move(from + ImVec2{0, 20});
  const uint64_t before = drawn(hands);
  hands.glide(from + ImVec2{0, 20}, from + ImVec2{0, 80});
  EXPECT_LE(drawn(hands), before + 1);
  hands.key(ImGuiKey_Escape);
}

// If a drawing read something that its key leaves out, a kept picture would differ from a new one.
TEST(Sheets, AKeptPictureIsTheSameAsANewOneAfterEveryKindOfEdit) {
  Hands kept;
  kept.bench.load(example_board("lamp-room"));
  ViewOptions still;
  still.time_scale = 0;
  kept.bench.set_view(still);
  ASSERT_TRUE(kept.bench.act({SetValue{"PS1", "on", 0}}).ok());
  kept.wait(1);
  const std::vector<Part> parts = kept.board().parts;
  for (const Part& part : parts)
    for (size_t i = 0; i < part.kind->values.size(); ++i) {
      const ValueSpec& spec = part.kind->values[i];
      if (spec.use != Use::kValue) continue;
      const double other = part.values[i] + (spec.options.empty() ? 0.1 * (spec.maximum - spec.minimum) : 1);
      if (other <= spec.maximum) (void)kept.bench.act({SetValue{part.name, std::string(spec.key), other}});
    }
  kept.wait(1);
  Hands fresh;
  fresh.bench.load(kept.board());
  fresh.bench.set_view(still);
  fresh.wait(1);
  EXPECT_TRUE(kept.picture("kept").rgba == fresh.picture("fresh").rgba);
}

TEST(Sheets, ARunningBoardBuildsNoFrameWhileNothingShownChanges) {
  Hands hands;
  hands.bench.load(example_board("rc-afterglow"));
  hands.host.key(ImGuiKey_1, true, 0);
  hands.wait(0.3);
  hands.host.key(ImGuiKey_1, false, 0);
  hands.wait(6);
  int built = 0, calls = 0;
  const double begun = hands.bench.session().time();
  for (; calls < 60; ++calls) {
    hands.frames(1);
    built += hands.host.built();
  }
  EXPECT_GT(hands.bench.session().time(), begun) << "time goes on";
  EXPECT_LT(built, calls / 2);
}

TEST(Sheets, AForgottenPictureIsBuiltAgainAtRest) {
  Hands hands;
  hands.bench.load(example_board("one-button"));
  hands.wait(2);
  EXPECT_FALSE(hands.host.built());
  hands.host.forget_picture();
  hands.frames(1);
  EXPECT_TRUE(hands.host.built());
  EXPECT_TRUE(hands.host.picture_changed());
}

}  // namespace
}  // namespace tiepoint
