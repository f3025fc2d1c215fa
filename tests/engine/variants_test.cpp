#include "engine/file/variants.h"

#include <gtest/gtest.h>

#include <set>
#include <string>

#include "engine/board/edit.h"
#include "engine/file/hand_in.h"
#include "engine/file/json.h"
#include "engine/file/lesson_file.h"
#include "engine/lesson/check.h"
#include "engine/lesson/shift.h"
#include "engine/parts/part_type.h"

namespace tiepoint {
namespace {

// A lamp with a dropping resistor, in two sizes; `vary` and the window are the test's.
std::string lamp(const std::string& vary, const std::string& window = "[\"{least}\", \"{most}\"]",
                 const std::string& words = "{current}") {
  return R"({"tiepoint":"lesson","version":1,"id":"lamp","title":"Lamp","goal":"A lamp at )" + words + R"(",
    "roles":{"Lamp":{"kind":"led"},"Limiter":{"kind":"resistor"}},
    "outline":{"tiepoint":"board","version":1,"breadboards":[{"layout":"400"}],"parts":[
      {"name":"PS1","kind":"usb-supply","mat":[5,-6.8],"leads":{"+":"top+1","-":"top-1"}},
      {"name":"W1","kind":"jumper-wire","leads":{"1":"top+3","2":"b4"}},
      {"name":"R1","kind":"resistor","leads":{"1":"c4","2":"c9"},"set":{"resistance":"{r}"}},
      {"name":"LED1","kind":"led","leads":{"anode":"d9","cathode":"d10"}},
      {"name":"W2","kind":"jumper-wire","leads":{"1":"a10","2":"top-10"}}]},
    "steps":[{"id":"build","kind":"build","text":"Build it.","checks":[{"id":"current","check":"reading","part":"Lamp","what":"current","between":)" +
         window + R"(,"fail":"no"}]}])" + (vary.empty() ? "" : ",\"vary\":" + vary) + "}";
}
// 5 V and a red LED of about 1.9 V: (5 V - 1.9 V) / 330 ohm = 9.4 mA, / 1 kohm = 3.1 mA (hand calculation).
const std::string kCases =
    R"("cases":[{"r":330,"current":"9 mA","least":0.008,"most":0.011},{"r":1000,"current":"3 mA","least":0.0025,"most":0.004}])";

Error error_of(const std::string& text) {
  const Result<Rubric> rubric = read_rubric(text, catalogue());
  EXPECT_FALSE(rubric.ok());
  return rubric ? Error{} : rubric.error();
}

TEST(Variants, EachSeedHasItsCaseInTextNumbersAndBoard) {
  const std::string text = lamp("{" + kCases + "}");
  for (uint32_t seed = 0; seed < 4; ++seed) {
    const Result<Lesson> lesson = read_lesson(text, catalogue(), seed);
    ASSERT_TRUE(lesson.ok()) << tiepoint::text(lesson.error());
    const bool first = seed % 2 == 0;
    EXPECT_EQ(lesson->goal, first ? "A lamp at 9 mA" : "A lamp at 3 mA");
    EXPECT_EQ(value_of(*lesson->outline->find("R1"), "resistance"), first ? 330 : 1000);
    EXPECT_EQ(std::get<ReadingCheck>(lesson->steps[0].checks[0].ask).window.high, first ? 0.011 : 0.004);
    EXPECT_TRUE(judge_hand_in(*lesson, *lesson->outline).passed()) << seed;
  }
}

TEST(Variants, TheOtherCasesBoardDoesNotPass) {
  const Result<Rubric> rubric = read_rubric(lamp("{" + kCases + "}"), catalogue());
  ASSERT_TRUE(rubric.ok());
  ASSERT_EQ(rubric->cases.size(), 2u);
  EXPECT_FALSE(judge_hand_in(rubric->of(0), *rubric->of(1).outline).passed());
}

TEST(Variants, AHandInIsJudgedByTheCaseOfItsSeed) {
  const Result<Rubric> rubric = read_rubric(lamp("{" + kCases + "}"), catalogue());
  ASSERT_TRUE(rubric.ok());
  const std::string board = write_board(*rubric->of(1).outline);
  const auto progress = [](int seed) {
    return R"({"tiepoint":"progress","version":1,"lesson":"lamp","help":"parts","seed":)" + std::to_string(seed) +
           R"(,"steps":[]})";
  };
  for (const int seed : {6, 7}) {
    const Result<HandIn> hand_in = read_hand_in(board, progress(seed), *rubric);
    ASSERT_TRUE(hand_in.ok()) << tiepoint::text(hand_in.error());
    EXPECT_EQ(judge_hand_in(*hand_in->lesson, hand_in->board).passed(), seed == 7);
  }
}

TEST(Variants, ColumnsMoveAllBoardsAsFarAsTheyFitAndTheMovedBuildPasses) {
  const std::string text = lamp("{\"columns\":8}", "[0.008, 0.011]", "9 mA");
  std::string plain = text;
  plain.replace(plain.find("\"{r}\""), 5, "330");
  std::set<int> shifts;
  for (uint32_t seed = 0; seed < 9; ++seed) {
    const Result<Lesson> lesson = read_lesson(plain, catalogue(), seed);
    ASSERT_TRUE(lesson.ok()) << tiepoint::text(lesson.error());
    shifts.insert(lesson->shift);
    const Board& build = *lesson->outline;
    EXPECT_EQ(build.name_of(build.find("LED1")->leads[0]), "d" + std::to_string(9 + lesson->shift));
    EXPECT_EQ(build.name_of(build.find("W1")->leads[0]), "top+3");
    EXPECT_TRUE(judge_hand_in(*lesson, build).passed()) << seed;
  }
  EXPECT_EQ(shifts.size(), 9u);
}

TEST(Variants, ABoardThatWouldLeaveTheBreadboardIsNotMoved) {
  Board board;
  board.breadboards[0].layout = LayoutKind::k400;
  Part part = make_part(*catalogue().find("resistor"));
  part.leads = {*board.hole("a20"), *board.hole("a25")};
  ASSERT_TRUE(apply(board, Edit{PlacePart{part}}).ok());
  const Result<Board> fits = shifted(board, 5);
  EXPECT_TRUE(fits.ok()) << (fits ? "" : text(fits.error()));
  const Result<Board> out = shifted(board, 6);
  ASSERT_FALSE(out.ok());
  EXPECT_EQ(out.error().code, Code::kOffBoard);
  EXPECT_EQ(out.error().part, "R1");
}

TEST(Variants, EveryHuntFindsItsFaultOnTheMovedBoardToo) {
  Step step;
  step.board.emplace();
  Part part = make_part(*catalogue().find("resistor"));
  part.leads = {*step.board->hole("a2"), *step.board->hole("a7")};
  ASSERT_TRUE(apply(*step.board, Edit{PlacePart{part}}).ok());
  step.faults.push_back({"gone", {Edit{RemovePart{"R1"}}}, "", ""});
  step.faults.push_back({"off", {Edit{SeatLead{"R1", 1, *step.board->hole("a8")}}}, "", ""});
  step.shift = 3;
  const Result<Board> board = hidden_board(step, 1);
  ASSERT_TRUE(board.ok());
  EXPECT_EQ(board->name_of(board->find("R1")->leads[1]), "a11");
}

TEST(Variants, MistakesInVaryHaveTheirPlace) {
  EXPECT_EQ(error_of(lamp("{\"cases\":[]}")).pointer, "/vary/cases");
  EXPECT_EQ(error_of(lamp("{\"cases\":[{\"r\":330}]}")).pointer, "/goal");  // {current} is in no case
  EXPECT_EQ(error_of(lamp("{" + kCases.substr(0, kCases.size() - 1) + ",{\"r\":1}]}")).pointer, "/vary/cases/2");
  EXPECT_EQ(error_of(lamp("{\"cases\":[{\"r\":330,\"current\":\"x\",\"least\":0,\"most\":1,\"idle\":3}]}")).pointer,
            "/vary/cases/0/idle");
  EXPECT_EQ(error_of(lamp("{\"cases\":[{\"r\":[],\"current\":\"x\",\"least\":0,\"most\":1}]}")).pointer, "/vary/cases/0/r");
  EXPECT_EQ(error_of(lamp("{\"columns\":-1}")).pointer, "/vary/columns");
  EXPECT_EQ(error_of(lamp("{\"shift\":1}")).pointer, "/vary/shift");
  const Error third =
      error_of(lamp("{\"cases\":[{\"r\":330,\"current\":\"x\",\"least\":0,\"most\":1},{\"r\":\"blue\",\"current\":\"x\","
                    "\"least\":0,\"most\":1}]}"));
  EXPECT_EQ(third.pointer, "/outline/parts/2/set/resistance");
  EXPECT_NE(third.found.find("case 2"), std::string::npos) << third.found;
}

// FNV-1a, 32 bit: "" is the offset basis 2166136261, "a" gives 0xE40C292C (test vectors of the algorithm's authors, from
// memory).
TEST(Variants, ANameHasTheSeedOfItsHash) {
  EXPECT_EQ(seed_of_name(""), 2166136261u & 0x7FFFFFFFu);
  EXPECT_EQ(seed_of_name("a"), 0xE40C292Cu & 0x7FFFFFFFu);
}

TEST(Variants, ALessonThatDoesNotVaryIsTheSameForEverySeed) {
  std::string plain = lamp("", "[0.008, 0.011]", "{9 mA}");  // a brace with a blank is just text
  plain.replace(plain.find("\"{r}\""), 5, "330");
  for (const uint32_t seed : {0u, 1u, 77u}) {
    const Result<Lesson> lesson = read_lesson(plain, catalogue(), seed);
    ASSERT_TRUE(lesson.ok());
    EXPECT_EQ(lesson->goal, "A lamp at {9 mA}");
    EXPECT_EQ(lesson->case_count, 1);
  }
}

}  // namespace
}  // namespace tiepoint
