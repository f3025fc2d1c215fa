#include "shell/words/value_words.h"

#include <cmath>

#include "engine/parts/marking.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {

std::string number_words(double value, std::string_view unit) {
  return unit.empty() ? say_decimal(value) : say_quantity(value, unit);
}
std::string percent(double share) { return say("size.percent", {{"number", say_decimal(share * 100)}}); }

// Of a field that the question has; the table of questions is the engine's.
double field(const ValueQuestion& question, std::span<const double> given, std::string_view key) {
  for (size_t i = 0; i < question.fields.size(); ++i)
    if (question.fields[i].key == key) return given[i];
  return std::nan("");
}

std::string field_words(const ValueQuestion& question, std::span<const double> given, std::string_view key) {
  for (size_t i = 0; i < question.fields.size(); ++i)
    if (question.fields[i].key == key) return number_words(given[i], question.fields[i].unit);
  return {};
}

std::string wanted_unit(const ValueQuestion& question) {
  for (const ValueField& one : question.fields)
    if (one.key == question.wanted) return std::string(one.unit);
  return {};
}

}  // namespace

std::string formula_words(const ValueQuestion& question, std::span<const double> given, const ValueAnswer& answer) {
  const auto words = [&](std::string_view key) { return field_words(question, given, key); };
  const bool divider = question.key == "divider";
  const double lower = field(question, given, "lower"), load = field(question, given, "load");
  const bool loaded = divider && load < 1e12;
  const std::string acting = number_words(loaded ? lower * load / (lower + load) : lower, "Ω");
  const std::string formula =
      say("size.formula." + std::string(question.key), {{"exact", number_words(answer.exact, question.unit)},
                                                        {"supply", words("supply")},
                                                        {"wanted", words("wanted")},
                                                        {"lower", acting},
                                                        {"time", words("time")},
                                                        {"capacitor", words("capacitor")},
                                                        {"resistor", words("resistor")},
                                                        {"share", words("share")},
                                                        {"frequency", words("frequency")},
                                                        {"upper", words("upper")},
                                                        {"current", words("current")},
                                                        {"drive", words("drive")},
                                                        {"gain", words("gain")},
                                                        {"junction", words("junction")}});
  if (!loaded) return formula;
  return say("size.formula.divider.loaded",
             {{"load", words("load")}, {"given", words("lower")}, {"lower", acting}, {"formula", formula}});
}

std::string formula_words(const SizingRequest& request, const Sizing& sizing) {
  return say("size.exact", {{"supply", number_words(request.supply, "V")},
                            {"drop", number_words(sizing.exact.voltage, "V")},
                            {"current", number_words(request.current, "A")},
                            {"resistance", number_words(sizing.exact.resistance, "Ω")}});
}

std::string row_words(const ValueQuestion& question, const ValueOutcome& outcome) {
  const std::string extra = question.key == "timer" ? percent(outcome.extra) : number_words(outcome.extra, question.extra_unit);
  return say("size.row." + std::string(question.key), {{"value", number_words(outcome.value, question.unit)},
                                                       {"result", number_words(outcome.result, wanted_unit(question))},
                                                       {"extra", extra}});
}

std::string row_words(const SizedResistor& one) {
  return say("size.row.led", {{"value", number_words(one.resistance, "Ω")},
                              {"result", number_words(one.current, "A")},
                              {"extra", number_words(one.power, "W")}});
}

}  // namespace tiepoint
