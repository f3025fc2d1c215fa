#include "engine/lesson/progress.h"

#include "tests/engine/build_board.h"
#include "tests/engine/lesson_fixture.h"

namespace tiepoint {
namespace {

Lesson four_steps() {
  const std::string text =
      R"({"tiepoint":"lesson","version":1,"id":"four","title":"T","goal":"G","roles":{"Lamp":{"kind":"led"}},"steps":[
    {"id":"read","kind":"read","text":"x"},
    {"id":"guess","kind":"predict","text":"x","question":{"ask":"?","choices":[{"id":"a","text":"A","tag":"M1","reply":"no"},{"id":"b","text":"B","right":true,"reply":"yes"}]}},
    {"id":"build","kind":"build","text":"x","checks":[{"id":"c","fail":"f","tag":"B6","check":"parts","kind":"led","at-least":1}]},
    {"id":"why","kind":"explain","text":"x","question":{"ask":"?","unit":"V","between":[4,5],"right":"well","wrong":"again"}},
    {"id":"more","kind":"free","text":"x","optional":true}]})";
  return read_lesson(text, catalogue()).value();
}

Progress go(const Lesson& lesson, Progress progress, const std::vector<ProgressEvent>& events) {
  for (const ProgressEvent& event : events) {
    Result<Progress> next = after(lesson, progress, event);
    if (!next) ADD_FAILURE() << text(next.error());
    if (next) progress = *next;
  }
  return progress;
}

TEST(Progress, RunsThroughTheStepsInOrder) {
  const Lesson lesson = four_steps();
  Progress p = begin(lesson, Help::kGoal, 7);
  EXPECT_EQ(frontier(lesson, p), 0);
  EXPECT_FALSE(complete(lesson, p));
  p = go(lesson, p, {ReadOn{}, WentTo{1}, Answered{"b"}, WentTo{2}, Judged{true, ""}, WentTo{3}, Answered{"", 4.5}});
  EXPECT_TRUE(complete(lesson, p));  // the last step is optional
  EXPECT_EQ(frontier(lesson, p), 5);
}

TEST(Progress, SupplyIsLockedUntilThePredictionIsMade) {
  const Lesson lesson = four_steps();
  Progress p = begin(lesson);
  EXPECT_TRUE(supply_allowed(lesson, p));
  p = go(lesson, p, {ReadOn{}});
  EXPECT_TRUE(supply_allowed(lesson, p));  // whoever has just measured sees it still
  p = go(lesson, p, {WentTo{1}});
  EXPECT_FALSE(supply_allowed(lesson, p));
  EXPECT_FALSE(supply_allowed(lesson, go(lesson, p, {WentTo{0}})));  // going back opens no way round
  p = go(lesson, p, {Answered{"a"}});
  EXPECT_TRUE(supply_allowed(lesson, p));
}

TEST(Progress, PredictionCountsEvenWhenWrongAndCannotBeTakenBack) {
  const Lesson lesson = four_steps();
  const Progress p = go(lesson, begin(lesson), {ReadOn{}, WentTo{1}, Answered{"a"}});
  EXPECT_TRUE(p.steps[1].done);
  EXPECT_FALSE(p.steps[1].right);
  EXPECT_EQ(p.steps[1].tags, std::vector<std::string>{"M1"});
  EXPECT_EQ(reply_to(*lesson.steps[1].question, p.steps[1]), "no");
  const Result<Progress> again = after(lesson, p, Answered{"b"});
  ASSERT_FALSE(again.ok());
  EXPECT_EQ(again.error().code, Code::kBadValue);
}

TEST(Progress, ExplanationWaitsForTheRightAnswerAndCountsTheWrongOnes) {
  const Lesson lesson = four_steps();
  Progress p =
      go(lesson, begin(lesson), {ReadOn{}, WentTo{1}, Answered{"b"}, WentTo{2}, Judged{true, ""}, WentTo{3}, Answered{"", 9}});
  EXPECT_FALSE(p.steps[3].done);
  EXPECT_EQ(reply_to(*lesson.steps[3].question, p.steps[3]), "again");
  p = go(lesson, p, {Answered{"", 5}});
  EXPECT_TRUE(p.steps[3].done);
  EXPECT_EQ(p.steps[3].answers, 2);
  EXPECT_EQ(p.steps[3].answer, "5");
}

TEST(Progress, FailedJudgementsAreCountedWithTheirTag) {
  const Lesson lesson = four_steps();
  Progress p = go(lesson, begin(lesson), {ReadOn{}, WentTo{1}, Answered{"b"}, WentTo{2}});
  p = go(lesson, p, {judged(judge_step(lesson, 2, Board{}))});
  EXPECT_FALSE(p.steps[2].done);
  EXPECT_EQ(p.steps[2].tags, std::vector<std::string>{"B6"});
  p = go(lesson, p,
         {HintAsked{}, HintAsked{}, HintAsked{}, HintAsked{}, TimePassed{12.5},
          judged(judge_step(lesson, 2, one_button().board))});
  EXPECT_TRUE(p.steps[2].done);
  EXPECT_EQ(p.steps[2].tries, 2);
  EXPECT_EQ(p.steps[2].hints, kHintDepths);
  EXPECT_EQ(p.steps[2].seconds, 12.5);
}

TEST(Progress, WhatDoesNotFitIsRefusedAndNothingIsLost) {
  const Lesson lesson = four_steps();
  const Progress p = begin(lesson);
  for (const ProgressEvent& event : {ProgressEvent(WentTo{2}), ProgressEvent(WentTo{-1}), ProgressEvent(Answered{"a"}),
                                     ProgressEvent(Judged{true, ""}), ProgressEvent(TimePassed{-1})})
    EXPECT_FALSE(after(lesson, p, event).ok());
  const Progress guess = go(lesson, p, {ReadOn{}, WentTo{1}});
  EXPECT_FALSE(after(lesson, guess, ReadOn{}).ok());
  EXPECT_FALSE(after(lesson, guess, Answered{"c"}).ok());
  Lesson other = lesson;
  other.steps.pop_back();
  EXPECT_FALSE(after(other, p, ReadOn{}).ok());
}

TEST(Progress, FileGivesBackTheSame) {
  const Lesson lesson = four_steps();
  const Progress p =
      go(lesson, begin(lesson, Help::kOutline, 123), {ReadOn{}, WentTo{1}, Answered{"a"}, HintAsked{}, TimePassed{0.25}});
  const Result<Progress> back = read_progress(write_progress(lesson, p), lesson);
  ASSERT_TRUE(back.ok()) << text(back.error());
  EXPECT_EQ(*back, p);
}

TEST(Progress, FileOfAnotherLessonIsRefusedWithItsPlace) {
  const Lesson lesson = four_steps();
  Lesson renamed = lesson;
  renamed.id = "other";
  const Result<Progress> back = read_progress(write_progress(lesson, begin(lesson)), renamed);
  ASSERT_FALSE(back.ok());
  EXPECT_EQ(back.error().pointer, "/lesson");
}

}  // namespace
}  // namespace tiepoint
