// Pieces of a lesson file. Within this folder only.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "engine/file/json_node.h"
#include "engine/lesson/lesson.h"
#include "engine/lesson/progress.h"

namespace tiepoint {

struct LessonContext {
  const Lesson& lesson;  // with its roles read
  const Catalogue& catalogue;
  const Board& holes;  // names of holes are those of this board's breadboards
};

// A string, or a list of lines.
Result<std::string> read_words(const JsonNode& node);
Result<std::vector<std::string>> read_list_of_words(const JsonNode& node);
// The entry's words; `otherwise` empty when there is none.
Status read_words(const JsonNode& node, std::string_view key, std::string& out);
Status read_words(const JsonNode& node, std::string_view key, std::vector<std::string>& out);
// Letters, digits, - and _.
Result<std::string> read_id(const JsonNode& node);
// [low, high]; null for no bound at that side.
Result<Window> read_window(const JsonNode& node);
// {"kind": "led" or a list, "set": {"colour": "red", "resistance": [300, 400]}} among the entries of `node`.
Result<PartFilter> read_filter(const JsonNode& node, const Catalogue& catalogue);
Result<std::vector<PartFilter::Value>> read_filter_values(const JsonNode& node, const std::vector<const PartKind*>& kinds);
Status read_flag(const JsonNode& node, std::string_view key, bool& out);
// Is it a file of this kind ("lesson", "progress") and of a version known here?
Status check_lesson_format(const JsonNode& root, std::string_view wanted);
inline constexpr int kLessonVersion = 1;
// The lesson as it stands, nothing drawn. Errors as read_lesson.
Result<Lesson> read_plain_lesson(const JsonNode& root, const Catalogue& catalogue);
Result<Progress> read_progress(const JsonNode& root, const Lesson& lesson);
// The seed that a progress file names; 0 when it names none that can be read.
uint32_t seed_of_progress(const JsonNode& root);
Result<Check> read_check(const JsonNode& node, const LessonContext& context);

}  // namespace tiepoint
