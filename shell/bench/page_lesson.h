// A lesson for the page: {"do": "lesson", "act": ...}. Each act but "summary" and "leave" answers with the lesson as it now
// stands, see write_lesson.
//   "summary", "text"                     of a lesson file, which is not begun -> about (lesson_summary)
//   "open", "text", "progress", "board", "help": "outline"|"parts"|"goal", "seed"   progress and board as texts, where they
//   were left;
//                                         an error of either leaves the bench as it was
//   "see"                                 changes nothing
//   "read"                                the step's text has been read
//   "answer", "choice" or "number"        to the step's question
//   "look" / "check"                      judges the board; a failure counts when it was asked for with "check"
//   "hint"                                one depth further
//   "go", "step"                          to a step that has been reached
//   "help", "level"                       how much is shown
//   "lay"                                 the step's board anew
//   "show", "check"                       where a check fails, on the bench
//   "put", "check", "down"                the switches as in the case that failed; "down": false lets go
//   "time", "seconds"                     spent on the step
//   "record"                              a lesson file made of the board as it stands (record_lesson.h) -> text; needs no open
//                                         lesson
//   "prove", "text"                       of a lesson file that somebody writes -> about, cases (how many variants), faults:
//                                         [{"pointer", "text", "case"}], what their own build does not bear out; needs none either
//   "leave"                               the board that lay here before is back
#pragma once

#include <rapidjson/document.h>

#include "engine/error.h"
#include "shell/bench/page_json.h"

namespace tiepoint {

class Bench;

Status lesson_command(Bench& bench, const rapidjson::Value& request, PageJson& out);

// "about": lesson_summary; "at": step; "steps": [{"done", "open": may be gone to}]; "step": step_view; "verdict": verdict_view
// or null, "current": it is of the board as it stands; "words": per check of it {"reason", "case"}; "hints": [texts];
// "hintsLeft"; "help"; "supplyAllowed"; "refusals": of switching a supply on, so far; "dark": names of supplies that are off;
// "complete"; "progress": as it is saved.
void write_lesson(PageJson& out, Bench& bench);

}  // namespace tiepoint
