// Learner: somebody takes a lesson at this bench. Holds the lesson, how far it has come, the verdict on the board as it stands,
// and the board that lay here before. Whoever shows the lesson asks and tells through this; nothing here draws.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "engine/lesson/check.h"
#include "engine/lesson/lesson.h"
#include "engine/lesson/progress.h"

namespace tiepoint {

class Bench;

class Learner {
 public:
  // Puts the board on the bench aside and lays out `board`; none: the one the lesson starts with. The progress belongs to the
  // lesson.
  Learner(Bench& bench, Lesson lesson, Progress progress, std::optional<Board> board);
  Learner(const Learner&) = delete;
  Learner& operator=(const Learner&) = delete;
  // The board that lay here before is back, and the whole parts box. Nothing else may be asked afterwards.
  void leave();

  const Lesson& lesson() const { return lesson_; }
  const Progress& progress() const { return progress_; }
  const Step& step() const { return lesson_.steps[size_t(progress_.step)]; }
  bool touched() const;  // the board was changed in this step
  // Errors leave all as it was.
  Status tell(const ProgressEvent& event);
  // To a step that has been reached. A step with a board of its own lays it out when it is come to for the first time.
  Status go(int step);
  // Lays out the board of the step anew, or the lesson's first one.
  void lay_out();

  // The verdict on the board as it stands. A pass counts at once when the board was changed in this step; a failure never does,
  // nobody asked. Null when the step has no checks.
  const Verdict* look();
  // The same, and it counts either way.
  const Verdict* check_now();
  // The verdict that was last asked for in this step; null when there is none.
  const Verdict* verdict() const { return verdict_ ? &*verdict_ : nullptr; }
  bool verdict_is_of_this_board() const;
  // The board that verdict() is about.
  const Board& judged_board() const { return judged_; }

  // One depth further in the help for the first failing check.
  Status ask_hint();
  // The depths that were asked for, for what fails now.
  std::vector<std::string> hints() const;
  bool more_hints() const;

  // Shows on the bench where a check fails. False when it passes or is not among those of the verdict.
  bool show(std::string_view check);
  // Puts the switches as they stood in the case that failed, until let_go() lets go of the buttons.
  Status put_case(std::string_view check);
  void let_go();

 private:
  const Outcome* failed(std::string_view check) const;
  std::pair<int, std::string> hint_key() const;
  void judge();
  void arrange();
  void begin_step();

  Bench& bench_;
  Lesson lesson_;
  Progress progress_;
  Board own_, judged_;
  std::optional<Verdict> verdict_;
  uint64_t judged_revision_ = 0, entered_revision_ = 0;  // of the board
  std::vector<char> laid_out_;                           // per step: its own board has been on the bench
  std::vector<std::string> held_;                        // buttons held down by put_case
  std::map<std::pair<int, std::string>, int> asked_;     // step, failing check -> depths of help given
};

}  // namespace tiepoint
