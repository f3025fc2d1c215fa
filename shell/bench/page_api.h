// The one command layer of the page: buttons, scripts, embed messages and tests all say what they want as one JSON object and get one
// back. Bad input never crashes and never changes the board; the answer then is
//   {"ok": false, "error": {"code", "text", "part", "lead", "hole", "found", "expected", "pointer", "line", "column"}}
// with only the places that apply. Otherwise {"ok": true, ...}:
//
//   {"do": "edit", "edit": {...}}              any Edit (engine/file/json.h)                     -> part
//   {"do": "place", "kind", "holes": ["a5", "a10"], "turn": 0, "values": {"resistance": "4k7"}}  -> part
//   {"do": "move", "part", "holes": [...], "turn"}   one hole per lead, the first alone for rigid parts
//   {"do": "move", "part", "by": [1, 0]}   all of it by whole holes, to the right and downwards
//   {"do": "set", "part", "key", "text": "4k7"} or "number": 4700
//   {"do": "press", "part", "down": true}
//   {"do": "undo"} {"do": "redo"}                                                              -> part
//   {"do": "new", "layout": "400", "splitRails": false}
//   {"do": "breadboard", "layout": "400", "splitRails": false}   one more, joined to those on the mat; "away": true takes the last one away
//   {"do": "load", "text": "..."} or "board": {...}   a board file; "own": true: somebody comes back to their work, whose
//                                            kinds of parts count as recently used
//   {"do": "board"}                            the board file                                    -> text
//   {"do": "words"}                            all that the notebook tells (page_words.h)
//   {"do": "readings"} {"do": "catalogue"} {"do": "joined", "hole": "e12"}
//   {"do": "select", "part": "R1"}             "" selects nothing; "parts": ["R1", "S1"] selects several; "all": true selects everything,
//                                              "toggle": true takes "part" in or out
//   {"do": "copy"}                             a board file of the selected parts                -> text, "" when there are none
//   {"do": "duplicate"}                        of the selected parts                             -> parts, their names
//   {"do": "paste", "text": "..."}             the parts of a board file                         -> parts; none when there is no room
//   {"do": "turn", "quarters": 1}              all selected parts, as one step
//   {"do": "remove"}                           all selected parts, as one step                   -> parts that are gone
//   {"do": "find", "text": "10k"}              parts by name, value or purpose (find_parts.h), best first -> found: kind, values
//     with "show": true, "at": 0               the parts box shows them, the one of this number marked; "show": false ends that
//   {"do": "take", "kind", "values"}           such a part into the hand, as a tap on its compartment does
//   {"do": "hill", "part": "LED1"}             the voltage along the path through a part, or through the one chosen last -> part, choices, steps:
//                                              the source first, then each part on the way: before, after [V], current [A], flat
//   {"do": "shortcuts"}                        keys and gestures (shortcuts.h)
//   {"do": "step", "seconds": 0.001}                one step of time while it stands; answers "stepped" and "time"
//   {"do": "view", "zoom": 1.25, "fit": true, "near": "R1", "underBoard", "levels", "flow", "hill": true, "pace": 0.1,
//    "bounce": false, "readOnly": true}        each as wanted -> underBoard, levels, flow, hill, pace, bounce, readOnly as they now are,
//                                              near: the camera goes to this part or hole, "" to the selected parts;
//                                              "flags": how many stand,
//                                              "inHand": Escape has something to put down. readOnly: buttons, switches and knobs work,
//                                              all other changes are refused
//   {"do": "findings"} {"do": "why", "part", "show": true}   what is wrong, and why a part works or not; its way drawn on the bench
//   {"do": "signs", "holes": [names], "parts": [names], "edits": [edit, ...]}   pointed at from now on; without any: nothing (page_findings.h)
//   {"do": "scope", "part", "columns": 300}    what an oscilloscope shows and measures (page_scope.h)
//     with "arm": true  it takes a single picture anew; "fit": true  scales and trigger for what it measures -> fitted, part;
//     "csv": true  the picture as a table (engine/file/scope_csv.h) -> text
//   {"do": "hide", "count": 2, "seed": 7}      hides faults to be found; "fault": an index of {"do": "faults"} hides that one (page_hunt.h)
//   {"do": "reveal"}                           marks what is hidden
//   {"do": "truth"}                            what every output does at each position of the switches (page_truth.h)
//   {"do": "lesson", "act": ...}            a lesson is taken here (page_lesson.h)
//   {"do": "size"} {"do": "size", "of", "given"}   which value? (page_size.h)
//   {"do": "point", "hole"} or "part" or "part" and "lead" or "box": a kind in the parts box, or "widget": any id of Bench::widgets()
//                                              -> x, y of the middle, w, h [CSS px on the canvas]; "found": false when not in sight
#pragma once

#include <rapidjson/document.h>

#include <functional>
#include <string>
#include <string_view>

#include "engine/error.h"
#include "shell/bench/page_json.h"

namespace tiepoint {

class Bench;

std::string call(Bench& bench, std::string_view json);

// A request read, answered and wrapped as above, whoever answers: `answer` writes members of the reply, or says what is wrong.
std::string answer_to(std::string_view json, const std::function<Status(const rapidjson::Value&, PageJson&)>& answer);

}  // namespace tiepoint
