#include "engine/file/lesson_file.h"

#include <algorithm>

#include "engine/board/words.h"
#include "engine/file/lesson_json.h"
#include "engine/file/part_json.h"

namespace tiepoint {
namespace {

constexpr int kLongestMinutes = 1000;

bool is_id_character(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_';
}

Result<std::string> need_words(const JsonNode& node, std::string_view key) {
  const Result<JsonNode> entry = need(node, key);
  if (!entry) return entry.error();
  return read_words(*entry);
}

// Edits one after another on `board`, which is left changed.
Result<std::vector<Edit>> read_edits(const JsonNode& node, Board board, const Catalogue& catalogue) {
  if (const Status status = expect_list(node); !status) return status.error();
  std::vector<Edit> edits;
  for (size_t i = 0; i < node.size(); ++i) {
    Result<Edit> edit = read_edit(node.item(i), board, catalogue);
    if (!edit) return edit.error();
    const Result<Applied> applied = apply(board, *edit);
    if (!applied) return at(node.item(i), applied.error());
    edits.push_back(std::move(edit).value());
  }
  return edits;
}

class LessonReader {
 public:
  explicit LessonReader(const Catalogue& catalogue) : catalogue_(catalogue) {}

  Result<Lesson> read(const JsonNode& root) {
    if (const Status status = expect_object(root); !status) return status.error();
    if (const Status status = check_lesson_format(root, "lesson"); !status) return status.error();
    if (const Status status =
            check_keys(root, {"tiepoint", "version", "id", "title", "goal", "minutes", "curriculum", "misconceptions",
                              "cautions", "roles", "box", "start", "outline", "steps", "done", "claims", "vary"});
        !status)
      return status.error();
    for (const auto part :
         {&LessonReader::read_head, &LessonReader::read_roles, &LessonReader::read_box, &LessonReader::read_boards,
          &LessonReader::read_steps, &LessonReader::read_done, &LessonReader::read_claims})
      if (const Status status = (this->*part)(root); !status) return status.error();
    return std::move(lesson_);
  }

 private:
  LessonContext context() const {
    return {lesson_, catalogue_, lesson_.start ? *lesson_.start : lesson_.outline ? *lesson_.outline : empty_};
  }

  Status read_head(const JsonNode& root) {
    const Result<JsonNode> id = need(root, "id");
    if (!id) return id.error();
    Result<std::string> name = read_id(*id), title = need_words(root, "title"), goal = need_words(root, "goal");
    if (!name) return name.error();
    if (!title) return title.error();
    if (!goal) return goal.error();
    lesson_.id = std::move(name).value();
    lesson_.title = std::move(title).value();
    lesson_.goal = std::move(goal).value();
    if (const auto minutes = root.find("minutes")) {
      const Result<int> count = read_whole(*minutes, 1, kLongestMinutes);
      if (!count) return count.error();
      lesson_.minutes = *count;
    }
    if (const Status status = read_words(root, "curriculum", lesson_.curriculum); !status) return status;
    if (const Status status = read_words(root, "misconceptions", lesson_.misconceptions); !status) return status;
    return read_words(root, "cautions", lesson_.cautions);
  }

  Status read_roles(const JsonNode& root) {
    const auto node = root.find("roles");
    if (!node) return done();
    if (const Status status = expect_object(*node); !status) return status;
    if (node->size() > size_t(kMostRoles))
      return at(
          *node,
          {.code = Code::kTooMany, .found = std::to_string(node->size()) + " roles", .expected = std::to_string(kMostRoles)});
    for (size_t i = 0; i < node->size(); ++i) {
      const JsonNode entry = node->member(i);
      if (const Status status = check_keys(entry, {"kind", "set", "flip"}); !status) return status;
      Role role;
      role.name = node->key(i);
      if (role.name.empty() || role.name.find('.') != std::string::npos)
        return at(entry, {.code = Code::kBadName, .found = in_quotes(role.name), .expected = "a name without a dot"});
      Result<PartFilter> filter = read_filter(entry, catalogue_);
      if (!filter) return filter.error();
      role.filter = std::move(filter).value();
      if (const Status status = read_flag(entry, "flip", role.flip); !status) return status;
      lesson_.roles.push_back(std::move(role));
    }
    return done();
  }

