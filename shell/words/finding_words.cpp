#include "shell/words/finding_words.h"

#include <algorithm>
#include <utility>

#include "engine/parts/part_type.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {

std::string text_of(const FindingArgument& argument) {
  return argument.text.empty() ? say_quantity(argument.value, argument.unit) : argument.text;
}

std::string say_with(std::string_view key, const std::vector<FindingArgument>& arguments) {
  std::vector<std::string> texts;
  for (const FindingArgument& argument : arguments) texts.push_back(text_of(argument));
  std::vector<Argument> filled;
  for (size_t i = 0; i < arguments.size(); ++i) filled.push_back({arguments[i].name, texts[i]});
  return say(key, std::span<const Argument>(filled));
}

bool has_argument(const Finding& finding, std::string_view name) {
  return std::any_of(finding.arguments.begin(), finding.arguments.end(), [&](const FindingArgument& a) { return a.name == name; });
}

// Some repairs come in two ways, by a wire or by a move; the catalogue may have words for each.
std::string repair_key(const Finding& finding, std::string base) {
  if (finding.repair.empty()) return base;
  const Edit::Act& act = finding.repair.front().act;
  const std::string variant = base + (std::holds_alternative<PlacePart>(act) ? ".wire" : std::holds_alternative<MovePart>(act) ? ".move" : "");
  return has_words(variant) ? variant : base;
}

std::string name_of(const Board& board, PartId id) {
  const Part* part = board.find(id);
  return part ? part->name : std::string(say("finding.why.new-wire"));
}

}  // namespace

std::string_view key(Depth depth) { return depth == Depth::kNudge ? "nudge" : depth == Depth::kPointer ? "pointer" : "repair"; }

std::string words_of(const Finding& finding, Depth depth) {
  std::string base = "finding." + std::string(key(finding.kind)) + "." + std::string(key(depth));
  if (depth == Depth::kRepair) base = repair_key(finding, base);
  for (const auto& [name, variant] : {std::pair{"measured", ".measured"}, std::pair{"rating", ".rated"}})
    if (has_argument(finding, name) && has_words(base + variant)) {
      base += variant;
      break;
    }
  const std::string text = say_with(base, finding.arguments);
  return finding.severity == Severity::kWarning ? say("finding.warning", {{"text", text}}) : text;
}

std::string words_of(const Board& board, const Explanation& explanation) {
  std::string press;
  for (const WhyPress& p : explanation.presses) {
    const std::string one = say(p.hold ? "finding.why.press.hold" : "finding.why.press.set", {{"part", name_of(board, p.part)}});
    press = press.empty() ? one : say("finding.why.press.and", {{"first", press}, {"second", one}});
  }
  return say("finding.why." + std::string(key(explanation.why)), {{"part", name_of(board, explanation.part)}, {"press", press}});
}

std::string words_of(const Board& board, const WhyStep& step) {
  const std::string part = name_of(board, step.part), in = board.name_of(step.hole_in), out = board.name_of(step.hole_out);
  if (!has_reading(step.voltage) || !has_reading(step.current))
    return say("finding.why.step", {{"part", part}, {"hole", in}, {"target", out}});
  return say("finding.why.step.numbers", {{"part", part},
                                          {"hole", in},
                                          {"target", out},
                                          {"voltage", say_quantity(step.voltage, "V")},
                                          {"current", say_quantity(step.current, "A")}});
}

}  // namespace tiepoint
