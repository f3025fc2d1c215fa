// The terminal program's explain command, run as a person would.
#include <gtest/gtest.h>

#include <string>

#include "tests/shell/run_program.h"

namespace tiepoint {
namespace {

std::string example(const std::string& name) { return std::string(TIEPOINT_EXAMPLES) + "/" + name + ".board.json"; }

TEST(CliExplain, ReversedLedIsNamedAndTheStatusIsOne) {
  const ProgramRun r = run("explain " + example("led-reversed"));
  EXPECT_EQ(r.status, 1);
  EXPECT_NE(r.out.find("LED1 is the wrong way round"), std::string::npos) << r.out;
}

TEST(CliExplain, WorkingBoardHasStatusZero) {
  const ProgramRun r = run("explain " + example("one-button"));
  EXPECT_EQ(r.status, 0) << r.out;
}

TEST(CliExplain, DepthsDiffer) {
  const std::string board = example("led-reversed");
  const ProgramRun nudge = run("explain --depth nudge " + board), repair = run("explain --depth repair " + board);
  EXPECT_NE(nudge.out, repair.out);
  EXPECT_NE(repair.out.find("Turn LED1"), std::string::npos) << repair.out;
}

TEST(CliExplain, SpeaksTheLanguageAskedFor) {
  const std::string board = example("one-button");
  const ProgramRun german = run("explain --language de --part LED1 " + board), hebrew = run("explain --part LED1 " + board + " --language he");
  EXPECT_NE(german.out.find("S1 gedrückt ist"), std::string::npos) << german.out;
  EXPECT_NE(german.out.find("9,4"), std::string::npos) << "a decimal comma: " << german.out;
  EXPECT_NE(hebrew.out.find("S1 לחוץ"), std::string::npos) << hebrew.out;
  EXPECT_EQ(run("explain --language xx " + board).status, 2);
}

TEST(CliExplain, PartBehindAButtonNamesThePress) {
  const ProgramRun r = run("explain --part LED1 " + example("one-button"));
  EXPECT_NE(r.out.find("S1 is pressed"), std::string::npos) << r.out;
}

TEST(CliExplain, JsonHoldsKindPlacesAndEdits) {
  const ProgramRun r = run("explain --json --part LED1 " + example("led-reversed"));
  for (const char* word : {"\"kind\": \"led-reversed\"", "\"works\": false", "\"edits\"", "\"edit\":", "\"misconception\": \"B6\"", "\"why\""})
    EXPECT_NE(r.out.find(word), std::string::npos) << word << "\n" << r.out;
}

TEST(CliExplain, BadUsageIsTold) {
  EXPECT_EQ(run("explain").status, 2);
  EXPECT_EQ(run("explain --depth deeper " + example("one-button")).status, 2);
  EXPECT_EQ(run("explain --part LED77 " + example("one-button")).status, 2);
  EXPECT_EQ(run("explain no-such-file.board.json").status, 2);
}

}  // namespace
}  // namespace tiepoint
