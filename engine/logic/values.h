// "Which value?" for the sums that a bench asks for again and again: the exact value, the nearest of an E series and its
// neighbours, and what comes of each. (A resistor in line with an LED, by the LED's own curve: sizing.h.)
//
//   divider         R1 = R2' (V - U) / U       R2' = R2 with the load side by side: voltage divider
//   rc              R = t / (C ln(1 / (1 - p)))   time in which a capacitor comes to the share p of the way, charged through R
//   rc-capacitor    C = t / (R ln(1 / (1 - p)))   p = 63.2 % gives t = R C
//   timer           RB = (1 / (ln 2 f C) - RA) / 2   astable timer chip; data sheets write 1.44 for 1 / ln 2; duty (RA + RB) /
//   (RA + 2 RB) base            RB = (V - UBE) g / IC      a transistor as a switch, overdriven to the forced gain g = IC / IB
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "engine/error.h"

namespace tiepoint {

struct ValueField {
  std::string_view key, unit;  // "supply", "V"
  double standard = 0;         // taken when nothing is given; NaN: it must be given
};

struct ValueOutcome {
  double value = 0;   // of the series
  double result = 0;  // what was wanted, as it comes out with this value
  double extra = 0;   // see ValueQuestion::extra_unit
};

struct ValueQuestion {
  std::string_view key;         // "divider"
  std::string_view unit;        // of the value that is looked for
  std::string_view wanted;      // key of the field that `result` is held against
  std::string_view extra_unit;  // A: current of the divider; s: time constant; "": duty of the timer, gain of the base resistor
  std::span<const ValueField> fields;
  double (*exact)(const double* given);
  ValueOutcome (*with)(const double* given, double value);
};

std::span<const ValueQuestion> value_questions();
const ValueQuestion* find_value_question(std::string_view key);  // null when there is none

struct ValueAnswer {
  double exact = 0;
  std::vector<ValueOutcome> members;  // of the series, rising: the nearest and its neighbours
  int nearest = 0;                    // index into members, nearest by ratio
};

// `given`: one number for each field, in its SI unit. Errors: kBadValue, with "/key" of the field as pointer when one is not
// above zero; without when no value above zero does it, or there is no such series.
Result<ValueAnswer> answer_value(const ValueQuestion& question, std::span<const double> given, int series = 12,
                                 int neighbours = 1);

}  // namespace tiepoint
