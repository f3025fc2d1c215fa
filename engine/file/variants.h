// A lesson that differs from learner to learner. Its file may hold
//   "vary": {"cases": [{"supply": 5, "limit": "330 Ω"}, {"supply": 9, "limit": "680 Ω"}], "columns": 6}
//
// cases    One of them is drawn. Wherever a text of the lesson says {supply}, the drawn value stands; a text that is nothing
// but
//          "{supply}" becomes the value itself, so that numbers, values of parts and bounds of windows can vary too. All cases
//          have the same names; every name is used; a name in braces that no case has is an error.
// columns  All boards are moved along by 0 to so many columns, as far as everything on them fits; not where a check names a
// hole.
//
// Drawn by the learner's seed alone: case = seed mod cases; columns = (seed / cases) mod (shifts that fit). The fault of a hunt
// is drawn by the seed as well (hidden_board).
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "engine/error.h"
#include "engine/lesson/lesson.h"

namespace tiepoint {

inline constexpr int kMostCases = 100;
inline constexpr int kMostColumns = 40;

// Every case of a lesson, unshifted: what boards are judged by.
struct Rubric {
  const Catalogue* catalogue = nullptr;
  std::vector<Lesson> cases;  // one at least
  const Lesson& of(uint32_t seed) const { return cases[seed % cases.size()]; }
};

// Errors as read_lesson; of a drawn case, `found` says which.
Result<Rubric> read_rubric(std::string_view text, const Catalogue& catalogue);

// What a seed draws, for whoever hands out seeds: the case's names and values as they read, and the shift.
struct Draw {
  int case_index = 0, shift = 0;
  std::vector<std::pair<std::string, std::string>> values;
};
Result<Draw> draw(std::string_view text, const Catalogue& catalogue, uint32_t seed);

// The seed that belongs to a learner's name: FNV-1a (offset 2166136261, prime 16777619) of its bytes, without the top bit.
uint32_t seed_of_name(std::string_view name);

}  // namespace tiepoint