  Status read_box(const JsonNode& root) {
    const auto node = root.find("box");
    if (!node) return done();
    if (const Status status = expect_list(*node); !status) return status;
    for (size_t i = 0; i < node->size(); ++i) {
      const JsonNode entry = node->item(i);
      if (const Status status = check_keys(entry, {"kind", "count", "set"}); !status) return status;
      Result<PartFilter> filter = read_filter(entry, catalogue_);
      if (!filter) return filter.error();
      if (filter->kinds.size() != 1) return wrong_type(*entry.find("kind"), "one kind of part");
      BoxEntry box{filter->kinds.front(), 0, filter->values};
      if (const auto count = entry.find("count")) {
        const Result<int> number = read_whole(*count, 1, kMaxParts);
        if (!number) return number.error();
        box.count = *number;
      }
      lesson_.box.push_back(std::move(box));
    }
    return done();
  }

  Status read_boards(const JsonNode& root) {
    if (const Status status = read_one_board(root, "start", lesson_.start); !status) return status;
    return read_one_board(root, "outline", lesson_.outline);
  }

  Status read_one_board(const JsonNode& node, std::string_view key, std::optional<Board>& out) {
    const auto entry = node.find(key);
    if (!entry) return done();
    Result<Board> board = read_board(*entry, catalogue_);
    if (!board) return board.error();
    out = std::move(board).value();
    return done();
  }

  Status read_steps(const JsonNode& root) {
    const Result<JsonNode> node = need(root, "steps");
    if (!node) return node.error();
    if (const Status status = expect_list(*node); !status) return status;
    if (node->size() < 1 || node->size() > size_t(kMostSteps))
      return at(*node, {.code = Code::kTooMany,
                        .found = std::to_string(node->size()) + " steps",
                        .expected = "1 to " + std::to_string(kMostSteps)});
    for (size_t i = 0; i < node->size(); ++i)
      if (const Status status = read_step(node->item(i)); !status) return status;
    return done();
  }

  Status read_step(const JsonNode& node) {
    if (const Status status = check_keys(
            node, {"id", "kind", "title", "text", "question", "checks", "hints", "board", "faults", "optional", "hand-in"});
        !status)
      return status;
    Step step;
    const Result<JsonNode> id_node = need(node, "id"), kind_node = need(node, "kind");
    if (!id_node) return id_node.error();
    if (!kind_node) return kind_node.error();
    const Result<std::string> id = read_id(*id_node), kind = read_text(*kind_node);
    if (!id) return id.error();
    if (!kind) return kind.error();
    if (lesson_.step_index(*id) >= 0) return at(*id_node, {.code = Code::kNameTaken, .found = in_quotes(*id)});
    step.id = *id;
    const std::optional<StepKind> found = step_kind(*kind);
    if (!found)
      return at(*kind_node, {.code = Code::kBadValue,
                             .found = in_quotes(*kind),
                             .expected = "one of read, build, predict, observe, measure, explain, hunt, free"});
    step.kind = *found;
    if (const Status status = read_words(node, "title", step.title); !status) return status;
    Result<std::string> text = need_words(node, "text");
    if (!text) return text.error();
    step.text = std::move(text).value();
    if (const auto question = node.find("question"))
      if (const Status status = read_question(*question, step.question.emplace()); !status) return status;
    if (const auto checks = node.find("checks")) {
      if (const Status status = expect_list(*checks); !status) return status;
      for (size_t i = 0; i < checks->size(); ++i)
        if (const Status status = read_step_check(checks->item(i), step); !status) return status;
    }
    if (const Status status = read_words(node, "hints", step.hints); !status) return status;
    if (const Status status = read_one_board(node, "board", step.board); !status) return status;
    if (const auto faults = node.find("faults"))
      if (const Status status = read_faults(*faults, step); !status) return status;
    if (const Status status = read_flag(node, "optional", step.optional); !status) return status;
    if (const Status status = read_flag(node, "hand-in", step.hand_in); !status) return status;
    if (const Status status = check_step(node, step); !status) return status;
    lesson_.steps.push_back(std::move(step));
    return done();
  }

