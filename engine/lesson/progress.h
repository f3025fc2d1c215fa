// Progress: how far someone has come in a lesson. A plain value that can be saved and graded, changed only by after().
//
//   read                                     waits for ReadOn
//   predict                                  waits for an Answered, right or not; it then counts and cannot be taken back.
//   Until
//                                            then no supply may be switched on (supply_allowed)
//   explain, and any question elsewhere      waits for the right answer; each wrong one is counted
//   build, observe, measure, hunt, free      waits for a Judged that passed, and for the question if there is one
#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "engine/error.h"
#include "engine/lesson/check.h"
#include "engine/lesson/lesson.h"

namespace tiepoint {

struct StepProgress {
  bool done = false;
  bool judged = false;            // its checks have passed
  std::string answer;             // id of the choice, or the number as it was given; "" none yet
  bool right = false;             // the last answer
  int answers = 0;                // how often it was answered
  int tries = 0;                  // how often it was judged
  int hints = 0;                  // how many depths were asked for, 0..kHintDepths
  std::vector<std::string> tags;  // misconceptions that wrong answers and failed checks pointed to, each once
  double seconds = 0;             // [s] spent on it
  bool seen = false;              // it was gone to
  bool operator==(const StepProgress&) const = default;
};

struct Progress {
  std::string lesson;  // its id
  Help help = Help::kParts;
  uint32_t seed = 0;                // draws the hidden fault of a hunt
  int step = 0;                     // looked at now
  std::vector<StepProgress> steps;  // one per step of the lesson
  bool operator==(const Progress&) const = default;
};

struct ReadOn {};  // the step's text has been read
struct Answered {
  std::string choice;
  double number = 0;
};  // number: when the question has no choices
struct Judged {
  bool passed = false;
  std::string tag;
};  // tag: of the first failing check
struct HintAsked {};
struct WentTo {
  int step = 0;
};  // back, or on to the first step that is not done
struct TimePassed {
  double seconds = 0;
};
struct HelpChosen {
  Help help = Help::kParts;
};
using ProgressEvent = std::variant<ReadOn, Answered, Judged, HintAsked, WentTo, TimePassed, HelpChosen>;

Progress begin(const Lesson& lesson, Help help = Help::kParts, uint32_t seed = 0);
// Errors leave the progress as it was: an answer to no question, a second answer to a prediction, a step not reached yet.
Result<Progress> after(const Lesson& lesson, const Progress& progress, const ProgressEvent& event);
// What a verdict on the current step tells the progress.
Judged judged(const Verdict& verdict);

bool answer_is_right(const Question& question, const Answered& answer);
// What to say to the answer that was given; "" before, or when the lesson says nothing.
std::string_view reply_to(const Question& question, const StepProgress& step);

// The first step that is not done; the number of steps when all are.
int frontier(const Lesson& lesson, const Progress& progress);
// Not from the moment a prediction is seen until it is made. Before, whoever has just measured keeps what they measured.
bool supply_allowed(const Lesson& lesson, const Progress& progress);
bool complete(const Lesson& lesson, const Progress& progress);
// Does it belong to this lesson as it stands? Errors say what does not.
Status belongs(const Lesson& lesson, const Progress& progress);

}  // namespace tiepoint
