#include "engine/logic/values.h"

#include <array>
#include <cmath>
#include <limits>
#include <string>

#include "engine/board/words.h"
#include "engine/parts/marking.h"

namespace tiepoint {
namespace {

constexpr double kMust = std::numeric_limits<double>::quiet_NaN();
constexpr double kOneTimeConstant = 0.6321205588285577;  // 1 - 1/e
constexpr double kNoLoad = 1e15;                         // [ohm]
const double kLn2 = std::log(2.0);

constexpr std::array kDividerFields = {ValueField{"supply", "V", 5}, ValueField{"wanted", "V", kMust},
                                       ValueField{"lower", "Ω", 10e3}, ValueField{"load", "Ω", kNoLoad}};
double lower_with_load(const double* g) { return g[3] >= kNoLoad ? g[2] : g[2] * g[3] / (g[2] + g[3]); }
double divider(const double* g) { return lower_with_load(g) * (g[0] - g[1]) / g[1]; }
ValueOutcome divider_with(const double* g, double upper) {
  const double lower = lower_with_load(g);
  return {upper, g[0] * lower / (upper + lower), g[0] / (upper + lower)};
}

constexpr std::array kRcFields = {ValueField{"time", "s", kMust}, ValueField{"capacitor", "F", 100e-6},
                                  ValueField{"share", "", kOneTimeConstant}};
constexpr std::array kRcCapacitorFields = {ValueField{"time", "s", kMust}, ValueField{"resistor", "Ω", 10e3},
                                           ValueField{"share", "", kOneTimeConstant}};
double rc(const double* g) { return g[0] / (g[1] * -std::log1p(-g[2])); }
ValueOutcome rc_with(const double* g, double other) { return {other, other * g[1] * -std::log1p(-g[2]), other * g[1]}; }

constexpr std::array kTimerFields = {ValueField{"frequency", "Hz", kMust}, ValueField{"capacitor", "F", 10e-6},
                                     ValueField{"upper", "Ω", 1e3}};
double timer(const double* g) { return (1 / (kLn2 * g[0] * g[1]) - g[2]) / 2; }
ValueOutcome timer_with(const double* g, double rb) {
  return {rb, 1 / (kLn2 * (g[2] + 2 * rb) * g[1]), (g[2] + rb) / (g[2] + 2 * rb)};
}

// 0.7 V and a forced gain of 10: common practice, no source; data sheets give saturation voltages at IC / IB = 10 (from
// memory).
constexpr std::array kBaseFields = {ValueField{"current", "A", kMust}, ValueField{"drive", "V", 5}, ValueField{"gain", "", 10},
                                    ValueField{"junction", "V", 0.7}};
double base(const double* g) { return (g[1] - g[3]) * g[2] / g[0]; }
ValueOutcome base_with(const double* g, double rb) {
  const double current = (g[1] - g[3]) / rb;
  return {rb, current * g[2], g[0] / current};
}

constexpr std::array kQuestions = {
    ValueQuestion{"divider", "Ω", "wanted", "A", kDividerFields, divider, divider_with},
    ValueQuestion{"rc", "Ω", "time", "s", kRcFields, rc, rc_with},
    ValueQuestion{"rc-capacitor", "F", "time", "s", kRcCapacitorFields, rc, rc_with},
    ValueQuestion{"timer", "Ω", "frequency", "", kTimerFields, timer, timer_with},
    ValueQuestion{"base", "Ω", "current", "", kBaseFields, base, base_with},
};

}  // namespace

std::span<const ValueQuestion> value_questions() { return kQuestions; }

const ValueQuestion* find_value_question(std::string_view key) {
  for (const ValueQuestion& question : kQuestions)
    if (question.key == key) return &question;
  return nullptr;
}

Result<ValueAnswer> answer_value(const ValueQuestion& question, std::span<const double> given, int series, int neighbours) {
  for (size_t i = 0; i < question.fields.size(); ++i) {
    const ValueField& field = question.fields[i];
    const bool share_too_large = field.key == "share" && given[i] >= 1;
    if (!(given[i] > 0 && std::isfinite(given[i])) || share_too_large)
      return Error{.code = Code::kBadValue,
                   .found = std::isnan(given[i]) ? "nothing" : quantity_text(given[i], field.unit),
                   .expected = share_too_large ? "less than the whole way" : "a value above zero",
                   .pointer = "/" + std::string(field.key)};
  }
  if (e_series(series).empty())
    return Error{.code = Code::kBadValue, .found = "E" + std::to_string(series), .expected = "E3, E6, E12, E24, E48 or E96"};
  ValueAnswer answer;
  answer.exact = question.exact(given.data());
  if (!(answer.exact > 0 && std::isfinite(answer.exact)))
    return Error{.code = Code::kBadValue,
                 .found = quantity_text(answer.exact, question.unit),
                 .expected = "values that one above zero can be found for"};
  const double nearest = nearest_e_value(answer.exact, series);
  for (int step = -neighbours; step <= neighbours; ++step)
    answer.members.push_back(question.with(given.data(), step == 0 ? nearest : step_e_value(nearest, series, step)));
  answer.nearest = neighbours;
  return answer;
}

}  // namespace tiepoint
