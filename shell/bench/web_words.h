// The bench's words where the page brings them.
#pragma once

#include <string_view>

namespace tiepoint {

// A key and its message, each on a line of its own, in any order; a message has no line break. Only before the bench starts:
// what say() gave before is no longer valid.
void give_words(std::string_view lines);

}  // namespace tiepoint
