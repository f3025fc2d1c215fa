// Marks: a class of hand-ins judged by one lesson, one row for each, for the terminal program and the page of marking alike. A
// hand-in that cannot be read is a row with its error.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/board/board.h"
#include "engine/file/variants.h"

namespace tiepoint {

// What of a board is held against others: one number for each part, of its kind, value and place as seen from the leftmost
// lead.
struct Print {
  std::vector<uint64_t> parts;  // in the board's order
  uint64_t sum = 0;             // of them all, in any order
};

struct Mark {
  std::string file, error;
  bool passed = false;
  double points = 0, most_points = 0;
  int checks = 0, checks_passed = 0;
  std::string failed, words;  // the first check that fails: its id, and what it says
  std::string tags;           // of misconceptions, parted by blanks
  bool has_progress = false;
  int hints = 0, tries = 0, predictions = 0, predictions_right = 0;
  double seconds = 0;
  int drawn = 0, drawn_of = 1;  // which case of a lesson that varies, from 0
  int like = -1;                // index of the earlier row that it is like
  std::string evidence;         // why that is said
  Print print;
};

// `board` and `progress`: texts, see read_hand_in. `kept`, if given, receives the board.
Mark mark(const Rubric& rubric, std::string_view file, std::string_view board, std::string_view progress,
          std::optional<Board>* kept = nullptr);

// Fills in `like` and `evidence`. Alike are boards of which all parts, or all but one of five or more, stand in the same holes
// (as seen from the leftmost lead) and that are the same circuit (engine/logic/compare.h); boards that stand like the lesson's
// outline are not: whoever follows it does just that. `board_of` gives a board again; it is asked only for rows that are alike.
void mark_alike(const Rubric& rubric, std::vector<Mark>& marks, const std::function<std::optional<Board>(size_t)>& board_of);

// A table after RFC 4180; a cell that a sheet would take for a formula is led by an apostrophe. Each with its line end.
std::string marks_csv_head();
std::string mark_csv(const Mark& mark, const std::vector<Mark>& all);

}  // namespace tiepoint
