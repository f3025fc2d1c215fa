#include "shell/words/lesson_words.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "engine/parts/part_type.h"
#include "shell/words/finding_words.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {

std::string list_of(const std::vector<std::string>& words) {
  std::string list;
  for (const std::string& word : words)
    list = list.empty() ? word : say("lesson.and-then", {{"first", list}, {"second", word}});
  return list;
}

std::vector<std::string> places_of(const Board& board, const Outcome& outcome) {
  std::vector<std::string> words;
  for (const Place& place : outcome.places) {
    if (const Part* part = board.find(place.part))
      words.push_back(part->name);
    else if (place.hole.valid())
      words.push_back(board.name_of(place.hole));
  }
  return words;
}

std::string window_words(const Window& window, std::string_view unit) {
  const std::string least = say_quantity(window.low, unit), most = say_quantity(window.high, unit);
  const bool open_below = !std::isfinite(window.low), open_above = !std::isfinite(window.high);
  return say(open_above   ? "lesson.window.at-least"
             : open_below ? "lesson.window.at-most"
                          : "lesson.window.between",
             {{"least", least}, {"most", most}});
}

std::string position_words(const ValueSpec& spec, double position) {
  if (!spec.options.empty()) {
    const std::string_view option = spec.options[size_t(position)];
    const std::string key = "option." + std::string(option);
    return std::string(has_words(key) ? say(key) : option);
  }
  if (spec.key == "on") return std::string(say(position != 0 ? "option.on" : "option.off"));
  if (spec.use == Use::kMomentary) return std::string(say(position != 0 ? "truth.down" : "truth.up"));
  return say_quantity(position, spec.unit);
}

std::string state_words(const std::string& state) {
  const std::string key = "state." + state;
  return std::string(say(has_words(key) ? key : "lesson.state." + state));
}

}  // namespace

std::string words_of(const Lesson& lesson, const Board& board, const Outcome& outcome) {
  const std::vector<std::string> places = places_of(board, outcome);
  const std::string list = list_of(places), count = say_quantity(outcome.found, "");
  const bool is_state = outcome.reason == Reason::kWrongState;
  const std::string what = is_state               ? state_words(outcome.what)
                           : outcome.what.empty() ? ""
                                                  : std::string(say("lesson.what." + outcome.what));
  return say("lesson.reason." + std::string(key(outcome.reason)),
             {{"places", list},
              {"first-place", places.empty() ? "" : places.front()},
              {"what", what},
              {"wanted", outcome.wanted.empty() ? "" : state_words(outcome.wanted)},
              {"found", say_quantity(outcome.found, outcome.unit)},
              {"expected", window_words(outcome.expected, outcome.unit)},
              {"count", count},
              {"kind", outcome.what.empty() ? "" : say("kind." + outcome.what)},
              {"role", outcome.role < 0 ? "" : lesson.roles[size_t(outcome.role)].name},
              {"finding", outcome.finding ? words_of(*outcome.finding, Depth::kPointer) : ""}});
}

std::string case_words(const Board& board, const Outcome& outcome) {
  std::vector<std::string> settings;
  for (const CaseSetting& setting : outcome.at) {
    const Part& part = board.parts[size_t(setting.part)];
    const std::string position = position_words(part.kind->values[size_t(setting.value)], setting.position);
    settings.push_back(say("lesson.setting", {{"part", part.name}, {"position", position}}));
  }
  return settings.empty() ? std::string() : say("lesson.case", {{"settings", list_of(settings)}});
}

Result<std::vector<LessonFault>> faults_of(const Lesson& lesson) {
  std::vector<LessonFault> faults;
  const bool asks =
      std::any_of(lesson.steps.begin(), lesson.steps.end(), [](const Step& step) { return !step.checks.empty(); });
  if (!lesson.outline && asks) faults.push_back({"/outline", std::string(say("lesson.check.no-outline"))});
  if (lesson.outline) {
    const Verdict verdict = judge_hand_in(lesson, *lesson.outline);
    for (size_t k = 0; k < verdict.outcomes.size(); ++k) {
      if (verdict.outcomes[k].passed()) continue;
      const Check* check = verdict.checks[k];
      for (size_t s = 0; s < lesson.steps.size(); ++s)
        for (size_t c = 0; c < lesson.steps[s].checks.size(); ++c)
          if (&lesson.steps[s].checks[c] == check)
            faults.push_back({"/steps/" + std::to_string(s) + "/checks/" + std::to_string(c),
                              say("lesson.check.outline",
                                  {{"check", check->id}, {"reason", words_of(lesson, *lesson.outline, verdict.outcomes[k])}})});
    }
  }
  const Result<std::vector<BrokenClaim>> broken = check_claims(lesson);
  if (!broken) return broken.error();
  for (const BrokenClaim& one : *broken) {
    const Claim& claim = lesson.claims[size_t(one.claim)];
    const std::string reason = words_of(lesson, *lesson.outline, one.outcome);
    faults.push_back(
        {"/claims/" + std::to_string(one.claim), say("lesson.check.claim", {{"says", claim.says}, {"reason", reason}})});
  }
  return faults;
}

}  // namespace tiepoint