  // What a kind of step cannot do without.
  static Status check_step(const JsonNode& node, const Step& step) {
    const bool asks = step.kind == StepKind::kPredict || step.kind == StepKind::kExplain;
    const bool checks = step.kind == StepKind::kBuild || step.kind == StepKind::kHunt;
    if (asks && !step.question) return at(node, {.code = Code::kMissingKey, .expected = in_quotes("question")});
    if (checks && step.checks.empty()) return at(node, {.code = Code::kMissingKey, .expected = in_quotes("checks")});
    if (step.kind == StepKind::kHunt && (!step.board || step.faults.empty()))
      return at(node, {.code = Code::kMissingKey, .expected = step.board ? in_quotes("faults") : in_quotes("board")});
    return done();
  }

  Status read_step_check(const JsonNode& node, Step& step) {
    Result<Check> check = read_check(node, context());
    if (!check) return check.error();
    if (check->id.empty()) return at(node, {.code = Code::kMissingKey, .expected = in_quotes("id")});
    if (check->fail.empty()) return at(node, {.code = Code::kMissingKey, .expected = in_quotes("fail")});
    for (const Step& other : lesson_.steps)
      for (const Check& one : other.checks)
        if (one.id == check->id) return at(*node.find("id"), {.code = Code::kNameTaken, .found = in_quotes(check->id)});
    for (const Check& one : step.checks)
      if (one.id == check->id) return at(*node.find("id"), {.code = Code::kNameTaken, .found = in_quotes(check->id)});
    step.checks.push_back(std::move(check).value());
    return done();
  }

  static Status read_question(const JsonNode& node, Question& out) {
    if (const Status status = check_keys(node, {"ask", "choices", "between", "unit", "right", "wrong"}); !status) return status;
    Result<std::string> ask = need_words(node, "ask");
    if (!ask) return ask.error();
    out.ask = std::move(ask).value();
    if (const Status status = read_words(node, "unit", out.unit); !status) return status;
    if (const Status status = read_words(node, "right", out.right_reply); !status) return status;
    if (const Status status = read_words(node, "wrong", out.wrong_reply); !status) return status;
    const auto choices = node.find("choices");
    if (!choices) {
      const Result<JsonNode> between = need(node, "between");
      if (!between) return between.error();
      const Result<Window> window = read_window(*between);
      if (!window) return window.error();
      out.window = *window;
      return done();
    }
    if (const Status status = expect_list(*choices); !status) return status;
    int right = 0;
    for (size_t i = 0; i < choices->size(); ++i) {
      const JsonNode entry = choices->item(i);
      if (const Status status = check_keys(entry, {"id", "text", "right", "reply", "tag"}); !status) return status;
      const Result<JsonNode> id_node = need(entry, "id");
      if (!id_node) return id_node.error();
      const Result<std::string> id = read_id(*id_node), text = need_words(entry, "text");
      if (!id) return id.error();
      if (!text) return text.error();
      Choice choice{*id, *text, false, "", ""};
      for (const Choice& other : out.choices)
        if (other.id == choice.id) return at(*id_node, {.code = Code::kNameTaken, .found = in_quotes(choice.id)});
      if (const Status status = read_flag(entry, "right", choice.right); !status) return status;
      if (const Status status = read_words(entry, "reply", choice.reply); !status) return status;
      if (const Status status = read_words(entry, "tag", choice.tag); !status) return status;
      right += choice.right;
      out.choices.push_back(std::move(choice));
    }
    if (out.choices.size() < 2 || right == 0)
      return at(*choices, {.code = Code::kBadValue,
                           .found = std::to_string(out.choices.size()) + " choices, " + std::to_string(right) + " right",
                           .expected = "two or more, one of them right"});
    return done();
  }

  Status read_faults(const JsonNode& node, Step& step) {
    if (const Status status = expect_list(node); !status) return status;
    for (size_t i = 0; i < node.size(); ++i) {
      const JsonNode entry = node.item(i);
      if (const Status status = check_keys(entry, {"id", "edits", "reveal", "tag"}); !status) return status;
      const Result<JsonNode> id_node = need(entry, "id"), edits_node = need(entry, "edits");
      if (!id_node) return id_node.error();
      if (!edits_node) return edits_node.error();
      const Result<std::string> id = read_id(*id_node), reveal = need_words(entry, "reveal");
      if (!id) return id.error();
      if (!reveal) return reveal.error();
      HiddenFault fault{*id, {}, *reveal, ""};
      Result<std::vector<Edit>> edits = read_edits(*edits_node, step.board.value_or(Board{}), catalogue_);
      if (!edits) return edits.error();
      fault.edits = std::move(edits).value();
      if (const Status status = read_words(entry, "tag", fault.tag); !status) return status;
      step.faults.push_back(std::move(fault));
    }
    return done();
  }

