// A lesson as JSON for whoever shows it: the page, the terminal program, a course platform. What a page needs, call by call:
//   list of lessons             lesson_summary of each file
//   one step's text             step_view: never tells which answer is right before one is given, nor a reply
//   check results now           verdict_view(lesson, board, judge_step(lesson, step, board)); parts, holes and the case to show
//   a hint                      after(…, HintAsked{}), then hint_for(lesson, step, verdict, progress.steps[step].hints - 1)
//   a prediction, an answer     after(…, Answered{…}), then step_view for the reply; supply_allowed says whether supplies may
//   be switched on the board checked           after(…, judged(verdict)) saving                      write_progress and
//   read_progress (lesson_file.h)
#pragma once

#include <string>

#include "engine/lesson/check.h"
#include "engine/lesson/lesson.h"
#include "engine/lesson/progress.h"

namespace tiepoint {

// {"id", "title", "goal", "minutes", "curriculum": [], "misconceptions": [], "cautions": [], "box": [{"kind", "count"}],
//  "steps": [{"id", "kind", "title", "optional"}]}; count 0: as many as wanted.
std::string lesson_summary(const Lesson& lesson);

// {"id", "kind", "title", "text", "done", "current", "supplyAllowed", "checks": [ids], "hints": asked for, "hintDepths": most,
//  "question": {"ask", "unit", "choices": [{"id", "text"}], "answer", "right", "reply", "locked"}}; right and reply once
//  answered.
std::string step_view(const Lesson& lesson, const Progress& progress, int step);

// {"passed", "points", "mostPoints", "roles": {"Lamp": "LED1"}, "checks": [{"id", "passed", and of a failed one: "reason",
// "fail", "tag",
//  "hints": [], "case": [{"part", "key", "to"}], "parts": [names], "holes": [names], "what", "wanted", "found", "least",
//  "most", "unit", "role", "finding": its key}]}
std::string verdict_view(const Lesson& lesson, const Board& board, const Verdict& verdict);

}  // namespace tiepoint
