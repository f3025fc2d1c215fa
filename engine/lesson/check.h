// Judging a board: does it do what a lesson asks for?
//
// Which part plays which role is not told by names or places. All castings of the roles (Lesson::roles) with fitting parts of
// the board are thought of, parts that are called like their role first, and the one under which most checks pass counts; so a
// learner may swap two buttons, mirror the board, or take another lamp, and is still right.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/explain/finding.h"
#include "engine/lesson/lesson.h"

namespace tiepoint {

// Why a check fails. The sentence is in the message catalogue under "lesson.reason.<key>".
#define TIEPOINT_REASONS(X)                                                                                          \
  X(kPassed, "passed")                                                                                               \
  X(kMissingPart, "missing-part") /* nothing on the board can play a role */                                         \
  X(kNoNumber, "no-reading")      /* no supply reaches it */                                                         \
  X(kOutside, "outside")          /* a number is not in its window */                                                \
  X(kWrongState, "wrong-state")   /* dark, lit, sounding … when it should not be */                                \
  X(kNoWave, "no-wave")           /* nothing comes and goes */                                                       \
  X(kNotJoined, "not-joined")                                                                                        \
  X(kJoined, "joined") X(kNotMeasured, "not-measured") /* no meter stands there */                                   \
      X(kTooFew, "too-few") X(kTooMany, "too-many") X(kNotInSeries, "not-in-series") X(kNotParallel, "not-parallel") \
          X(kOtherShape, "other-shape") /* the nets do not meet as they should */                                    \
      X(kFaulty, "faulty")              /* a finding says what is wrong */

enum class Reason : unsigned char {
#define X(id, key) id,
  TIEPOINT_REASONS(X)
#undef X
};
std::string_view key(Reason reason);

// A value of a part as it stood in the case that failed.
struct CaseSetting {
  int part = 0;   // index into board.parts
  int value = 0;  // index into its values
  double position = 0;
};

struct Outcome {
  Reason reason = Reason::kMissingPart;
  std::vector<CaseSetting> at;  // the case that failed, all it was put to
  std::vector<Place> places;    // parts, leads and holes to show
  double found = std::numeric_limits<double>::quiet_NaN();
  Window expected;
  std::string_view unit;           // of found and expected
  std::string what;                // which number: "current", "frequency", "voltage" …; of a state: what was found
  std::string wanted;              // of a state: what was expected
  int role = -1;                   // kMissingPart: which
  std::optional<Finding> finding;  // kFaulty
  bool passed() const { return reason == Reason::kPassed; }
};

struct Verdict {
  std::vector<int> part_of_role;     // index into board.parts, -1: nothing plays it
  std::vector<const Check*> checks;  // of the lesson, which must outlive the verdict
  std::vector<Outcome> outcomes;     // one per check
  double points = 0, most_points = 0;
  bool passed() const;
  int first_failed() const;  // index into checks, -1: none
};

// Pure and deterministic. `checks` belong to the lesson.
Verdict judge(const Lesson& lesson, std::span<const Check* const> checks, const Board& board);
// The checks of one step.
Verdict judge_step(const Lesson& lesson, int step, const Board& board);
// A finished board: the checks of all steps that count for one.
Verdict judge_hand_in(const Lesson& lesson, const Board& board);

// The claims (Lesson::claims) that the author's build does not bear out, by index, each with what was found. An error when the
// edits of a claim do not fit.
struct BrokenClaim {
  int claim = 0;
  Outcome outcome;
};
Result<std::vector<BrokenClaim>> check_claims(const Lesson& lesson);

// What to say to whoever asks for help at a step: the words for the first failing check at that depth, else those of the step;
// the deepest there is when it has fewer. "" when there are none.
std::string_view hint_for(const Lesson& lesson, int step, const Verdict& verdict, int depth);

}  // namespace tiepoint
