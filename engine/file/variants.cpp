#include "engine/file/variants.h"

#include <algorithm>
#include <utility>

#include "engine/board/words.h"
#include "engine/file/json_node.h"
#include "engine/file/lesson_file.h"
#include "engine/file/lesson_json.h"
#include "engine/lesson/shift.h"

namespace tiepoint {
namespace {

struct Vary {
  std::vector<std::vector<std::pair<std::string, JsonNode>>> cases;
  int columns = 0;
};

bool is_name_character(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_';
}

Result<Vary> read_vary(const JsonNode& root) {
  Vary vary;
  const auto node = root.find("vary");
  if (!node) return vary;
  if (const Status status = expect_object(*node); !status) return status.error();
  if (const Status status = check_keys(*node, {"cases", "columns"}); !status) return status.error();
  if (const auto columns = node->find("columns")) {
    const Result<int> most = read_whole(*columns, 0, kMostColumns);
    if (!most) return most.error();
    vary.columns = *most;
  }
  const auto cases = node->find("cases");
  if (!cases) return vary;
  if (const Status status = expect_list(*cases); !status) return status.error();
  if (cases->size() < 1 || cases->size() > size_t(kMostCases))
    return at(*cases, {.code = Code::kTooMany,
                       .found = std::to_string(cases->size()) + " cases",
                       .expected = "1 to " + std::to_string(kMostCases)});
  for (size_t k = 0; k < cases->size(); ++k) {
    const JsonNode entry = cases->item(k);
    if (const Status status = expect_object(entry); !status) return status.error();
    auto& values = vary.cases.emplace_back();
    for (size_t i = 0; i < entry.size(); ++i) {
      const std::string name(entry.key(i));
      const JsonNode value = entry.member(i);
      if (name.empty() || !std::all_of(name.begin(), name.end(), is_name_character))
        return at(value, {.code = Code::kBadName, .found = in_quotes(name), .expected = "letters, digits, - and _"});
      if (!value.is(JsonNode::Type::kNumber) && !value.is(JsonNode::Type::kText))
        return wrong_type(value, "a number or a text");
      if (k > 0 && !cases->item(0).find(name))
        return at(value, {.code = Code::kUnknownKey, .found = in_quotes(name), .expected = "the names of the first case"});
      values.emplace_back(name, value);
    }
    if (entry.size() != cases->item(0).size())
      for (const auto& [name, value] : vary.cases[0])
        if (!entry.find(name)) return at(entry, {.code = Code::kMissingKey, .expected = in_quotes(name)});
  }
  return vary;
}

std::string value_text(const JsonNode& value) {
  return value.is(JsonNode::Type::kText) ? std::string(value.text()) : json_number(value.number());
}

// Writes a lesson with the values of one case in it.
class Filler {
 public:
  explicit Filler(const std::vector<std::pair<std::string, JsonNode>>& values) : values_(values), used_(values.size()) {}

  Status write(const JsonNode& node) {
    switch (node.type()) {
      case JsonNode::Type::kNull:
        out_ += "null";
        return done();
      case JsonNode::Type::kBool:
        out_ += node.boolean() ? "true" : "false";
        return done();
      case JsonNode::Type::kNumber:
        out_ += json_number(node.number());
        return done();
      case JsonNode::Type::kText:
        return write_text(node);
      case JsonNode::Type::kList:
        return write_members(node, '[', ']');
      case JsonNode::Type::kObject:
        return write_members(node, '{', '}');
    }
    return done();
  }

  const std::string& text() const { return out_; }
  // The first value that nothing asked for, -1: none.
  int unused() const {
    const auto at = std::find(used_.begin(), used_.end(), 0);
    return at == used_.end() ? -1 : int(at - used_.begin());
  }

 private:
  Status write_members(const JsonNode& node, char open, char shut) {
    const bool object = open == '{';
    const bool root = node.pointer().empty();
    bool first = true;
    out_ += open;
    for (size_t i = 0; i < node.size(); ++i) {
      if (root && object && node.key(i) == "vary") continue;
      if (!first) out_ += ',';
      first = false;
      if (object) out_ += json_text(node.key(i)) + ":";
      if (const Status status = write(object ? node.member(i) : node.item(i)); !status) return status;
    }
    out_ += shut;
    return done();
  }

