// Several LEDs in one body: red-green-blue LED, seven-segment digit, bar of ten; and the LEDs of other sizes and colours.
//
// Every light is a junction as in led.cpp (same law, same leakage): VF at 20 mA 2.0 V red, 3.2 V green and blue (InGaN), 1.2 V
// infrared (940 nm, 1.35 V at 100 mA; Vishay TSAL6200, from memory).
//
//   LED, 3, 8, 10 mm: the same crystals as in the 5 mm one under other domes (makers' series T-1, 8 mm, 10 mm: 2.0 V and 20 to 30 mA for
//   red, from memory), so the same figures. The larger ones throw the same light from a larger face: no number here tells that.
//   RGB LED, 5 mm: four legs in a row, red, common (the longest), green, blue. Common cathode or common anode.
//   Digit, 14.2 mm high: two rows of five pins 15.24 mm apart (Kingbright SC56-11 / SA56-11, from memory): lower row e d com c dp,
//   upper row from the left g f com a b; the two commons are one piece of metal. Red, 2.0 V and 30 mA at most a segment.
//   Bar: ten red LEDs in a dual-in-line body, anodes 1 to 10 below, cathodes above (from memory).
// Brightness is the mean over the lights; lights[k] the k-th one's own: red, green, blue; a b c d e f g dp; 1 to 10.

#include <algorithm>
#include <array>

#include "engine/parts/families.h"
#include "engine/parts/led.h"

namespace tiepoint {
namespace {

struct Light {
  double saturation, emission, series;  // [A], 1, [ohm]
  double current, reverse;              // [A] continuous, [V]
};
// IS = 20 mA / (exp((VF - 20 mA RS) / (n VT)) - 1)
constexpr Light kRed = {7.009876e-18, 2.0, 8, 0.030, 5};
constexpr Light kGreen = {4.780725e-22, 2.5, 14, 0.025, 5};
constexpr Light kBlue = {4.780725e-22, 2.5, 14, 0.025, 5};
constexpr Light kInfrared = {2.30e-12, 2.0, 0.83, 0.1, 5};
constexpr double kNone = std::numeric_limits<double>::infinity();
constexpr double kFaint = 0.001, kLit = 0.05;  // of full brightness, as in led.cpp
constexpr double kBackwards = -0.5;            // [V]

void add_light(const Light& light, int anode, int cathode, ElementList& out) {
  out.add(ElementKind::kDiode, {anode, cathode},
          {light.saturation, light.emission, light.series + kTwoContacts, kJunctionThermalVoltage, 0, 0, kNone});
  out.add(ElementKind::kResistor, {anode, cathode}, {kLedLeakage});
}

// Judges one light by its own voltage and current; the state of the whole is the gravest.
class Judge {
 public:
  explicit Judge(PartNumbers& out) : out_(out) {}
  void light(const Light& light, double voltage, double current) {
    const double brightness = current > 0 ? current / kLedFullCurrent : 0;
    if (count_ < out_.lights.size()) out_.lights[count_] = brightness;
    ++count_;
    sum_ += brightness;
    reversed_ = reversed_ || voltage < kBackwards;
    too_bright_ = too_bright_ || current > light.current;
    brightest_ = std::max(brightest_, brightness);
  }
  void close() {
    out_.brightness = count_ ? sum_ / double(count_) : 0;
    if (too_bright_)
      out_.state = State::kTooBright;
    else if (brightest_ >= kFaint)
      out_.state = brightest_ >= kLit ? State::kLit : State::kFaint;
    else
      out_.state = reversed_ ? State::kReversed : State::kDark;
  }

