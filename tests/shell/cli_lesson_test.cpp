// The terminal program's lesson and grade commands, run as a teacher would.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <string>

#include "tests/shell/run_program.h"

namespace tiepoint {
namespace {

std::string lesson(const std::string& name) { return std::string(TIEPOINT_EXAMPLES) + "/lessons/" + name + ".lesson.json"; }
std::string board(const std::string& name) { return std::string(TIEPOINT_SOURCE) + "/tests/lessons/" + name + ".board.json"; }
bool has(const ProgramRun& r, const std::string& words) { return r.out.find(words) != std::string::npos; }

// A folder of hand-ins that goes away again.
struct Class {
  std::filesystem::path folder =
      std::filesystem::temp_directory_path() / ("tiepoint-class-" + std::to_string(reinterpret_cast<uintptr_t>(this)));
  Class() { std::filesystem::create_directories(folder); }
  ~Class() { std::filesystem::remove_all(folder); }
  void add(const std::string& name, const std::string& from) const { std::filesystem::copy_file(from, folder / name); }
  void write(const std::string& name, const std::string& text) const { std::ofstream(folder / name) << text; }
};

TEST(CliLesson, CheckOfAGoodLessonHasStatusZero) {
  const ProgramRun r = run("lesson check " + lesson("two-hands") + " " + lesson("first-lamp"));
  EXPECT_EQ(r.status, 0) << r.out;
  EXPECT_TRUE(has(r, "“Two hands for the lens” is in order")) << r.out;
}

TEST(CliLesson, CheckNamesANumberThatIsNotTrue) {
  const Class files;
  std::ifstream in(lesson("two-doors"));
  std::string text((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
  for (size_t at = text.find("9.4 mA"); at != std::string::npos; at = text.find("9.4 mA", at + 1))
    text.replace(at, 6, "7.4 mA");
  const size_t window = text.find("[0.00935, 0.00948]");
  ASSERT_NE(window, std::string::npos);
  files.write("bad.lesson.json", text.replace(window, 18, "[0.00735, 0.00748]"));
  const ProgramRun r = run("lesson check " + (files.folder / "bad.lesson.json").string());
  EXPECT_EQ(r.status, 1);
  EXPECT_TRUE(has(r, "/claims/0: the text says “7.4 mA”. Found for the current: 9.4")) << r.out;
}

TEST(CliLesson, CheckOfABadFileNamesFileAndPointer) {
  const Class files;
  files.write(
      "bad.lesson.json",
      R"({"tiepoint":"lesson","version":1,"id":"x","title":"T","goal":"G","steps":[{"id":"a","kind":"muse","text":"t"}]})");
  const ProgramRun r = run("lesson check " + (files.folder / "bad.lesson.json").string());
  EXPECT_EQ(r.status, 2);
  EXPECT_TRUE(has(r, "bad.lesson.json: /steps/0/kind: \"muse\" does not fit here; expected one of read, build")) << r.out;
}

TEST(CliLesson, RunTellsWhichCaseFailedAndGivesTheHintAskedFor) {
  const ProgramRun r = run("lesson run " + lesson("two-hands") + " --hints 3 --board " + board("two-hands.slip"));
  EXPECT_EQ(r.status, 1);
  EXPECT_TRUE(has(r, "This was with S1 up, S2 down.")) << r.out;
  EXPECT_TRUE(has(r, "Hint: Lead the current through the first button")) << r.out;
  EXPECT_EQ(run("lesson run " + lesson("two-hands") + " --board " + board("two-hands.right")).status, 0);
}

TEST(CliLesson, RunJudgesOneStepAsJson) {
  const ProgramRun r =
      run("lesson run " + lesson("two-doors") + " --json --step same-current --board " + board("two-doors.right"));
  EXPECT_EQ(r.status, 1);  // no ammeter on this board
  for (const char* word : {"\"passed\":false", "\"id\":\"ammeter\"", "\"reason\":\"not-measured\"", "\"tag\":\"M7\""})
    EXPECT_TRUE(has(r, word)) << word << r.out;
}

TEST(CliLesson, BadUsageIsTold) {
  EXPECT_EQ(run("lesson").status, 2);
  EXPECT_EQ(run("lesson check").status, 2);
  EXPECT_EQ(run("lesson run " + lesson("two-doors")).status, 2);
  EXPECT_EQ(run("lesson run " + lesson("two-doors") + " --step nowhere --board " + board("two-doors.right")).status, 2);
  EXPECT_EQ(run("lesson run " + board("two-doors.right") + " --board " + board("two-doors.right")).status, 2);
  EXPECT_EQ(run("grade " + lesson("two-doors")).status, 2);
}

TEST(CliGrade, OneRowForEachHandInWithItsFirstFailure) {
  const ProgramRun r = run("grade " + lesson("two-hands") + " --csv " + board("two-hands.right") + " " + board("two-hands.slip"));
  EXPECT_EQ(r.status, 1);
  EXPECT_TRUE(r.out.starts_with("file,passed,points,")) << r.out;
  EXPECT_TRUE(has(r, "two-hands.right.board.json,yes,4,4,4,4,,,,,,,,,,,,\n")) << r.out;
  EXPECT_TRUE(has(r, "two-hands.slip.board.json,no,2,4,2,4,and,\"The lamp does not light")) << r.out;
  EXPECT_TRUE(has(r, ",L1,")) << r.out;
  EXPECT_EQ(run("grade " + lesson("two-hands") + " " + board("two-hands.right")).status, 0);
}

TEST(CliGrade, ABadFileIsARowAndNeverAStop) {
  const Class files;
  files.write("a.board.json", "{ broken");
  files.add("b.board.json", board("two-hands.right"));
  const ProgramRun r = run("grade " + lesson("two-hands") + " --json " + files.folder.string() + " " +
                        (files.folder / "gone.board.json").string());
  EXPECT_EQ(r.status, 1);
  EXPECT_TRUE(has(r, "not valid JSON")) << r.out;
  EXPECT_TRUE(has(r, "cannot read")) << r.out;
  EXPECT_TRUE(has(r, "\"passed\": true")) << r.out;
}

TEST(CliGrade, HandInsThatStandAlikeAreToldWithTheirTwin) {
  const Class files;
  files.add("ann.board.json", board("two-hands.right"));
  files.add("ben.board.json", board("two-hands.right"));
  files.add("cleo.board.json", board("two-hands.slip"));
  const ProgramRun r = run("grade " + lesson("two-hands") + " " + files.folder.string());
  EXPECT_TRUE(has(r, "Like " + (files.folder / "ann.board.json").string() +
                         ". All 9 parts stand in the same holes. It is the same circuit. 4 of 4 wires have the same colour."))
      << r.out;
  EXPECT_EQ(r.out.find("Like "), r.out.rfind("Like ")) << r.out;
}

TEST(CliGrade, ProgressBesideABoardGoesIntoItsRow) {
  const Class files;
  files.add("ann.board.json", board("two-doors.right"));
  files.write("ann.progress.json",
              R"({"tiepoint":"progress","version":1,"lesson":"two-doors","help":"parts","steps":[
                 {"id":"both-brighter","done":true,"answer":"cancel","answers":1,"tags":["M5"],"seconds":30},{"id":"either","hints":2,"tries":3,"seconds":60}]})");
  const ProgramRun r = run("grade " + lesson("two-doors") + " --csv --no-header " + files.folder.string());
  EXPECT_TRUE(has(r, ",yes,4,4,4,4,,,M5,2,3,1,0,90,,,,\n")) << r.out;
}

// The board of another learner, with some of its text changed.
std::string changed(const std::string& path, std::vector<std::pair<std::string, std::string>> changes) {
  std::ifstream in(path);
  std::string text((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
  for (const auto& [from, to] : changes) {
    const size_t at = text.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    if (at != std::string::npos) text.replace(at, from.size(), to);
  }
  return text;
}

TEST(CliGrade, OneWireMovedAndRecolouredIsStillToldAsAlikeAnotherCircuitIsNot) {
  const Class files;
  const std::string path = board("two-hands.right");
  files.add("ann.board.json", path);
  files.write("ben.board.json", changed(path, {{"\"1\": \"i5\", \"2\": \"i9\"", "\"1\": \"g5\", \"2\": \"g9\""}}));
  files.write("cleo.board.json", changed(path, {{"\"1\": \"i5\", \"2\": \"i9\"", "\"1\": \"i6\", \"2\": \"i9\""}}));
  const ProgramRun r = run("grade " + lesson("two-hands") + " --json " + files.folder.string());
  EXPECT_TRUE(
      has(r, "Of 9 parts all but W2 stand in the same holes. It is the same circuit. 3 of 4 wires have the same colour."))
      << r.out;
  EXPECT_EQ(r.out.find("\"like\""), r.out.rfind("\"like\"")) << r.out;
}

TEST(CliGrade, AHandInFileHoldsBoardAndProgress) {
  const Class files;
  std::ifstream in(board("two-doors.right"));
  const std::string text((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
  files.write(
      "ann.hand-in.json",
      "{\"tiepoint\":\"hand-in\",\"version\":1,\"board\":" + text +
          R"(,"progress":{"tiepoint":"progress","version":1,"lesson":"two-doors","help":"parts","steps":[{"id":"either","hints":1,"seconds":40}]}})");
  files.write("ben.hand-in.json", R"({"tiepoint":"hand-in","version":1})");
  const ProgramRun r = run("grade " + lesson("two-doors") + " --csv --no-header " + files.folder.string());
  EXPECT_TRUE(has(r, "ann.hand-in.json,yes,4,4,4,4,,,,1,0,0,0,40,")) << r.out;
  EXPECT_TRUE(has(r, "ben.hand-in.json,no,0,0,0,0,")) << r.out;
  EXPECT_TRUE(has(r, "board")) << r.out;
}

TEST(CliGrade, ThreadsDoNotChangeTheTable) {
  std::string boards;
  for (const char* name :
       {"two-hands.right", "two-hands.slip", "two-doors.right", "two-doors.slip", "first-lamp.right", "dusk.slip"})
    boards += " " + board(name);
  EXPECT_EQ(run("grade --csv --threads 1 " + lesson("two-hands") + boards).out,
            run("grade --csv --threads 4 " + lesson("two-hands") + boards).out);
}

TEST(CliGrade, SharesPutTogetherAreTheWholeTable) {
  const std::string head = run("grade --csv " + lesson("two-hands") + " /dev/null").out;
  const std::string shares = run("grade --csv --no-header " + lesson("two-hands") + " " + board("two-hands.right")).out +
                             run("grade --csv --no-header " + lesson("two-hands") + " " + board("two-hands.slip")).out;
  EXPECT_EQ(head.substr(0, head.find('\n') + 1) + shares,
            run("grade --csv " + lesson("two-hands") + " " + board("two-hands.right") + " " + board("two-hands.slip")).out);
}

// The hunt has four faults; the seed modulo four draws one (engine/lesson/lesson.h).
TEST(CliLesson, VaryTellsWhatASeedDraws) {
  const ProgramRun r = run("lesson vary " + lesson("fault-hunt") + " --seed 6");
  EXPECT_EQ(r.status, 0);
  EXPECT_TRUE(has(r, "Seed 6: case 1 of 1")) << r.out;
  EXPECT_TRUE(has(r, "hidden in the step “hunt”: thousand")) << r.out;
  EXPECT_EQ(run("lesson vary " + lesson("fault-hunt") + " --learner ann").out,
            run("lesson vary " + lesson("fault-hunt") + " --learner ann").out);
  EXPECT_EQ(run("lesson vary " + lesson("fault-hunt")).status, 2);
  EXPECT_EQ(run("lesson vary " + lesson("fault-hunt") + " --seed -1").status, 2);
}

TEST(CliLesson, CheckNamesTheCaseWhoseBuildFails) {
  const Class files;
  files.write("vary.lesson.json",
              changed(lesson("two-hands"),
                      {{"\"resistance\": 330", "\"resistance\": \"{r}\""},
                       {"\"claims\": [", "\"vary\": {\"cases\": [{\"r\": 330}, {\"r\": 33000}]},\n  \"claims\": ["}}));
  const ProgramRun r = run("lesson check " + (files.folder / "vary.lesson.json").string());
  EXPECT_EQ(r.status, 1);
  EXPECT_TRUE(has(r, "/steps/2/checks/2: case 2: the author's own build fails the check “bright”")) << r.out;
  EXPECT_FALSE(has(r, "case 1:")) << r.out;
}

TEST(CliCompare, SaysTheSameOrTheFirstDifference) {
  const ProgramRun same = run("compare " + board("two-hands.right") + " " + board("two-hands.right"));
  EXPECT_EQ(same.status, 0);
  EXPECT_TRUE(has(same, "The same circuit")) << same.out;
  const ProgramRun other = run("compare " + board("two-hands.slip") + " " + board("two-doors.slip"));
  EXPECT_EQ(other.status, 1);
  EXPECT_TRUE(has(other, "With S1 0, S2 1: LED1 of the first board and LED1 of the second do different things.")) << other.out;
  const ProgramRun json = run("compare --json " + board("first-lamp.right") + " " + board("first-lamp.slip"));
  EXPECT_TRUE(has(json, "\"likeness\": \"different\"")) << json.out;
  EXPECT_EQ(run("compare " + board("two-hands.right")).status, 2);
}

// Lessons In Electric Circuits, Semiconductors: 6 V, an LED taken as 1.6 V, 20 mA: 220 ohm, 88 mW.
TEST(CliSize, HandbookExample) {
  const ProgramRun r = run("size --supply 6V --drop 1.6V --current 20mA");
  EXPECT_EQ(r.status, 0);
  EXPECT_TRUE(has(r, "→ 220 Ω: 20 mA, 88 mW")) << r.out;
}

TEST(CliSize, PartsOwnCurveAndSupplyTooLow) {
  const ProgramRun r = run("size --part led,colour=blue --current 10mA --json");
  EXPECT_EQ(r.status, 0);
  EXPECT_TRUE(has(r, "\"nearest\": 1")) << r.out;
  EXPECT_EQ(run("size --supply 2V --part led,colour=blue --current 10mA").status, 1);
  EXPECT_EQ(run("size --part led").status, 2);
  EXPECT_EQ(run("size --part ne555 --current 10mA").status, 2);
}

// Voltage divider rule: 9 V over 20 kohm and 10 kohm leave 3 V; E12 has 18 kohm and 22 kohm, nearest by ratio 22 kohm (2.81 V).
TEST(CliSize, AQuestionIsAnsweredWithItsFormulaAndRows) {
  const ProgramRun r = run("size divider --supply 9V --wanted 3V --lower 10k");
  EXPECT_EQ(r.status, 0);
  EXPECT_TRUE(has(r, "10 kΩ × (9 V − 3 V) ÷ 3 V = 20 kΩ")) << r.out;
  EXPECT_TRUE(has(r, "→ 22 kΩ: 2.81 V, 281 µA through both (nearest)")) << r.out;
  EXPECT_TRUE(has(r, "  18 kΩ: 3.21 V")) << r.out;
  EXPECT_TRUE(has(run("size divider --supply 9V --wanted 3V --lower 10k --series 24"), "→ 20 kΩ: 3 V")) << r.out;
  EXPECT_TRUE(has(run("size timer --frequency 2 --capacitor 10u --upper 1k --json"), "\"nearest\": 1"));
}

TEST(CliSize, WhatAQuestionCannotDoIsTold) {
  EXPECT_TRUE(has(run("size divider"), "/wanted: nothing does not fit here")) << run("size divider").out;
  EXPECT_EQ(run("size divider").status, 1);
  EXPECT_EQ(run("size divider --colour red").status, 2);
  EXPECT_EQ(run("size rc --time soon").status, 2);
  EXPECT_EQ(run("size divider --wanted 6V").status, 1);
}

}  // namespace
}  // namespace tiepoint