  int find(std::string_view name) {
    for (size_t i = 0; i < values_.size(); ++i)
      if (values_[i].first == name) return used_[i] = 1, int(i);
    return -1;
  }

  Status write_text(const JsonNode& node) {
    const std::string_view text = node.text();
    std::string filled;
    for (size_t i = 0; i < text.size(); ++i) {
      const size_t end = text[i] == '{' ? text.find('}', i) : std::string_view::npos;
      const std::string_view name = end == std::string_view::npos ? "" : text.substr(i + 1, end - i - 1);
      if (name.empty() || !std::all_of(name.begin(), name.end(), is_name_character)) {
        filled += text[i];
        continue;
      }
      const int value = find(name);
      if (value < 0)
        return at(
            node,
            {.code = Code::kUnknownKey, .found = in_quotes("{" + std::string(name) + "}"), .expected = "a name of the cases"});
      const JsonNode& drawn = values_[size_t(value)].second;
      if (i == 0 && end + 1 == text.size()) {
        out_ += drawn.is(JsonNode::Type::kText) ? json_text(drawn.text()) : json_number(drawn.number());
        return done();
      }
      filled += value_text(drawn);
      i = end;
    }
    out_ += json_text(filled);
    return done();
  }

  const std::vector<std::pair<std::string, JsonNode>>& values_;
  std::vector<char> used_;
  std::string out_;
};

bool names_holes(const LeadPoint& point) { return !point.hole.empty(); }
bool names_holes(const Term& term) { return names_holes(term.at) || names_holes(term.against); }
bool names_holes(const Check& check) {
  if (const auto* ask = std::get_if<ReadingCheck>(&check.ask))
    return names_holes(ask->term) || (ask->over && names_holes(ask->over->term));
  if (const auto* ask = std::get_if<WaveCheck>(&check.ask)) return names_holes(ask->term);
  if (const auto* ask = std::get_if<JoinedCheck>(&check.ask)) return names_holes(ask->a) || names_holes(ask->b);
  if (const auto* ask = std::get_if<MeasuredCheck>(&check.ask)) return names_holes(ask->a) || names_holes(ask->b);
  return false;
}

Status shift_step(Step& step, int columns) {
  step.shift = 0;
  for (uint32_t fault = 0; fault < step.faults.size(); ++fault) {
    const Result<Board> hidden = hidden_board(step, fault);
    if (!hidden) return hidden.error();
    const Result<Board> board = shifted(*hidden, columns);
    if (!board) return board.error();
  }
  if (!step.faults.empty()) {
    step.shift = columns;
    return done();
  }
  if (!step.board) return done();
  Result<Board> board = shifted(*step.board, columns);
  if (!board) return board.error();
  step.board = std::move(board).value();
  return done();
}

// All boards of the lesson moved along. An error leaves it half moved.
Status shift(Lesson& lesson, int columns) {
  for (std::optional<Board>* board : {&lesson.start, &lesson.outline}) {
    if (!*board) continue;
    Result<Board> moved = shifted(**board, columns);
    if (!moved) return moved.error();
    *board = std::move(moved).value();
  }
  for (Step& step : lesson.steps)
    if (const Status status = shift_step(step, columns); !status) return status;
  lesson.shift = columns;
  return done();
}

Result<Lesson> read_case(const JsonNode& root, const Vary& vary, size_t index, const Catalogue& catalogue) {
  if (vary.cases.empty()) return read_plain_lesson(root, catalogue);
  Filler filler(vary.cases[index]);
  if (const Status status = filler.write(root); !status) return status.error();
  if (const int unused = filler.unused(); unused >= 0)
    return at(vary.cases[index][size_t(unused)].second, {.code = Code::kBadValue,
                                                         .found = in_quotes(vary.cases[index][size_t(unused)].first),
                                                         .expected = "a name that the lesson uses, in braces"});
  const Result<JsonText> filled = JsonText::parse(filler.text());
  if (!filled) return filled.error();
  Result<Lesson> lesson = read_plain_lesson(filled->root(), catalogue);
  if (!lesson) {
    Error error = lesson.error();
    error.found += (error.found.empty() ? "case " : " in case ") + std::to_string(index + 1);
    return error;
  }
  lesson.value().case_index = int(index);
  lesson.value().case_count = int(vary.cases.size());
  return lesson;
}

Status may_shift(const JsonNode& root, const Lesson& lesson) {
  for (const Step& step : lesson.steps)
    for (const Check& check : step.checks)
      if (names_holes(check))
        return at(*root.find("vary")->find("columns"), {.code = Code::kBadValue,
                                                        .found = "the check " + in_quotes(check.id) + ", which names a hole,",
                                                        .expected = "no \"columns\", or checks that name roles alone"});
  return done();
}

// The lesson with the shift that the seed draws among those that fit.
Lesson drawn_shift(const Lesson& lesson, int columns, uint32_t draw) {
  std::vector<Lesson> fitting{lesson};
  for (int by = 1; by <= columns; ++by)
    if (Lesson moved = lesson; shift(moved, by)) fitting.push_back(std::move(moved));
  return std::move(fitting[draw % fitting.size()]);
}

}  // namespace

Result<Lesson> read_lesson(std::string_view text, const Catalogue& catalogue, uint32_t seed) {
  const Result<JsonText> json = JsonText::parse(text);
  if (!json) return json.error();
  const JsonNode root = json->root();
  const Result<Vary> vary = read_vary(root);
  if (!vary) return vary.error();
  const size_t count = std::max<size_t>(vary->cases.size(), 1);
  Result<Lesson> lesson = read_case(root, *vary, seed % count, catalogue);
  if (!lesson || vary->columns == 0) return lesson;
  if (const Status status = may_shift(root, *lesson); !status) return status.error();
  return drawn_shift(*lesson, vary->columns, uint32_t(seed / count));
}

Result<Rubric> read_rubric(std::string_view text, const Catalogue& catalogue) {
  const Result<JsonText> json = JsonText::parse(text);
  if (!json) return json.error();
  const JsonNode root = json->root();
  const Result<Vary> vary = read_vary(root);
  if (!vary) return vary.error();
  Rubric rubric{&catalogue, {}};
  for (size_t k = 0; k < std::max<size_t>(vary->cases.size(), 1); ++k) {
    Result<Lesson> lesson = read_case(root, *vary, k, catalogue);
    if (!lesson) return lesson.error();
    if (vary->columns > 0)
      if (const Status status = may_shift(root, *lesson); !status) return status.error();
    rubric.cases.push_back(std::move(lesson).value());
  }
  return rubric;
}

Result<Draw> draw(std::string_view text, const Catalogue& catalogue, uint32_t seed) {
  const Result<JsonText> json = JsonText::parse(text);
  if (!json) return json.error();
  const Result<Vary> vary = read_vary(json->root());
  if (!vary) return vary.error();
  const Result<Lesson> lesson = read_lesson(text, catalogue, seed);
  if (!lesson) return lesson.error();
  Draw out{lesson->case_index, lesson->shift, {}};
  if (!vary->cases.empty())
    for (const auto& [name, value] : vary->cases[size_t(out.case_index)]) out.values.emplace_back(name, value_text(value));
  return out;
}

uint32_t seed_of_name(std::string_view name) {
  uint32_t sum = 2166136261u;
  for (const char c : name) sum = (sum ^ uint8_t(c)) * 16777619u;
  return sum & 0x7FFFFFFFu;
}

uint32_t seed_of_progress(const JsonNode& root) {
  const auto seed = root.find("seed");
  if (!seed || !seed->is(JsonNode::Type::kNumber)) return 0;
  const double number = seed->number();
  return number >= 0 && number <= 0x7FFFFFFF ? uint32_t(number) : 0;
}

}  // namespace tiepoint
