#include "engine/file/lesson_file.h"

#include <fstream>
#include <iterator>

#include "engine/file/lesson_view.h"
#include "tests/engine/build_board.h"
#include "tests/engine/lesson_fixture.h"

namespace tiepoint {
namespace {

const std::string kHead = R"("tiepoint":"lesson","version":1,"id":"x","title":"T","goal":"G")";
const std::string kRoles = R"(,"roles":{"Lamp":{"kind":"led"},"Button":{"kind":"push-button"}})";

Error error_of(const std::string& inside) {
  const Result<Lesson> lesson = read_lesson("{" + inside + "}", catalogue());
  EXPECT_FALSE(lesson.ok()) << inside;
  return lesson.ok() ? Error{} : lesson.error();
}

std::string with_check(const std::string& check) {
  return kHead + kRoles + R"(,"steps":[{"id":"a","kind":"build","text":"t","checks":[{"id":"c","fail":"f",)" + check + "}]}]";
}

struct Bad {
  std::string inside, pointer;
  Code code;
};

TEST(LessonFile, ErrorsNameTheirPlace) {
  const std::string step = R"(,"steps":[{"id":"a","kind":"read","text":"t"}])";
  const Bad cases[] = {
      {R"("tiepoint":"board","version":1)", "/tiepoint", Code::kWrongFile},
      {R"("tiepoint":"lesson","version":9)", "/version", Code::kNewerVersion},
      {R"("tiepoint":"lesson","version":1,"id":"a b","title":"T","goal":"G")" + step, "/id", Code::kBadName},
      {kHead, "", Code::kMissingKey},
      {kHead + step + R"(,"extra":1)", "/extra", Code::kUnknownKey},
      {kHead + R"(,"steps":[])", "/steps", Code::kTooMany},
      {kHead + R"(,"steps":[{"id":"a","kind":"ponder","text":"t"}])", "/steps/0/kind", Code::kBadValue},
      {kHead + R"(,"steps":[{"id":"a","kind":"predict","text":"t"}])", "/steps/0", Code::kMissingKey},
      {kHead + R"(,"steps":[{"id":"a","kind":"build","text":"t"}])", "/steps/0", Code::kMissingKey},
      {kHead + R"(,"steps":[{"id":"a","kind":"read","text":"t"},{"id":"a","kind":"read","text":"t"}])", "/steps/1/id",
       Code::kNameTaken},
      {kHead + R"(,"steps":[{"id":"a","kind":"read","text":["t",3]}])", "/steps/0/text/1", Code::kWrongType},
      {kHead + step + R"(,"done":["b"])", "/done/0", Code::kBadValue},
      {kHead + step + R"(,"roles":{"Lamp":{"kind":"candle"}})", "/roles/Lamp/kind", Code::kUnknownKind},
      {kHead + step + R"(,"roles":{"Lamp":{"kind":"led","set":{"size":3}}})", "/roles/Lamp/set/size", Code::kUnknownValue},
      {kHead + step + R"(,"box":[{"kind":"led","count":0}])", "/box/0/count", Code::kBadValue},
      {kHead + step +
           R"(,"start":{"tiepoint":"board","version":1,"breadboards":[{"layout":"400"}],"parts":[{"name":"R1","kind":"resistor","leads":{"1":"z9"}}]})",
       "/start/parts/0/leads/1", Code::kUnknownHole},
      {kHead + step + R"(,"claims":[{"says":"never written","holds":{"check":"no-faults"}}])", "/claims/0/says",
       Code::kBadValue},
      {with_check(R"("check":"guess")"), "/steps/0/checks/0/check", Code::kBadValue},
      {with_check(R"("check":"state","part":"Horn","is":"lit")"), "/steps/0/checks/0/part", Code::kBadValue},
      {with_check(R"("check":"state","part":"Lamp","is":"cosy")"), "/steps/0/checks/0/is", Code::kBadValue},
      {with_check(R"("check":"state","part":"Lamp","is":"lit","works":["1"])"), "/steps/0/checks/0/works", Code::kUnknownKey},
      {with_check(R"("check":"reading","part":"Lamp","what":"current","between":[2,1])"), "/steps/0/checks/0/between",
       Code::kBadValue},
      {with_check(R"("check":"reading","at":"Lamp.middle","against":"Lamp.anode","between":[1,2])"), "/steps/0/checks/0/at",
       Code::kUnknownLead},
      {with_check(R"("check":"truth","inputs":["Button"],"output":"Lamp","works":["10"])"), "/steps/0/checks/0/works/0",
       Code::kBadValue},
      {with_check(R"("check":"wave","part":"Lamp","what":"current","span":1)"), "/steps/0/checks/0", Code::kMissingKey},
      {with_check(R"("check":"measured","function":"volts")"), "/steps/0/checks/0", Code::kMissingKey},
      {with_check(R"("check":"joined","a":"Lamp","b":"k9")"), "/steps/0/checks/0/b", Code::kBadValue},
      {with_check(R"("check":"no-faults","except":["bad-luck"])"), "/steps/0/checks/0/except/0", Code::kBadValue},
      {with_check(R"("check":"state","part":"Lamp","is":"lit","when":{"Button":"sideways"})"), "/steps/0/checks/0/when/Button",
       Code::kWrongType},
      {with_check(R"("check":"state","part":"Lamp","is":"lit","when":{"Button.depth":1})"),
       "/steps/0/checks/0/when/Button.depth", Code::kUnknownValue},
      {with_check(R"("check":"state","part":"Lamp","is":"lit","do":[{"at":2,"set":{}},{"at":1,"set":{}}])"),
       "/steps/0/checks/0/do/1/at", Code::kBadValue},
      {with_check(R"("check":"no-faults","hints":["1","2","3","4"])"), "/steps/0/checks/0/hints", Code::kTooMany},
  };
  for (const Bad& bad : cases) {
    const Error error = error_of(bad.inside);
    EXPECT_EQ(error.pointer, bad.pointer) << bad.inside << "\n" << text(error);
    EXPECT_EQ(key(error.code), key(bad.code)) << bad.inside << "\n" << text(error);
  }
  EXPECT_EQ(read_lesson("{\n \"tiepoint\": \"lesson\",,", catalogue()).error().line, 2);
}

TEST(LessonFile, FaultsAndClaimsAreAppliedToTheirBoardsWhenRead) {
  const std::string board =
      R"({"tiepoint":"board","version":1,"breadboards":[{"layout":"400"}],"parts":[{"name":"LED1","kind":"led","leads":{"anode":"a5","cathode":"a6"}}]})";
  const auto hunt = [&](const std::string& edit) {
    return kHead + kRoles +
           R"(,"steps":[{"id":"h","kind":"hunt","text":"t","checks":[{"id":"c","fail":"f","check":"no-faults"}],"board":)" +
           board + R"(,"faults":[{"id":"one","reveal":"r","edits":[)" + edit + "]}]}]";
  };
  EXPECT_EQ(error_of(hunt(R"({"edit":"remove","part":"LED9"})")).pointer, "/steps/0/faults/0/edits/0/part");
  const Lesson lesson = read_lesson("{" + hunt(R"({"edit":"turn","part":"LED1","quarters":2})") + "}", catalogue()).value();
  int which = -1;
  const Result<Board> hidden = hidden_board(lesson.steps[0], 5, &which);
  ASSERT_TRUE(hidden.ok());
  EXPECT_EQ(which, 0);
  EXPECT_EQ(hidden->name_of(hidden->parts[0].leads[0]), "a6");
}

TEST(LessonFile, LinesAreJoinedAndClaimsMayRunAcrossThem) {
  const Lesson lesson =
      read_lesson("{" + kHead + R"(,"steps":[{"id":"a","kind":"read","text":["one two","three"]}]})", catalogue()).value();
  EXPECT_EQ(lesson.steps[0].text, "one two\nthree");
  EXPECT_TRUE(text_contains(lesson, "two three"));
  EXPECT_FALSE(text_contains(lesson, "three two"));
}

// Damaged files: a lesson that holds, which can then judge a board, or an error that says something; never a crash.
TEST(LessonFile, DamagedFilesAreReadOrRefused) {
  std::ifstream in(std::string(TIEPOINT_EXAMPLES) + "/lessons/two-doors.lesson.json");
  const std::string whole((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
  ASSERT_FALSE(whole.empty());
  const Board board = one_button().board;
  uint32_t seed = 7;
  const auto pick = [&](size_t below) { return (seed = seed * 1664525u + 1013904223u) / 7 % below; };
  int read = 0;
  for (int round = 0; round < 400; ++round) {
    std::string text = whole;
    const size_t at = pick(text.size());
    switch (pick(5)) {
      case 0:
        text.resize(at);
        break;
      case 1:
        text.erase(at, 1 + pick(30));
        break;
      case 2:
        text[at] = char(pick(256));
        break;
      case 3:
        text.insert(at, text.substr(pick(text.size()), pick(80)));
        break;
      default:
        text[at] = "0123456789-eE.,:[]{}\"a"[pick(22)];
    }
    const Result<Lesson> lesson = read_lesson(text, catalogue());
    if (!lesson) {
      EXPECT_FALSE(tiepoint::text(lesson.error()).empty());
      continue;
    }
    ++read;
    if (read % 8 == 0) (void)judge_hand_in(*lesson, board);
  }
  EXPECT_GT(read, 20);  // most of it is text, which may say anything
  EXPECT_LT(read, 390);
}

TEST(LessonView, StepNeverTellsTheRightAnswerBeforeOneIsGiven) {
  const std::string text =
      "{" + kHead +
      R"(,"steps":[{"id":"p","kind":"predict","text":"t","question":{"ask":"?","choices":[{"id":"a","text":"A","right":true,"reply":"WELL"},{"id":"b","text":"B","reply":"NO"}]}}]})";
  const Lesson lesson = read_lesson(text, catalogue()).value();
  Progress progress = begin(lesson);
  const std::string before = step_view(lesson, progress, 0);
  for (const char* word : {"WELL", "\"NO\"", "\"right\"", "\"reply\""})
    EXPECT_EQ(before.find(word), std::string::npos) << before;
  EXPECT_NE(before.find("\"supplyAllowed\":false"), std::string::npos) << before;
  progress = after(lesson, progress, Answered{"b"}).value();
  const std::string later = step_view(lesson, progress, 0);
  for (const char* word : {"\"reply\":\"NO\"", "\"right\":false", "\"locked\":true", "\"supplyAllowed\":true"})
    EXPECT_NE(later.find(word), std::string::npos) << word << later;
}

TEST(LessonView, FailedCheckCarriesTheCaseAndThePlaces) {
  const Lesson lesson = lesson_of(
      R"("Lamp":{"kind":"led"},"Button":{"kind":"push-button"})",
      R"({"id":"c","fail":"sorry","tag":"B5","hints":["look"],"check":"state","part":"Lamp","is":"rests","when":{"Button":"down"}})");
  const Board board = one_button().board;
  const std::string json = verdict_view(lesson, board, judge_step(lesson, 0, board));
  for (const char* word : {"\"passed\":false", "\"fail\":\"sorry\"", "\"tag\":\"B5\"", "\"parts\":[\"LED1\"]",
                           R"("case":[{"part":"S1","key":"pressed","to":true}])", R"("roles":{"Lamp":"LED1","Button":"S1"})"})
    EXPECT_NE(json.find(word), std::string::npos) << word << "\n" << json;
}

}  // namespace
}  // namespace tiepoint
