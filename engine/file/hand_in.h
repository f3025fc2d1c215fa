// What a learner hands in: a board, and with it how far they came in the lesson. Either a board file with the progress file
// beside it, or both in one `*.hand-in.json` (web/schema/hand-in.schema.json):
// {"tiepoint": "hand-in", "version": 1, "board": {a board file}, "progress": {a progress file}}.
#pragma once

#include <optional>
#include <string_view>

#include "engine/board/board.h"
#include "engine/error.h"
#include "engine/file/variants.h"
#include "engine/lesson/progress.h"

namespace tiepoint {

struct HandIn {
  Board board;
  std::optional<Progress> progress;
  const Lesson* lesson = nullptr;  // the variant that it is judged by, one of the rubric's
};

// `board` is a board file or a hand-in file; `progress` the text of a progress file that stood beside it, "" for none. Errors
// are those of either file. The rubric must outlive what is given back.
Result<HandIn> read_hand_in(std::string_view board, std::string_view progress, const Rubric& rubric);

}  // namespace tiepoint
