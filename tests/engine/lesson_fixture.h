// Lessons for the engine tests, written as the file they would be in.
#pragma once

#include <gtest/gtest.h>

#include <string>

#include "engine/file/lesson_file.h"
#include "engine/lesson/check.h"
#include "engine/parts/part_type.h"

namespace tiepoint {

// A lesson with these roles, these checks in one step, and what else is given as entries of the file.
inline Lesson lesson_of(const std::string& roles, const std::string& checks, const std::string& more = "") {
  const std::string text = R"({"tiepoint":"lesson","version":1,"id":"test","title":"T","goal":"G","roles":{)" + roles +
                           R"(},"steps":[{"id":"build","kind":"build","text":"some text","checks":[)" + checks + "]}]" + more +
                           "}";
  Result<Lesson> lesson = read_lesson(text, catalogue());
  if (!lesson) ADD_FAILURE() << tiepoint::text(lesson.error());
  return lesson ? std::move(lesson).value() : Lesson{};
}

// One check "c" with the entries given; the outcome on a board.
inline Outcome ask(const std::string& roles, const std::string& check, const Board& board) {
  const Lesson lesson = lesson_of(roles, R"({"id":"c","fail":"f",)" + check + "}");
  if (lesson.steps.empty()) return {};
  return judge_step(lesson, 0, board).outcomes.at(0);
}

inline std::string_view reason(const std::string& roles, const std::string& check, const Board& board) {
  return key(ask(roles, check, board).reason);
}

}  // namespace tiepoint
