// The thermal model against the closed-form exponential, ratings against their sheets, and what dies of what in a session.
#include "engine/readings/thermal.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/parts/sensing_resistors.h"
#include "engine/session/session.h"
#include "tests/engine/build_board.h"

namespace tiepoint {
namespace {

Board of(std::string_view kind) {
  Board board;
  Part part = make_part(*catalogue().find(kind));
  if (part.kind->footprint.seat == Seat::kRigid) part.leads[0] = *board.hole("e5");
  EXPECT_TRUE(apply(board, Edit{PlacePart{part}}).ok()) << kind;
  return board;
}

// A thermal model with one body, heated by `watts`.
Thermal heated(const Board& board, double watts) {
  Thermal thermal;
  thermal.follow(board);
  EXPECT_EQ(thermal.bodies().size(), 1u);
  thermal.set_power(0, watts);
  return thermal;
}

// tau dT/dt = P Rth - T has the solution P Rth (1 - exp(-t / tau)); any cutting of the time gives the same.
TEST(Thermal, RiseFollowsTheClosedFormWhateverTheSteps) {
  const Board board = of("resistor");
  const Heat heat = *heat_of(board.parts[0]);
  for (const int pieces : {1, 7, 1000}) {
    Thermal thermal = heated(board, 0.2);
    for (int k = 0; k < pieces; ++k) thermal.pass(30.0 / pieces);
    EXPECT_NEAR(thermal.bodies()[0].rise, 0.2 * heat.resistance * (1 - std::exp(-30 / heat.time_constant)), 1e-9) << pieces;
  }
}

// The air round a thermistor is as warm as its knob says.
TEST(Thermal, ThermistorStartsFromItsOwnAir) {
  Board board = of("thermistor");
  ASSERT_TRUE(apply(board, Edit{SetValue{board.parts[0].name, "temperature", 80}}).ok());
  const Heat heat = *heat_of(board.parts[0]);
  EXPECT_EQ(heat.air, 80);
  EXPECT_NEAR(1 / heat.resistance, 7e-3, 1e-12);
}

// Its model has the one pole already: what it says is its rise, and from there it goes on by the same law.
TEST(Thermal, ThermistorsRiseIsThatOfItsModel) {
  const Board board = of("thermistor");
  const Wiring wiring = wire_up(board);
  Readings readings;
  readings.parts.resize(1);
  readings.parts[0].temperature = 60, readings.parts[0].power = 0.1;
  readings.parts[0].lead_voltage = readings.parts[0].lead_current = {0, 0};
  Thermal thermal;
  thermal.follow(board);
  thermal.look(board, extract(board, wiring), readings);
  EXPECT_NEAR(thermal.bodies()[0].rise, 35, 1e-12);
  thermal.pass(15);
  EXPECT_NEAR(thermal.bodies()[0].rise, 0.1 / 7e-3 + (35 - 0.1 / 7e-3) * std::exp(-1), 1e-9);
}

// Its own model and the heat of the parts are one: on a voltage that runs away with it, where the power grows from one look to the next,
// the session tells the temperature of  tau du/dt + u = V^2 / (R(Ta + u) + r) / delta,  integrated here by Runge and Kutta's classical
// method; r: what little the supply and the contacts have.
TEST(Thermal, ThermistorIsAsWarmAsItsOwnModelSays) {
  constexpr double kVolts = 26, kSeconds = 40;
  BoardBuilder b;
  b.add("bench-supply", "PS1", {"top+1", "top-1"}).set("voltage", kVolts);
  b.board.parts.back().mat = {5, -7};
  b.add("thermistor", "R1", {"top+5", "a5"});
  b.add("jumper-wire", "W1", {"b5", "top-5"});
  Session session;
  session.load(b.board);
  for (int k = 0; k < int(kSeconds * 4); ++k) session.advance(0.25);
  const auto slope = [&](double u) { return (kVolts * kVolts / thermistor_resistance(25 + u) / kThermistorDissipation - u) / kThermistorTime; };
  double u = 0;
  const double h = 1e-3;
  for (int k = 0; k < int(kSeconds / h); ++k) {
    const double a = slope(u), c = slope(u + h / 2 * a), d = slope(u + h / 2 * c), e = slope(u + h * d);
    u += h / 6 * (a + 2 * c + 2 * d + e);
  }
  EXPECT_GT(u, 10);
  EXPECT_NEAR(session.readings().parts[1].temperature, 25 + u, 2e-3 * u);
}

// What goes in either stays as heat or leaves to the air: P t = C T + integral of T / Rth.
TEST(Thermal, EnergyIsStoredOrGivenToTheAir) {
  const Board board = of("resistor");
  const Heat heat = *heat_of(board.parts[0]);
  Thermal thermal = heated(board, 0.15);
  const double dt = 0.01, capacity = heat.time_constant / heat.resistance;
  double given = 0;
  for (int k = 0; k < 4000; ++k) {
    const double before = thermal.bodies()[0].rise;
    thermal.pass(dt);
    given += (before + thermal.bodies()[0].rise) / 2 * dt / heat.resistance;
  }
  EXPECT_NEAR(capacity * thermal.bodies()[0].rise + given, 0.15 * 40, 0.15 * 40 * 1e-6);
}

TEST(Thermal, DueIsWhenDamageKills) {
  Thermal thermal = heated(of("resistor"), 2.0);
  double gone = 0;
  for (int looks = 0; looks < 10000 && !Thermal::is_dead(thermal.bodies()[0]); ++looks) {
    const double due = thermal.due();
    ASSERT_TRUE(std::isfinite(due));
    thermal.pass(std::max(due, 1e-4));
    gone += due;
  }
  Thermal fine = heated(of("resistor"), 2.0);
  double by_steps = 0;
  for (; !Thermal::is_dead(fine.bodies()[0]); by_steps += 1e-3) fine.pass(1e-3);
  EXPECT_NEAR(gone, by_steps, 0.02 * by_steps);
}

// IEC 60115-1 (from memory): full power at 70 C in the air, none at 155 C; 2.5 times the rated voltage for 5 s does no harm.
TEST(Heat, ResistorDeratesToNothingAt155AndStandsTheOverloadTest) {
  const Board board = of("resistor");
  const Heat heat = *heat_of(board.parts[0]);
  EXPECT_NEAR(70 + heat.resistance * 0.25, 155, 0.5);
  Thermal thermal = heated(board, 0.25 * 2.5 * 2.5);
  thermal.pass(5);
  EXPECT_EQ(thermal.bodies()[0].damage, 0);
}

// 2N3904 sheet (Fairchild/onsemi Rev 1.1.0): 625 mW at 25 C, 5 mW/K less above, 200 K/W, junction at most 150 C.
TEST(Heat, SmallTransistorHasItsSheetsThermalResistance) {
  const Heat heat = *heat_of(of("2n3904").parts[0]);
  EXPECT_NEAR(heat.resistance, 200, 1);
  EXPECT_NEAR(heat.resistance * 0.625 + 25, heat.limit, 1e-9);
}

// Nothing that stays within its rating is ever damaged: for each kind that has a power rating, an hour at that power.
TEST(Heat, FullRatedPowerForAnHourDoesNoHarm) {
  for (const PartKind* kind : catalogue().kinds) {
    const PartType& type = static_cast<const PartType&>(*kind);
    const Part part = make_part(*kind);
    const std::optional<Heat> heat = heat_of(part);
    if (!heat || heat->resistance == 0 || !type.ratings || !has_reading(type.ratings(part).power) ||
        heat->fate == Fate::kCutsOut)
      continue;
    Board board;
    board.parts.push_back(part);
    board.parts[0].id = {1};
    Thermal thermal = heated(board, type.ratings(part).power);
    thermal.pass(3600);
    EXPECT_EQ(thermal.bodies()[0].damage, 0) << kind->key;
  }
}

// O-26, Vishay TLUR6400: 20 mA for good. With more it dies the sooner the more there is.
TEST(Heat, LedLastsAtItsRatedCurrentAndDiesSoonerTheFurtherOver) {
  double last = std::numeric_limits<double>::infinity();
  for (const double current : {0.020, 0.100, 0.150, 0.300, 0.600}) {
    Thermal thermal = heated(of("led"), current * (1.85 + 8 * current));
    double gone = 0;
    while (gone < 3600 && !Thermal::is_dead(thermal.bodies()[0])) {
      const double piece = std::min(0.01, 3600 - gone);
      thermal.pass(piece), gone += piece;
    }
    if (current <= 0.020) {
      EXPECT_EQ(thermal.bodies()[0].damage, 0);
    } else {
      EXPECT_LT(gone, last) << current;
      last = gone;
    }
  }
  EXPECT_LT(last, 0.5);
}

// ---- in a session

BoardBuilder no_resistor() {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("jumper-wire", "W1", {"top+3", "a4"});
  b.add("led", "LED1", {"c4", "c5"});
  b.add("jumper-wire", "W2", {"a5", "top-3"});
  return b;
}

TEST(SessionHeat, LedWithoutResistorFadesOpensAndTellsItsNumbers) {
  Session session(no_resistor().board);
  session.settle();
  const double fresh = session.readings().parts[2].brightness;
  EXPECT_EQ(session.readings().parts[2].state, State::kTooBright);
  double gone = 0;
  double dimmest = fresh;
  while (gone < 60 && !session.board().parts[2].defect) {
    session.advance(0.05), gone += 0.05;
    if (!session.board().parts[2].defect) dimmest = std::min(dimmest, session.readings().parts[2].brightness);
  }
  const Defect& died = session.board().parts[2].defect;
  ASSERT_EQ(died.kind, Defect::Kind::kOpen);
  EXPECT_FALSE(died.hidden);
  EXPECT_GT(gone, 0.2);
  EXPECT_LT(dimmest, 0.95 * fresh);
  EXPECT_EQ(died.unit, 'A');
  EXPECT_GT(died.bore, died.rating);
  EXPECT_NEAR(died.seconds, gone, 0.3);
  EXPECT_EQ(session.readings().parts[2].state, State::kBroken);
  EXPECT_NEAR(session.readings().parts[2].current, 0, 1e-8);
  EXPECT_FALSE(session.journal().can_undo()) << "a death is nobody's step";
}

// One segment of a digit straight on 5 V: that one dies, and the others go on.
TEST(SessionHeat, OfADigitTheLightThatTakesTooMuchDies) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("digit-cathode", "DS1", {"h20"});
  const Part& digit = b.board.parts[1];
  const int a = lead_index(*digit.kind, "a"), d = lead_index(*digit.kind, "d"), common = lead_index(*digit.kind, "common-1");
  const auto beside = [&](int lead, char row) { return std::string(1, row) + b.board.name_of(b.board.parts[1].leads[size_t(lead)]).substr(1); };
  b.add("jumper-wire", "W1", {"top+3", beside(a, 'a')});
  b.add("resistor", "R1", {"top+6", "c14"}).set("resistance", 330);
  b.add("jumper-wire", "W2", {"a14", beside(d, 'j')});
  b.add("jumper-wire", "W3", {"top-3", beside(common, 'j')});
  Session session(b.board);
  session.settle();
  for (double gone = 0; gone < 60 && !session.board().parts[1].defect; gone += 0.05) session.advance(0.05);
  const Defect& died = session.board().parts[1].defect;
  ASSERT_EQ(died.kind, Defect::Kind::kOpen);
  EXPECT_EQ(died.lead, a);
  EXPECT_EQ(died.unit, 'A');
  EXPECT_GT(died.bore, died.rating);
  session.advance(1);
  const PartReading& r = session.readings().parts[1];
  EXPECT_NEAR(r.lead_current[size_t(a)], 0, 1e-7);
  EXPECT_GT(r.lead_current[size_t(d)], 5e-3);
}

// Ten bars within their rating together take ten times what kills one: none of them is hurt.
TEST(SessionHeat, ABarWithAllItsLightsOnIsNotHurtByTheirSum) {
  BoardBuilder b(LayoutKind::k830);
  b.add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("led-bar", "LED1", {"f20"});
  for (int k = 0; k < 10; ++k) {
    const std::string column = std::to_string(20 + k), lead = std::to_string(k + 1);
    b.add("resistor", "R" + lead, {"bottom+" + column, "g" + column}).set("resistance", 220);
    b.add("jumper-wire", "W" + lead, {"a" + column, "top-" + column});
  }
  b.add("jumper-wire", "W11", {"top+2", "bottom+2"});
  Session session(b.board);
  session.settle();
  EXPECT_GT(session.readings().parts[1].current, 0.1);
  for (int k = 0; k < 40; ++k) session.advance(0.5);
  EXPECT_FALSE(session.board().parts[1].defect);
}

TEST(SessionHeat, ReplacingIsOneStepAndUndoBringsTheDeadOneBack) {
  BoardBuilder b = no_resistor();
  Session session(b.board);
  session.advance(60);
  ASSERT_TRUE(session.board().parts[2].defect);
  ASSERT_TRUE(session.apply(Edit{ReplacePart{"LED1"}}).ok());
  EXPECT_FALSE(session.board().parts[2].defect);
  EXPECT_EQ(session.readings().parts[2].state, State::kTooBright);
  ASSERT_TRUE(session.undo().ok());
  EXPECT_TRUE(session.board().parts[2].defect);
  ASSERT_TRUE(session.redo().ok());
  EXPECT_FALSE(session.board().parts[2].defect);
}

TEST(SessionHeat, SparedBoardNeverLosesAPart) {
  BoardBuilder b = no_resistor();
  b.board.realism.spared = true;
  Session session(b.board);
  session.advance(600);
  EXPECT_FALSE(session.board().parts[2].defect);
  EXPECT_EQ(session.readings().parts[2].state, State::kTooBright);
}

TEST(SessionHeat, AtRestItWakesForADeathAndForNothingElse) {
  Session hot(no_resistor().board);
  hot.settle();
  ASSERT_TRUE(hot.at_rest());
  EXPECT_LT(hot.wear_due(), 10);
  Session cool(one_button().board);
  cool.settle();
  EXPECT_TRUE(std::isinf(cool.wear_due()));
}

// 12 V across 22 ohm: 6.5 W in a quarter-watt resistor.
TEST(SessionHeat, ResistorScorchesThenOpens) {
  BoardBuilder b;
  b.add("nine-volt-battery", "BAT1", {"top+1", "top-1"});
  b.add("jumper-wire", "W1", {"top+3", "a4"});
  b.add("resistor", "R1", {"c4", "c9"}).set("resistance", 22);
  b.add("jumper-wire", "W2", {"a9", "top-3"});
  Session session(b.board);
  session.settle();
  EXPECT_EQ(session.readings().parts[2].state, State::kTooHot);
  session.advance(120);
  EXPECT_EQ(session.board().parts[2].defect.kind, Defect::Kind::kOpen);
  EXPECT_EQ(session.board().parts[2].defect.unit, 'W');
  EXPECT_DOUBLE_EQ(session.board().parts[2].defect.rating, 0.25);
}

// A circuit that stores nothing is not stepped, only looked at: what a sine heats with is U^2 R / (R + 50 ohm)^2 / 2 all the same, 50 ohm
// being the source's, whether a period is long beside the pieces of time that are advanced or there are thousands in each.
TEST(SessionHeat, ASineThroughResistorsAloneHeatsWithHalfOfItsPeak) {
  for (const double frequency : {3.0, 50.0, 470.0, 1000.0, 93117.0}) {
    BoardBuilder b;
    b.add("signal-source", "SG1", {"a1", "a2"}).set("amplitude", 8).set("frequency", frequency);
    b.add("resistor", "R1", {"b1", "b9"}).set("resistance", 100);
    b.add("jumper-wire", "W1", {"a9", "b2"});
    Session session(b.board);
    const Heat heat = *heat_of(session.board().parts[1]);
    double seconds = 0;
    for (; seconds < 10; seconds += 1.0 / 30) session.advance(1.0 / 30);
    const double watts = 64.0 * 100 / (150 * 150) / 2;
    const double rise = watts * heat.resistance * (1 - std::exp(-seconds / heat.time_constant));
    EXPECT_NEAR((session.readings().parts[1].temperature - kAirTemperature) / rise, 1, 0.01) << frequency;
  }
}

// 24 V in, 10 ohm at the output: some 9.5 W in a TO-220 without a heat sink. It cuts out, cools, comes back, and is never
// damaged.
TEST(SessionHeat, RegulatorCutsOutAndComesBack) {
  BoardBuilder b;
  b.add("bench-supply", "PS1", {"top+8", "top-7"}).set("voltage", 24).set("limit", 2);
  b.add("lm7805", "U1", {"c5"});
  b.add("jumper-wire", "W1", {"a5", "top+4"});
  b.add("jumper-wire", "W2", {"a6", "top-5"});
  b.add("resistor", "R1", {"d7", "d12"}).set("resistance", 10);
  b.add("jumper-wire", "W3", {"a12", "top-10"});
  b.board.realism.spared = true;  // the resistor would not live that long
  Session session(b.board);
  int changes = 0;
  bool cut = false;
  for (double gone = 0; gone < 120; gone += 0.5) {
    session.advance(0.5);
    const PartReading& u = session.readings().parts[1];
    if ((u.state == State::kTripped) != cut) cut = !cut, ++changes;
    EXPECT_LT(u.temperature, 166);
  }
  EXPECT_GE(changes, 3);
  EXPECT_FALSE(session.board().parts[1].defect);
}

// A shorted cell warms; it does not become a fault of the document.
TEST(SessionHeat, ShortedBatteryWarms) {
  BoardBuilder b;
  b.add("battery-pack", "BAT1", {"top+1", "top-1"});
  b.add("jumper-wire", "W1", {"top+3", "top-3"});
  Session session(b.board);
  session.advance(60);
  EXPECT_GT(session.readings().parts[0].temperature, 35);
  EXPECT_LT(session.readings().parts[0].temperature, 300);
  EXPECT_FALSE(session.board().parts[0].defect);
}

}  // namespace
}  // namespace tiepoint