 private:
  PartNumbers& out_;
  size_t count_ = 0;
  double sum_ = 0, brightest_ = 0;
  bool reversed_ = false, too_bright_ = false;
};

// ---- RGB LED

enum { kRedLeg, kCommonLeg, kGreenLeg, kBlueLeg };
constexpr std::array<LeadSpec, 4> kRgbLeads = {
    {{.name = "red"}, {.name = "common", .dx = 1}, {.name = "green", .dx = 2}, {.name = "blue", .dx = 3}}};
struct Leg {
  int lead;
  const Light* light;
};
constexpr std::array<Leg, 3> kRgb = {{{kRedLeg, &kRed}, {kGreenLeg, &kGreen}, {kBlueLeg, &kBlue}}};

template <bool common_anode>
void rgb_elements(const Board&, const Part&, ElementList& out) {
  for (const Leg& leg : kRgb) add_light(*leg.light, common_anode ? kCommonLeg : leg.lead, common_anode ? leg.lead : kCommonLeg, out);
}

Ratings rgb_ratings(const Part&) { return {.current = kGreen.current, .reverse_voltage = kGreen.reverse}; }

template <bool common_anode>
void rgb_read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  if (!has_reading(leads.voltage[kCommonLeg])) return;
  const double sign = common_anode ? -1 : 1;
  Judge judge(out);
  for (const Leg& leg : kRgb) {
    const bool here = has_reading(leads.voltage[size_t(leg.lead)]) && has_reading(leads.current[size_t(leg.lead)]);
    judge.light(*leg.light, here ? sign * (leads.voltage[size_t(leg.lead)] - leads.voltage[kCommonLeg]) : 0,
                here ? sign * leads.current[size_t(leg.lead)] : 0);
  }
  judge.close();
  out.current = -sign * leads.current[kCommonLeg];
  if (known(leads)) out.power = power_taken(leads);
}

// ---- Seven-segment digit

// Pins 1 to 10, counted along the lower row and back along the upper one.
enum { kE, kD, kCommon1, kC, kPoint, kB, kA, kCommon2, kF, kG, kDigitPins };
constexpr int kUp = -6;  // hole steps from the lower row to the upper one
constexpr std::array<LeadSpec, kDigitPins> kDigitLeads = {{{.name = "e"},
                                                          {.name = "d", .dx = 1},
                                                          {.name = "common-1", .dx = 2, .joined = 0},
                                                          {.name = "c", .dx = 3},
                                                          {.name = "dp", .dx = 4},
                                                          {.name = "b", .dx = 4, .dy = kUp},
                                                          {.name = "a", .dx = 3, .dy = kUp},
                                                          {.name = "common-2", .dx = 2, .dy = kUp, .joined = 0},
                                                          {.name = "f", .dx = 1, .dy = kUp},
                                                          {.name = "g", .dx = 0, .dy = kUp}}};
constexpr std::array<int, 8> kSegments = {kA, kB, kC, kD, kE, kF, kG, kPoint};

template <bool common_anode>
void digit_elements(const Board&, const Part&, ElementList& out) {
  constexpr int kMetal = kDigitPins;  // inner node 0
  for (int pin : kSegments) add_light(kRed, common_anode ? kMetal : pin, common_anode ? pin : kMetal, out);
  out.add(ElementKind::kResistor, {kCommon1, kMetal}, {kContactResistance});
  out.add(ElementKind::kResistor, {kCommon2, kMetal}, {kContactResistance});
}

Ratings digit_ratings(const Part&) { return {.current = kRed.current, .reverse_voltage = kRed.reverse}; }

template <bool common_anode>
void digit_read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  const double common = has_reading(leads.voltage[kCommon1]) ? leads.voltage[kCommon1] : leads.voltage[kCommon2];
  if (!has_reading(common)) return;
  const double sign = common_anode ? -1 : 1;
  Judge judge(out);
  double total = 0;
  for (int pin : kSegments) {
    const bool here = has_reading(leads.voltage[size_t(pin)]) && has_reading(leads.current[size_t(pin)]);
    const double current = here ? sign * leads.current[size_t(pin)] : 0;
    judge.light(kRed, here ? sign * (leads.voltage[size_t(pin)] - common) : 0, current);
    total += current;
  }
  judge.close();
  out.current = total;
  if (known(leads)) out.power = power_taken(leads);
}

// ---- Bar of ten

constexpr int kBars = 10;
constexpr std::array<LeadSpec, 2 * kBars> bar_leads() {
  constexpr std::array<std::string_view, 2 * kBars> kNames = {"anode-1",    "anode-2",   "anode-3",   "anode-4",   "anode-5",
                                                             "anode-6",    "anode-7",   "anode-8",   "anode-9",   "anode-10",
                                                             "cathode-10", "cathode-9", "cathode-8", "cathode-7", "cathode-6",
                                                             "cathode-5",  "cathode-4", "cathode-3", "cathode-2", "cathode-1"};
  std::array<LeadSpec, 2 * kBars> leads = {};
  for (int k = 0; k < 2 * kBars; ++k)
    leads[size_t(k)] = {.name = kNames[size_t(k)], .dx = k < kBars ? k : 2 * kBars - 1 - k, .dy = k < kBars ? 0 : -3};
  return leads;
}
constexpr std::array<LeadSpec, 2 * kBars> kBarLeads = bar_leads();

void bar_elements(const Board&, const Part&, ElementList& out) {
  for (int k = 0; k < kBars; ++k) add_light(kRed, k, 2 * kBars - 1 - k, out);
}

void bar_read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  Judge judge(out);
  double total = 0;
  bool some = false;
  for (size_t k = 0; k < kBars; ++k) {
    const size_t across = 2 * kBars - 1 - k;
    const bool here = has_reading(leads.voltage[k]) && has_reading(leads.voltage[across]) && has_reading(leads.current[k]);
    some = some || here;
    judge.light(kRed, here ? leads.voltage[k] - leads.voltage[across] : 0, here ? leads.current[k] : 0);
    if (here) total += leads.current[k];
  }
  if (!some) return;
  judge.close();
  out.current = total;
}

// ---- Infrared LED

constexpr std::array<LeadSpec, 2> kTwoLeads = {{{.name = "anode"}, {.name = "cathode"}}};

