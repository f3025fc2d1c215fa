#include "engine/lesson/lesson.h"

#include <algorithm>
#include <array>

#include "engine/lesson/shift.h"

namespace tiepoint {
namespace {

struct QuantityWords {
  std::string_view key, unit;
};
constexpr std::array<QuantityWords, 9> kQuantities = {{{"voltage", "V"},
                                                       {"current", "A"},
                                                       {"power", "W"},
                                                       {"brightness", ""},
                                                       {"frequency", "Hz"},
                                                       {"speed", "rad/s"},
                                                       {"angle", "rad"},
                                                       {"temperature", "°C"},
                                                       {"shown", ""}}};
constexpr std::array<std::string_view, 8> kStepKinds = {"read",    "build",   "predict", "observe",
                                                        "measure", "explain", "hunt",    "free"};
constexpr std::array<std::string_view, 3> kHelpLevels = {"outline", "parts", "goal"};

template <class Enum, size_t N>
std::optional<Enum> find_key(const std::array<std::string_view, N>& keys, std::string_view wanted) {
  const auto found = std::find(keys.begin(), keys.end(), wanted);
  if (found == keys.end()) return std::nullopt;
  return Enum(found - keys.begin());
}

// Runs of blanks and line ends count as one blank: a text may be broken into lines anywhere.
std::string flat(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const bool blank = c == ' ' || c == '\n' || c == '\r' || c == '\t';
    if (!blank)
      out += c;
    else if (!out.empty() && out.back() != ' ')
      out += ' ';
  }
  return out;
}

bool holds(const std::string& text, std::string_view words) { return flat(text).find(words) != std::string::npos; }

}  // namespace

std::string_view key(Quantity quantity) { return kQuantities[size_t(quantity)].key; }
std::string_view unit(Quantity quantity) { return kQuantities[size_t(quantity)].unit; }
std::string_view key(StepKind kind) { return kStepKinds[size_t(kind)]; }
std::optional<StepKind> step_kind(std::string_view key) { return find_key<StepKind>(kStepKinds, key); }
std::string_view key(Help help) { return kHelpLevels[size_t(help)]; }
std::optional<Help> help_level(std::string_view key) { return find_key<Help>(kHelpLevels, key); }

bool PartFilter::fits(const Part& part) const {
  if (std::find(kinds.begin(), kinds.end(), part.kind) == kinds.end()) return false;
  return std::all_of(values.begin(), values.end(), [&](const Value& value) {
    const int index = value_index(*part.kind, value.key);
    return index >= 0 && value.window.holds(part.values[size_t(index)]);
  });
}

int Lesson::step_index(std::string_view step_id) const {
  for (size_t i = 0; i < steps.size(); ++i)
    if (steps[i].id == step_id) return int(i);
  return -1;
}

bool Lesson::needs(const Step& step) const {
  if (done.empty()) return !step.optional;
  return std::find(done.begin(), done.end(), step.id) != done.end();
}

Result<Board> hidden_board(const Step& step, uint32_t seed, int* which) {
  Board board = step.board.value_or(Board{});
  if (which) *which = -1;
  if (step.faults.empty()) return board;
  const size_t index = seed % step.faults.size();
  if (which) *which = int(index);
  for (const Edit& edit : step.faults[index].edits) {
    const Result<Applied> applied = apply(board, edit);
    if (!applied) return applied.error();
  }
  return shifted(board, step.shift);
}

bool text_contains(const Lesson& lesson, std::string_view wanted) {
  const std::string words = flat(wanted);
  if (holds(lesson.goal, words)) return true;
  for (const std::string& caution : lesson.cautions)
    if (holds(caution, words)) return true;
  return std::any_of(lesson.steps.begin(), lesson.steps.end(), [&](const Step& step) {
    if (holds(step.text, words)) return true;
    if (!step.question) return false;
    const Question& q = *step.question;
    return holds(q.ask, words) || holds(q.right_reply, words) || holds(q.wrong_reply, words) ||
           std::any_of(q.choices.begin(), q.choices.end(),
                       [&](const Choice& c) { return holds(c.text, words) || holds(c.reply, words); });
  });
}

}  // namespace tiepoint