  Status read_done(const JsonNode& root) {
    const auto node = root.find("done");
    if (!node) return done();
    Result<std::vector<std::string>> ids = read_list_of_words(*node);
    if (!ids) return ids.error();
    for (size_t i = 0; i < ids->size(); ++i)
      if (lesson_.step_index((*ids)[i]) < 0)
        return at(node->item(i), {.code = Code::kBadValue, .found = in_quotes((*ids)[i]), .expected = "the id of a step"});
    lesson_.done = std::move(ids).value();
    return done();
  }

  Status read_claims(const JsonNode& root) {
    const auto node = root.find("claims");
    if (!node) return done();
    if (const Status status = expect_list(*node); !status) return status;
    for (size_t i = 0; i < node->size(); ++i) {
      const JsonNode entry = node->item(i);
      if (const Status status = check_keys(entry, {"says", "edits", "holds"}); !status) return status;
      Result<std::string> says = need_words(entry, "says");
      if (!says) return says.error();
      if (!text_contains(lesson_, *says))
        return at(*entry.find("says"),
                  {.code = Code::kBadValue, .found = in_quotes(*says), .expected = "words that stand in the lesson's text"});
      Claim claim;
      claim.says = std::move(says).value();
      if (const auto edits = entry.find("edits")) {
        Result<std::vector<Edit>> list = read_edits(*edits, lesson_.outline.value_or(Board{}), catalogue_);
        if (!list) return list.error();
        claim.edits = std::move(list).value();
      }
      const Result<JsonNode> holds = need(entry, "holds");
      if (!holds) return holds.error();
      Result<Check> check = read_check(*holds, context());
      if (!check) return check.error();
      claim.check = std::move(check).value();
      lesson_.claims.push_back(std::move(claim));
    }
    return done();
  }

