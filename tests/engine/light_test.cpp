// The light of LEDs that flicker: engine/session/light.cpp. Talbot-Plateau law (textbooks on vision; from memory): flicker too
// fast to be seen looks as bright as its mean. The mean of a current that is switched is its duty times the current while it is
// on.
#include <gtest/gtest.h>

#include <algorithm>

#include "engine/parts/led.h"
#include "engine/session/session.h"
#include "tests/engine/build_board.h"

namespace tiepoint {
namespace {

constexpr double kFrame = 1.0 / 60, kEye = 1.0 / 30;  // [s]

const PartReading& reading(const Session& session, std::string_view name) {
  return session.readings().parts[size_t(session.board().index_of(session.board().find(name)->id))];
}

// A signal source of 0 and 5 V straight on a resistor and an LED.
BoardBuilder switched(double frequency) {
  BoardBuilder b;
  b.add("signal-source", "G1", {"a1", "a8"})
      .set("waveform", 1)
      .set("amplitude", 2.5)
      .set("offset", 2.5)
      .set("frequency", frequency);
  b.add("resistor", "R1", {"b1", "b5"}).set("resistance", 330);
  b.add("led", "LED1", {"c5", "c8"});
  return b;
}

// The same, steadily on.
double steady_current() {
  BoardBuilder b = switched(1000);
  b.board.parts[0].values[size_t(value_index(*b.board.parts[0].kind, "amplitude"))] = 0;
  b.board.parts[0].values[size_t(value_index(*b.board.parts[0].kind, "offset"))] = 5;
  Session session(b.board);
  session.settle();
  return reading(session, "LED1").current;
}

TEST(Light, SwitchedAThousandTimesASecondItIsHalfAsBrightAndSteady) {
  const double on = steady_current();
  ASSERT_GT(on, 0.005);
  Session session(switched(1000).board);
  session.set_eye(kEye);
  for (int k = 0; k < 4; ++k) session.advance(kFrame);
  double low = 1e9, high = 0;
  for (int k = 0; k < 60; ++k) {
    session.advance(kFrame);
    const PartReading& led = reading(session, "LED1");
    low = std::min(low, led.brightness), high = std::max(high, led.brightness);
    EXPECT_EQ(led.state, State::kLit);
  }
  const double expected = 0.5 * on / kLedFullCurrent;
  // In 1/30 s there are 33 1/3 periods: at most half a period more or less light than in whole ones.
  EXPECT_NEAR(low, expected, 0.02 * expected);
  EXPECT_NEAR(high, expected, 0.02 * expected);
}

// A decade counter lights each of its outputs a tenth of the time.
TEST(Light, OneOfTenOutputsIsATenthAsBright) {
  BoardBuilder b(LayoutKind::k830);
  b.add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("cd4017", "U1", {"f10"});
  const Part& chip = b.board.parts.back();
  const auto under = [&](std::string_view lead) {
    const Hole hole = chip.leads[size_t(lead_index(*chip.kind, lead))];
    const HolePlace place = place_of(b.board.layout_of(hole), hole.index);
    return std::string(1, place.row < 5 ? 'a' : 'j') + std::to_string(place.column);
  };
  SCOPED_TRACE(chip.kind->leads[0].name);
  std::string plus, minus, clock, inhibit, reset, out;
  for (const LeadSpec& lead : chip.kind->leads) {
    const std::string name(lead.name);
    if (name == "vdd" || name == "vcc") plus = under(name);
    if (name == "vss" || name == "gnd") minus = under(name);
    if (name == "clock" || name == "clk") clock = under(name);
    if (name == "clock-enable" || name == "inhibit" || name == "clock-inhibit" || name == "clk-inh") inhibit = under(name);
    if (name == "reset") reset = under(name);
    if (name == "q0" || name == "0") out = under(name);
  }
  std::string names;
  for (const LeadSpec& lead : chip.kind->leads) names += std::string(lead.name) + " ";
  for (const std::string* hole : {&plus, &minus, &clock, &inhibit, &reset, &out}) ASSERT_FALSE(hole->empty()) << names;
  b.add("jumper-wire", "W1", {"top+5", plus});
  b.add("jumper-wire", "W2", {"top-6", minus});
  b.add("jumper-wire", "W3", {"top-7", inhibit});
  b.add("jumper-wire", "W4", {"top-8", reset});
  b.add("signal-source", "G1", {"a40", "top-10"})
      .set("waveform", 1)
      .set("amplitude", 2.5)
      .set("offset", 2.5)
      .set("frequency", 10e3);
  b.add("jumper-wire", "W5", {"b40", clock});
  b.add("resistor", "R1", {"b50", "b55"}).set("resistance", 330);
  b.add("jumper-wire", "W6", {out, "a50"});
  b.add("led", "LED1", {"c55", "c57"});
  b.add("jumper-wire", "W7", {"a57", "top-40"});
  Session session(b.board);
  session.set_eye(kEye);
  session.advance(0.1);
  // The current while it is on, caught at instants of their own.
  double on = 0;
  for (int k = 0; k < 40; ++k) {
    session.advance(37e-6);
    on = std::max(on, reading(session, "LED1").current);
  }
  ASSERT_GT(on, 1e-3);
  for (int k = 0; k < 4; ++k) session.advance(kFrame);
  EXPECT_NEAR(reading(session, "LED1").brightness, 0.1 * on / kLedFullCurrent, 0.004 * on / kLedFullCurrent);
  EXPECT_NE(reading(session, "LED1").state, State::kDark);
}

TEST(Light, ASlowBlinkIsSeenAsItIs) {
  const double on = steady_current();
  Session session(switched(1).board);
  session.set_eye(kEye);
  double low = 1e9, high = 0;
  for (int k = 0; k < 120; ++k) {
    session.advance(kFrame);
    low = std::min(low, reading(session, "LED1").brightness), high = std::max(high, reading(session, "LED1").brightness);
  }
  EXPECT_NEAR(high, on / kLedFullCurrent, 1e-3);
  EXPECT_NEAR(low, 0, 1e-3);
}

TEST(Light, ALongTimeAtOnceEndsWithWhatTheEyeSeesThen) {
  const double on = steady_current();
  Session session(switched(1).board);
  session.set_eye(kEye);
  session.advance(10.3);  // on from 10 to 10.5
  const double first = reading(session, "LED1").brightness;
  session.advance(0.5);
  const double second = reading(session, "LED1").brightness;
  EXPECT_NEAR(std::max(first, second), on / kLedFullCurrent, 1e-3);
  EXPECT_NEAR(std::min(first, second), 0, 1e-3);
}

// Slow time: the eye takes in a thousandth of it, and sees each pulse.
TEST(Light, InSlowTimeEachPulseIsSeen) {
  const double on = steady_current();
  Session session(switched(1000).board);
  session.set_eye(1.0 / 30 / 1000);
  double low = 1e9, high = 0;
  for (int k = 0; k < 120; ++k) {
    session.advance(kFrame / 1000);
    low = std::min(low, reading(session, "LED1").brightness), high = std::max(high, reading(session, "LED1").brightness);
  }
  EXPECT_NEAR(high, on / kLedFullCurrent, 1e-3);
  EXPECT_NEAR(low, 0, 1e-3);
}

TEST(Light, JustChangedOrAtRestItIsTheCurrentOfTheInstant) {
  BoardBuilder b = one_button();
  Session session(b.board);
  session.set_eye(kEye);
  session.settle();
  EXPECT_LT(reading(session, "LED1").brightness, 1e-3);
  ASSERT_TRUE(session.apply(Edit{PressPart{"S1", true}}).ok());
  session.settle();
  EXPECT_NEAR(reading(session, "LED1").brightness, reading(session, "LED1").current / kLedFullCurrent, 1e-12);
}

}  // namespace
}  // namespace tiepoint