void infrared_elements(const Board&, const Part&, ElementList& out) { add_light(kInfrared, 0, 1, out); }
Ratings infrared_ratings(const Part&) { return {.current = kInfrared.current, .reverse_voltage = kInfrared.reverse}; }

// An eye sees nothing of it, so it is never "lit": conducting, blocking, too much.
void infrared_read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out)) return;
  if (out.current > kInfrared.current)
    out.state = State::kTooHot;
  else if (out.voltage < kBackwards)
    out.state = State::kReversed;
  else
    out.state = out.current > kIdleCurrent ? State::kConducting : State::kIdle;
}

// ---- LEDs of other sizes: the figures of led.cpp

constexpr std::array<std::string_view, 6> kColours = {"red", "orange", "yellow", "green", "blue", "white"};
constexpr std::array<ValueSpec, 1> kColourValue = {{
    {.key = "colour", .unit = "", .standard = 0, .minimum = 0, .maximum = double(kColours.size() - 1), .options = kColours},
}};

Light sized_light(const Part& part) {
  const LedFigures& f = led_figures()[size_t(part.values[0])];
  return {f.saturation_current, f.emission, f.series_resistance, f.largest_current, f.reverse_voltage};
}

void sized_elements(const Board&, const Part& part, ElementList& out) { add_light(sized_light(part), 0, 1, out); }

Ratings sized_ratings(const Part& part) {
  const Light light = sized_light(part);
  return {.current = light.current, .reverse_voltage = light.reverse};
}

void sized_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out)) return;
  Judge judge(out);
  judge.light(sized_light(part), out.voltage, out.current);
  judge.close();
}

constexpr Footprint kLegs = {.seat = Seat::kFlexible, .reach_min = 1, .reach_max = 3};
constexpr Footprint body(double length, double width) {
  return {.seat = Seat::kRigid, .reach_min = 0, .reach_max = 0, .body_length = length, .body_width = width};
}

constexpr PartType sized(std::string_view key, Body body, std::string_view search) {
  return {{.key = key, .prefix = "LED", .leads = kTwoLeads, .footprint = kLegs, .values = kColourValue},
          "light",
          body,
          sized_elements,
          0,
          sized_ratings,
          sized_read,
          -1,
          search};
}

}  // namespace

constexpr PartType kSmallLed = sized("led-3mm", Body::kSmallLed, "led light small 3 mm red orange yellow green blue white");
constexpr PartType kLed8mm = sized("led-8mm", Body::kLed8mm, "led light large big 8 mm red orange yellow green blue white");
constexpr PartType kLed10mm =
    sized("led-10mm", Body::kLed10mm, "led light large big jumbo 10 mm red orange yellow green blue white");

constexpr PartType kInfraredLed = {
    {.key = "infrared-led", .prefix = "LED", .leads = kTwoLeads, .footprint = kLegs, .values = {}},
    "light", Body::kInfraredLed, infrared_elements, 0, infrared_ratings, infrared_read, -1, "led infrared invisible light remote"};

constexpr PartType kRgbLedCathode = {
    {.key = "rgb-led-cathode", .prefix = "LED", .leads = kRgbLeads, .footprint = body(2.2, 1.9), .values = {}},
    "light", Body::kRgbLed, rgb_elements<false>, 0, rgb_ratings, rgb_read<false>, -1, "led rgb colour mixing common cathode"};

constexpr PartType kRgbLedAnode = {
    {.key = "rgb-led-anode", .prefix = "LED", .leads = kRgbLeads, .footprint = body(2.2, 1.9), .values = {}},
    "light", Body::kRgbLed, rgb_elements<true>, 0, rgb_ratings, rgb_read<true>, -1, "led rgb colour mixing common anode"};

constexpr PartType kDigitCathode = {
    {.key = "digit-cathode", .prefix = "DS", .leads = kDigitLeads, .footprint = body(4.95, 7.5), .values = {}},
    "light", Body::kDigit, digit_elements<false>, 1, digit_ratings, digit_read<false>, -1, "seven segment digit display number common cathode"};

constexpr PartType kDigitAnode = {
    {.key = "digit-anode", .prefix = "DS", .leads = kDigitLeads, .footprint = body(4.95, 7.5), .values = {}},
    "light", Body::kDigit, digit_elements<true>, 1, digit_ratings, digit_read<true>, -1, "seven segment digit display number common anode"};

constexpr PartType kLedBar = {
    {.key = "led-bar", .prefix = "LED", .leads = kBarLeads, .footprint = body(10.0, 3.9), .values = {}},
    "light", Body::kLedBar, bar_elements, 0, digit_ratings, bar_read, -1, "led bar graph ten level meter"};

bool glows_with_current(const PartType& type) {
  if (is_coloured_dome(type.body)) return true;
  switch (type.body) {
    case Body::kInfraredLed:
    case Body::kRgbLed:
    case Body::kDigit:
    case Body::kLedBar: return true;
    default: return false;
  }
}

}  // namespace tiepoint
