// The page of marking (web/marking.html): a class of hand-ins judged where they are dropped. It has no bench; each request is
// one JSON object, answered as page_api.h tells:
//   {"do": "begin", "text"}                     of a lesson file; what was judged before is forgotten -> about, cases
//   {"do": "mark", "file", "board", "progress"} texts; "" or no progress: none   -> row, and sketch of a board that could be
//   read
//   {"do": "refuse", "file", "error"}           a file that never got so far is a row with that error -> row
//   {"do": "alike"}                             once all are marked -> alike: [{"row", "like", "evidence"}]
//   {"do": "csv"}                               the table, as `tiepoint grade --csv` writes it -> text
// row: {"file", "error", "passed", "points", "mostPoints", "checks", "checksPassed", "failed", "words", "tags", "hasProgress",
// "hints",
//   "tries", "predictions", "predictionsRight", "seconds", "case" (0: the lesson does not vary)}
// sketch: {"boards": [[x, y, w, h]], "parts": [{"kind", "wire", "colour", "at": [x, y, x, y …]}]}, in hole steps
#pragma once

#include <memory>
#include <string>
#include <string_view>

namespace tiepoint {

class Marking {
 public:
  Marking();
  ~Marking();
  std::string call(std::string_view json);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace tiepoint
