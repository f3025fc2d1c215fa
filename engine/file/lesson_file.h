// Lesson file, version 1 (web/schema/lesson.schema.json): `*.lesson.json`. A text may be one string or a list of lines.
// Every role, kind, lead, hole, edit and board in it is checked; errors carry a JSON pointer, or line and column when it is no
// JSON.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "engine/error.h"
#include "engine/lesson/lesson.h"
#include "engine/lesson/progress.h"

namespace tiepoint {

// A lesson that varies ("vary") is given as the learner with this seed has it, see variants.h.
Result<Lesson> read_lesson(std::string_view text, const Catalogue& catalogue, uint32_t seed = 0);

// Progress as it is saved: {"tiepoint": "progress", "version": 1, "lesson", "help", "seed", "step", "steps": [...]}, the steps
// by their ids. Reading it needs the lesson that it is of.
Result<Progress> read_progress(std::string_view text, const Lesson& lesson);
std::string write_progress(const Lesson& lesson, const Progress& progress);

}  // namespace tiepoint
