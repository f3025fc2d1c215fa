// A lesson made of a board: what it does now is what a learner's board is to do. An author's first step; the texts are to be
// written.
#pragma once

#include <string>

#include "engine/board/board.h"
#include "engine/error.h"

namespace tiepoint {

// A lesson file (engine/file/lesson_file.h) with the board as the author's own build, its kinds of parts in the box, a role for
// each part that is no wire and no instrument, and one step whose checks follow from it: when each lamp or sounder works, over
// the switches, or that it does; the current it then takes, by a fifth more or less; how the parts are joined; and that nothing
// is wrong. The board itself passes every one of them: what it cannot be asked (it flashes, it remembers) is left out. Errors:
// a board on which nothing works, or with more parts than a lesson has roles for.
Result<std::string> record_lesson(const Board& board);

}  // namespace tiepoint