  const Catalogue& catalogue_;
  const Board empty_;
  Lesson lesson_;
};

Result<double> read_bound(const JsonNode& node, double otherwise) {
  if (node.is(JsonNode::Type::kNull)) return otherwise;
  return read_number(node);
}

}  // namespace

Status check_lesson_format(const JsonNode& root, std::string_view wanted) {
  const Result<JsonNode> format = need(root, "tiepoint");
  if (!format) return format.error();
  const Result<std::string> word = read_text(*format);
  if (!word) return word.error();
  if (*word != wanted)
    return at(*format, {.code = Code::kWrongFile,
                        .found = "a file of kind " + in_quotes(*word),
                        .expected = "a file of kind " + in_quotes(wanted)});
  const Result<JsonNode> version = need(root, "version");
  if (!version) return version.error();
  const Result<double> number = read_number(*version);
  if (!number) return number.error();
  if (*number > kLessonVersion)
    return at(*version,
              {.code = Code::kNewerVersion, .found = number_text(*number), .expected = std::to_string(kLessonVersion)});
  const Result<int> whole = read_whole(*version, 1, kLessonVersion);
  if (!whole) return whole.error();
  return done();
}

Status read_flag(const JsonNode& node, std::string_view key, bool& out) {
  const auto entry = node.find(key);
  if (!entry) return done();
  const Result<bool> flag = read_bool(*entry);
  if (!flag) return flag.error();
  out = *flag;
  return done();
}

Result<std::string> read_words(const JsonNode& node) {
  if (!node.is(JsonNode::Type::kList)) {
    if (node.is(JsonNode::Type::kText)) return std::string(node.text());
    return wrong_type(node, "a text, or a list of its lines");
  }
  std::string text;
  for (size_t i = 0; i < node.size(); ++i) {
    const Result<std::string> line = read_text(node.item(i));
    if (!line) return line.error();
    text += (i > 0 ? "\n" : "") + *line;
  }
  return text;
}

Result<std::vector<std::string>> read_list_of_words(const JsonNode& node) {
  if (const Status status = expect_list(node); !status) return status.error();
  std::vector<std::string> list;
  for (size_t i = 0; i < node.size(); ++i) {
    Result<std::string> words = read_words(node.item(i));
    if (!words) return words.error();
    list.push_back(std::move(words).value());
  }
  return list;
}

Status read_words(const JsonNode& node, std::string_view key, std::string& out) {
  const auto entry = node.find(key);
  if (!entry) return done();
  Result<std::string> words = read_words(*entry);
  if (!words) return words.error();
  out = std::move(words).value();
  return done();
}

Status read_words(const JsonNode& node, std::string_view key, std::vector<std::string>& out) {
  const auto entry = node.find(key);
  if (!entry) return done();
  Result<std::vector<std::string>> list = read_list_of_words(*entry);
  if (!list) return list.error();
  out = std::move(list).value();
  return done();
}

Result<std::string> read_id(const JsonNode& node) {
  Result<std::string> id = read_text(node);
  if (!id) return id;
  if (id->empty() || id->size() > 60 || !std::all_of(id->begin(), id->end(), is_id_character))
    return at(node, {.code = Code::kBadName, .found = in_quotes(*id), .expected = "up to 60 letters, digits, - and _"});
  return id;
}

Result<Window> read_window(const JsonNode& node) {
  if (!node.is(JsonNode::Type::kList) || node.size() != 2) return wrong_type(node, "a list of two numbers, [least, most]");
  Window window;
  const Result<double> low = read_bound(node.item(0), window.low), high = read_bound(node.item(1), window.high);
  if (!low) return low.error();
  if (!high) return high.error();
  if (*low > *high)
    return at(node, {.code = Code::kBadValue,
                     .found = number_text(*low) + " to " + number_text(*high),
                     .expected = "the smaller number first"});
  return Window{*low, *high};
}

Result<std::vector<PartFilter::Value>> read_filter_values(const JsonNode& node, const std::vector<const PartKind*>& kinds) {
  if (const Status status = expect_object(node); !status) return status.error();
  std::vector<PartFilter::Value> values;
  for (size_t i = 0; i < node.size(); ++i) {
    const JsonNode entry = node.member(i);
    PartFilter::Value value{std::string(node.key(i)), {}};
    for (const PartKind* kind : kinds) {
      const int index = value_index(*kind, value.key);
      if (index < 0)
        return at(entry, {.code = Code::kUnknownValue,
                          .part = std::string(kind->key),
                          .found = in_quotes(value.key),
                          .expected = "a value of its kind"});
      if (entry.is(JsonNode::Type::kList)) {
        const Result<Window> window = read_window(entry);
        if (!window) return window.error();
        value.window = *window;
        continue;
      }
      const Result<double> exact = read_value(entry, *kind, index, std::string(kind->key));
      if (!exact) return exact.error();
      value.window = {*exact, *exact};
    }
    values.push_back(std::move(value));
  }
  return values;
}

Result<PartFilter> read_filter(const JsonNode& node, const Catalogue& catalogue) {
  const Result<JsonNode> kind_node = need(node, "kind");
  if (!kind_node) return kind_node.error();
  PartFilter filter;
  const bool list = kind_node->is(JsonNode::Type::kList);
  for (size_t i = 0; i < (list ? kind_node->size() : 1); ++i) {
    const JsonNode entry = list ? kind_node->item(i) : *kind_node;
    const Result<std::string> word = read_text(entry);
    if (!word) return word.error();
    const PartKind* kind = catalogue.find(*word);
    if (!kind) return at(entry, {.code = Code::kUnknownKind, .found = in_quotes(*word)});
    filter.kinds.push_back(kind);
  }
  if (filter.kinds.empty()) return at(*kind_node, {.code = Code::kBadValue, .found = "no kind", .expected = "at least one"});
  if (const auto set = node.find("set")) {
    Result<std::vector<PartFilter::Value>> values = read_filter_values(*set, filter.kinds);
    if (!values) return values.error();
    filter.values = std::move(values).value();
  }
  return filter;
}

Result<Lesson> read_plain_lesson(const JsonNode& root, const Catalogue& catalogue) {
  return LessonReader(catalogue).read(root);
}

}  // namespace tiepoint
