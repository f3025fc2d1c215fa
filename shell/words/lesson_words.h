// What came of a lesson's check, in words. The words are the catalogue's; only the holes in them are filled here.
#pragma once

#include <string>
#include <vector>

#include "engine/lesson/check.h"

namespace tiepoint {

// "Found for the current: 35 mA; expected 5 mA to 20 mA (LED1)."
std::string words_of(const Lesson& lesson, const Board& board, const Outcome& outcome);
// "This was with S1 down, S2 up."; "" when nothing was put to anything.
std::string case_words(const Board& board, const Outcome& outcome);

// What a lesson's own build does not bear out: a check that it fails, a number of the text that is not so; or that there is no
// build to hold the checks against.
struct LessonFault {
  std::string pointer;  // "/steps/1/checks/0", "/claims/2", "/outline"
  std::string words;
};
// Errors: as check_claims.
Result<std::vector<LessonFault>> faults_of(const Lesson& lesson);

}  // namespace tiepoint
