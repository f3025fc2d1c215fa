// Kinds of the box that have no file of their own here, each against what is published or common about it. "From memory" says that the
// figure was not looked up again.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "engine/parts/families.h"
#include "tests/engine/part_bench.h"

namespace tiepoint {
namespace {

double forward_voltage(std::string_view kind, const std::string& anode, const std::string& cathode, double ampere) {
  PartBench bench(kind);
  bench.ground(cathode).amperes(anode, ampere);
  const PartKind& found = *catalogue().find(kind);
  for (const LeadSpec& lead : found.leads)  // the others lie at the common lead
    if (lead.name != anode && lead.name != cathode) bench.resistor(std::string(lead.name), cathode, 1e3);
  return bench.settle().voltage(anode, cathode);
}

// Textbook ranges of forward voltage: red 1.6 to 2.2 V, green and blue of InGaN 2.5 to 3.7 V, infrared of 940 nm 1.1 to 1.5 V (common
// practice, no source).
TEST(KitReference, LedsOfEveryShapeDropWhatTheirColourDrops) {
  struct Row { const char *kind, *anode, *cathode; double low, high; };
  for (const Row& row : {Row{"led-3mm", "anode", "cathode", 1.6, 2.2}, Row{"led-8mm", "anode", "cathode", 1.6, 2.2},
                         Row{"led-10mm", "anode", "cathode", 1.6, 2.2}, Row{"infrared-led", "anode", "cathode", 1.1, 1.5},
                         Row{"rgb-led-cathode", "red", "common", 1.6, 2.2}, Row{"rgb-led-cathode", "green", "common", 2.5, 3.7},
                         Row{"rgb-led-cathode", "blue", "common", 2.5, 3.7}, Row{"rgb-led-anode", "common", "blue", 2.5, 3.7},
                         Row{"digit-cathode", "a", "common-1", 1.6, 2.2}, Row{"digit-anode", "common-2", "g", 1.6, 2.2},
                         Row{"led-bar", "anode-3", "cathode-3", 1.6, 2.2}}) {
    const double v = forward_voltage(row.kind, row.anode, row.cathode, 0.01);
    EXPECT_GT(v, row.low) << row.kind << " " << row.anode;
    EXPECT_LT(v, row.high) << row.kind << " " << row.anode;
  }
}

// Vishay TSAL6200 (from memory): 1.35 V, at most 1.6 V, at 100 mA.
TEST(KitReference, InfraredLedAtAHundredMilliampere) {
  EXPECT_NEAR(forward_voltage("infrared-led", "anode", "cathode", 0.1), 1.35, 0.05);
}

// Metal contacts: makers allow 20 to 100 milliohm (from memory); two spring contacts of the board come on top. Nothing flows when open:
// more than 100 megohm.
TEST(KitReference, ContactsOfSwitches) {
  struct Row { const char* kind; std::map<std::string, double> closed, open; const char *a, *b; };
  const Row rows[] = {{"push-button", {{"pressed", 1}}, {}, "1", "3"},
                      {"slide-switch", {{"position", 1}}, {}, "common", "2"},
                      {"toggle-switch", {{"position", 1}}, {}, "common", "2"},
                      {"dip-switch-4", {{"switch-2", 1}}, {}, "2", "7"},
                      {"dip-switch-8", {{"switch-8", 1}}, {}, "8", "9"},
                      {"rotary-switch", {{"position", 3}}, {}, "common", "4"},
                      {"limit-switch", {{"pressed", 1}}, {}, "common", "no"},
                      {"reed-switch", {{"magnet", 0.005}}, {{"magnet", 0.04}}, "1", "2"}};
  for (const Row& row : rows) {
    PartBench closed(row.kind, row.closed), open(row.kind, row.open);
    closed.ground(row.b).amperes(row.a, 0.01).settle();
    open.ground(row.b).volts(row.a, 5).settle();
    EXPECT_LE(closed.voltage(row.a) / 0.01, 0.1 + 2 * kTwoContacts) << row.kind;
    EXPECT_GE(closed.voltage(row.a) / 0.01, 0.02) << row.kind;
    EXPECT_LE(std::fabs(open.current(row.a)), 5 / 100e6) << row.kind;
  }
  PartBench ball("tilt-switch");  // ball switches scrape: up to an ohm (from memory)
  ball.ground("2").amperes("1", 0.01).settle();
  EXPECT_LE(ball.voltage("1") / 0.01, 1);
}

// i = V/R (1 - exp(-t R/L)): 63.2 % after one time constant, 99.3 % after five (any textbook). Makers' tables of small chokes: 3 ohm at
// 1 mH, 0.1 ohm at 10 uH (from memory).
TEST(KitReference, CoilFillsInItsTimeConstant) {
  PartBench steady("inductor", {{"inductance", 0.01}});
  steady.ground("2").volts("in", 5).resistor("in", "1", 100).settle();
  const double full = steady.current("1"), tau = 0.01 / (5 / full);
  PartBench run("inductor", {{"inductance", 0.01}});
  run.ground("2").volts("in", 5).resistor("in", "1", 100).start().run_to(tau);
  EXPECT_NEAR(run.current("1") / full, 1 - std::exp(-1), 2e-3);
  run.run_to(5 * tau);
  EXPECT_NEAR(run.current("1") / full, 1 - std::exp(-5), 2e-3);
  for (const auto& [henry, ohm] : {std::pair{1e-3, 3.0}, std::pair{10e-6, 0.1}}) {
    PartBench winding("inductor", {{"inductance", henry}});
    winding.ground("2").amperes("1", 0.01).settle();
    const double measured = winding.voltage("1") / 0.01 - kTwoContacts;  // chokes differ by as much
    EXPECT_GT(measured, 0.5 * ohm) << henry;
    EXPECT_LT(measured, 2 * ohm) << henry;
  }
}

// Interlink FSR 402 (2010): more than 10 megohm untouched; 30 kohm at 0.2 N and about 1 kohm at 10 N, off its curve by eye (from memory).
TEST(KitReference, ForceSensorFollowsItsCurve) {
  const auto ohms = [](double newton) {
    PartBench sensor("force-sensor", {{"force", newton}});
    return 1 / sensor.ground("2").volts("1", 1).settle().current("1");
  };
  EXPECT_GT(ohms(0), 10e6);
  EXPECT_NEAR(ohms(0.2), 30e3, 1e3);
  EXPECT_NEAR(ohms(10), 1e3, 100);
}

// Flex sensor, maker's typical figures (from memory): 25 kohm straight; two and a half times that bent by a right angle.
TEST(KitReference, FlexSensorRisesWithItsBend) {
  const auto ohms = [](double degrees) {
    PartBench sensor("flex-sensor", {{"bend", degrees}});
    return 1 / sensor.ground("2").volts("1", 1).settle().current("1");
  };
  EXPECT_NEAR(ohms(0), 25e3, 250);
  EXPECT_NEAR(ohms(90) / ohms(0), 2.5, 0.05);
}

// Resistivity of tungsten 5.65 microohm cm at 300 K and 66.9 at 2400 K (handbook tables, from memory): a cold lamp draws some twelve
// times what a lit one does.
TEST(KitReference, ColdFilament) {
  PartBench lamp("filament-lamp", {{"bulb", 2}});  // 6 V, 0.1 A
  lamp.ground("2").volts("1", 6).settle();
  EXPECT_NEAR(lamp.current("1"), 0.1, 2e-3);
  PartBench cold("filament-lamp", {{"bulb", 2}});
  cold.ground("2").volts("1", 6).start().run_to(1e-6);
  EXPECT_NEAR(cold.current("1") / lamp.current("1"), 66.9 / 5.65, 1.2);
}

// IEC 60127-2, sheet 2 (from memory): a quick fuse carries 1.5 times its rating for an hour, and is through within 20 ms at 10 times.
TEST(KitReference, QuickFuse) {
  PartBench held("fuse", {{"fuse-rating", 1}});  // 250 mA
  held.ground("2").amperes("1", 1.5 * 0.25).start().run_to(3600);
  EXPECT_NE(held.reading().state, State::kMelted);
  PartBench blown("fuse", {{"fuse-rating", 1}});
  blown.ground("2").volts("in", 25).resistor("in", "1", 10 - 1.5).start().run_to(0.02);
  EXPECT_EQ(blown.reading().state, State::kMelted);
}

// Open collector of a Hall switch sinks only in a field (of the 3144 kind, from memory: 4.4 mA supply, at most 0.4 V at 20 mA).
TEST(KitReference, HallSwitchSinksInAField) {
  for (const double tesla : {0.0, 0.05}) {
    PartBench hall("hall-sensor", {{"field", tesla}});
    hall.volts("vcc", 5).ground("gnd").volts("pull", 5).resistor("pull", "output", 1e3).settle();
    if (tesla == 0)
      EXPECT_GT(hall.voltage("output"), 4.9);
    else
      EXPECT_LT(hall.voltage("output"), 0.4);
  }
}

// The same kind of sheet (from memory): on between 7 and 35 mT, off between 5 and 33 mT, at least 2 mT apart. Found by halving.
TEST(KitReference, HallSwitchOperatesAndReleasesInItsWindows) {
  const auto sinks = [](bool was_on, double tesla) {
    PartBench hall("hall-sensor", {{"field", was_on ? 0.1 : 0.0}});
    hall.volts("vcc", 5).ground("gnd").volts("pull", 5).resistor("pull", "output", 1e3).settle();
    std::vector<double> p = hall.circuit().parameters;
    p[0] = tesla;
    hall.simulation().set_parameters(p);
    hall.run_to(1e-3);
    return hall.voltage("output") < 2.5;
  };
  const auto limit = [&](bool was_on) {
    double low = 0, high = 0.1;
    for (int k = 0; k < 30; ++k) (sinks(was_on, (low + high) / 2) ? high : low) = (low + high) / 2;
    return high;
  };
  const double operate = limit(false), release = limit(true);
  EXPECT_GE(operate, 7e-3);
  EXPECT_LE(operate, 35e-3);
  EXPECT_GE(release, 5e-3);
  EXPECT_LE(release, 33e-3);
  EXPECT_GE(operate - release, 2e-3);
}

// Slotted gate of the TCST1103 kind (Vishay, from memory): 4 mA from 20 mA through a free slot into 5 V and 100 ohm, nothing past a flag.
TEST(KitReference, SlottedGate) {
  for (const double flag : {0.0, 1.0}) {
    PartBench gate("slotted-sensor", {{"flag", flag}});
    gate.ground("cathode").amperes("anode", 0.02).ground("emitter").volts("pull", 5).resistor("pull", "collector", 100).settle();
    const double milli = gate.current("collector") * 1e3;
    EXPECT_NEAR(milli, flag == 0 ? 4 : 0, flag == 0 ? 0.5 : 0.01);
  }
}

// Coin vibration motor, 3 V (from memory): 60 mA turning at 12000 rpm, 120 mA at start.
TEST(KitReference, VibrationMotorStartsWithTwiceItsCurrent) {
  const PartKind& kind = *catalogue().find("vibration-motor");
  const std::string plus(kind.leads[0].name), minus(kind.leads[1].name);
  PartBench run("vibration-motor");
  run.ground(minus).volts(plus, 3).settle();
  EXPECT_NEAR(run.current(plus), 0.06, 0.006);
  EXPECT_NEAR(std::fabs(run.reading().speed) * 60 / (2 * std::numbers::pi), 12000, 600);
}

// Solenoid and relay, 5 V: current is the voltage by the winding's resistance (Ohm), 250 mA of 20 ohm and 30 mA of 167 ohm.
TEST(KitReference, CoilsOfSolenoidAndRelay) {
  PartBench solenoid("solenoid");
  solenoid.ground("-").volts("+", 5).settle();
  EXPECT_NEAR(solenoid.current("+"), 0.25, 0.002);
  EXPECT_EQ(solenoid.reading().state, State::kPulled);
  PartBench relay("relay");
  relay.ground("coil-").volts("coil+", 5).ground("common").settle();
  EXPECT_NEAR(relay.current("coil+"), 0.03, 0.0005);
}

// Half a turn of a linear track halves the voltage; 15 % of an audio track's resistance lies before its middle (makers' A curves, from memory).
TEST(KitReference, TrackOfAPotentiometer) {
  for (const char* kind : {"potentiometer", "trimmer"}) {
    PartBench linear(kind, {{"position", 0.5}}), audio(kind, {{"position", 0.5}, {"taper", 1}});
    EXPECT_NEAR(linear.ground("1").volts("3", 5).settle().voltage("wiper"), 2.5, 0.02) << kind;
    EXPECT_NEAR(audio.ground("1").volts("3", 5).settle().voltage("wiper"), 0.75, 0.05) << kind;
  }
}

// Buzzer: 30 mA at 5 V (typical, from memory). Loudspeaker: 8 ohm ones measure 7.2 ohm by an ohmmeter (common practice, no source).
TEST(KitReference, BuzzerAndLoudspeaker) {
  PartBench buzzer("buzzer");
  buzzer.ground("-").volts("+", 5).settle();
  EXPECT_NEAR(buzzer.current("+"), 0.03, 0.003);
  const PartKind& kind = *catalogue().find("loudspeaker");
  const std::string a(kind.leads[0].name), b(kind.leads[1].name);
  PartBench speaker("loudspeaker");
  speaker.ground(b).amperes(a, 0.01).settle();
  EXPECT_NEAR(speaker.voltage(a) / 0.01, 7.2, 0.1);
}

}  // namespace
}  // namespace tiepoint
