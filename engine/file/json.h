// The one door between JSON text and the engine (RapidJSON behind it, seen only in json.cpp and the files of this folder).
#pragma once

#include <string>
#include <string_view>

#include "engine/board/board.h"
#include "engine/board/edit.h"
#include "engine/error.h"

namespace tiepoint {

inline constexpr size_t kLargestFile = 8u << 20;  // [byte]; anything larger is refused unread

// Board file, version 1 (web/schema/board.schema.json). Reading checks every seat and value; errors carry a JSON pointer, or line
// and column when it is no JSON at all. write_board(read_board(x)) keeps everything.
Result<Board> read_board(std::string_view text, const Catalogue& catalogue);
std::string write_board(const Board& board);

// One edit as JSON, the form of the journal, of scripts and of the page: {"edit":"press","part":"S1"}.
Result<Edit> read_edit(std::string_view text, const Board& board, const Catalogue& catalogue);
std::string write_edit(const Edit& edit, const Board& board);

}  // namespace tiepoint
