// The meter: what it shows, what it does to a circuit, what it refuses.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <sstream>

#include "engine/explain/findings.h"
#include "engine/file/json.h"
#include "engine/session/session.h"
#include "tests/engine/build_board.h"
#include "tests/engine/part_bench.h"

namespace tiepoint {
namespace {

enum Function { kOff, kVolts, kAcVolts, kAmperes, kOhms, kContinuity, kDiodeTest };

PartBench meter(Function function) {
  PartBench bench("meter", {{"function", double(function)}});
  bench.ground("black-probe");
  return bench;
}

// ---- Volts

// T. Kuphaldt, Lessons in Electric Circuits, DC, "Voltmeter impact on measured circuit", fig. 00156: 24 V across two resistors of
// 250 megohm; a meter of 10 megohm across the lower one shows 0.8889 V (exactly 8/9 V) where 12 V stood before.
TEST(Meter, LoadsAHighResistanceDivider) {
  PartBench bench = meter(kVolts);
  bench.volts("supply", 24).resistor("supply", "red-probe", 250e6).resistor("red-probe", "0", 250e6).settle();
  const PartReading reading = bench.reading();
  EXPECT_NEAR(reading.shown, 8.0 / 9, 1e-4 * 8 / 9);
  EXPECT_EQ(reading.shown_unit, "V");
  EXPECT_EQ(reading.state, State::kMeasuring);
  EXPECT_NEAR(24 - bench.voltage("red-probe"), 23.1111, 1e-4 * 23.1111);

  PartBench off = meter(kOff);
  off.volts("supply", 24).resistor("supply", "red-probe", 250e6).resistor("red-probe", "0", 250e6).settle();
  EXPECT_NEAR(off.voltage("red-probe"), 12, 1e-3 * 12) << "switched off it hardly loads";
  EXPECT_FALSE(has_reading(off.reading().shown));
}

// The same book, "divider" figs. 00106 and 10099: 45 V across 5, 10 and 7.5 kilohm: 10, 20 and 15 V, and 2 mA.
TEST(Meter, ReadsASeriesCircuitAllButUndisturbed) {
  PartBench bench("meter");
  bench.volts("a", 45).resistor("a", "red-probe", 5e3).resistor("red-probe", "black-probe", 10e3).resistor("black-probe", "0", 7.5e3).settle();
  // 10 megohm beside 10 kilohm: less by about R_source / R_meter = (10k || 12.5k) / 10M = 5.6e-4.
  EXPECT_NEAR(bench.reading().shown, 20 / (1 + 10e3 * 12.5e3 / 22.5e3 / 10e6), 1e-5);
}

TEST(Meter, ShowsAMinusWhenTheProbesAreSwapped) {
  PartBench bench = meter(kVolts);
  bench.volts("red-probe", -5).settle();
  EXPECT_NEAR(bench.reading().shown, -5, 1e-9);
}

TEST(Meter, TrueRmsOfASineLeavesItsMeanOut) {
  PartBench bench = meter(kAcVolts);
  bench.add("V", ElementKind::kVoltageSource, {"red-probe", "0"}, {double(Waveform::kSine), 3, 2, 50, 0}).start().run_to(3);
  // amplitude / sqrt 2; ripple of the square 1 / (4 pi f tau) = 0.8 %, half of that in the root.
  EXPECT_NEAR(bench.reading().shown, 3 / std::sqrt(2.0), 0.006 * 3 / std::sqrt(2.0));
}

TEST(Meter, TrueRmsOfASquareIsItsAmplitude) {
  PartBench bench = meter(kAcVolts);
  bench.add("V", ElementKind::kVoltageSource, {"red-probe", "0"}, {double(Waveform::kSquare), 2, 0, 100}).start().run_to(3);
  EXPECT_NEAR(bench.reading().shown, 2, 0.01 * 2);  // a meter that averages would show 11 % more
}

TEST(Meter, AlternatingVoltsOfADirectVoltageAreNone) {
  PartBench bench = meter(kAcVolts);
  bench.volts("red-probe", 5).settle();
  EXPECT_NEAR(bench.reading().shown, 0, 1e-6);
}

// ---- Amperes

TEST(Meter, AmperesAddTheirBurdenToTheCircuit) {
  PartBench bench = meter(kAmperes);
  bench.volts("supply", 5).resistor("supply", "red-probe", 1e3).settle();
  EXPECT_NEAR(bench.reading().shown, 5 / 1000.5, 1e-8);
  EXPECT_NEAR(bench.voltage("red-probe"), 0.5 * 5 / 1000.5, 1e-7);
  EXPECT_EQ(bench.reading().shown_unit, "A");
}

TEST(Meter, AmperesAcrossASupplyBlowTheFuse) {
  PartBench bench = meter(kAmperes);
  bench.step("red-probe", 0, 5, 0.001).start().run_to(0.2);
  EXPECT_EQ(bench.reading().state, State::kMelted);
  EXPECT_FALSE(has_reading(bench.reading().shown));
  EXPECT_LT(std::fabs(bench.current("red-probe")), 1e-8);
}

TEST(Meter, CarriesItsRatingForEver) {
  PartBench bench = meter(kAmperes);
  bench.amperes("red-probe", 0.5).start().run_to(60);
  EXPECT_EQ(bench.reading().state, State::kMeasuring);
  EXPECT_NEAR(bench.reading().shown, 0.5, 1e-6);
}

// ---- Ohms

TEST(Meter, OhmsOverEightDecades) {
  for (const double ohms : {0.5, 30.0, 1e3, 47e3, 1e6, 22e6}) {
    PartBench bench = meter(kOhms);
    bench.resistor("red-probe", "0", ohms).start().run_to(0.05);
    EXPECT_NEAR(bench.reading().shown, ohms, 1e-4 * ohms) << ohms;
    EXPECT_LE(std::fabs(bench.current("red-probe")), 0.2e-3 * 1.03) << ohms;
    EXPECT_LE(bench.voltage("red-probe"), 2.5 + 1e-6) << ohms;
  }
}

TEST(Meter, OpenProbesAreOverRange) {
  PartBench bench = meter(kOhms);
  bench.start().run_to(0.05);
  EXPECT_EQ(bench.reading().state, State::kOverRange);
  EXPECT_FALSE(has_reading(bench.reading().shown));
}

TEST(Meter, OhmsRefuseALiveCircuit) {
  for (const double volts : {0.05, 1.5, 5.0, -5.0}) {
    PartBench bench = meter(kOhms);
    bench.volts("supply", volts).resistor("supply", "red-probe", 1e3).resistor("red-probe", "0", 1e3).start().run_to(0.05);
    EXPECT_EQ(bench.reading().state, State::kLiveCircuit) << volts;
    EXPECT_FALSE(has_reading(bench.reading().shown)) << volts;
  }
}

TEST(Meter, OhmsBeginWhenTheCircuitHasDied) {
  PartBench bench = meter(kOhms);
  bench.step("supply", 0, 5, 1e-4, 0.02).resistor("supply", "red-probe", 1e3).resistor("red-probe", "0", 1e3).start().run_to(0.01);
  EXPECT_EQ(bench.reading().state, State::kLiveCircuit);
  bench.run_to(0.1);
  EXPECT_EQ(bench.reading().state, State::kMeasuring);
  EXPECT_NEAR(bench.reading().shown, 500, 0.1);
}

TEST(Meter, ContinuitySoundsBelowThirtyOhm) {
  PartBench sounds = meter(kContinuity), silent = meter(kContinuity);
  sounds.resistor("red-probe", "0", 29).start().run_to(0.05);
  silent.resistor("red-probe", "0", 31).start().run_to(0.05);
  EXPECT_EQ(sounds.reading().state, State::kSounding);
  EXPECT_GT(sounds.reading().frequency, 0);
  EXPECT_EQ(silent.reading().state, State::kMeasuring);
}

// ---- Diode test

TEST(Meter, DiodeTestShowsTheForwardVoltageAtOneMilliampere) {
  PartBench forward = meter(kDiodeTest), backward = meter(kDiodeTest);
  forward.add("D", ElementKind::kDiode, {"red-probe", "0"}, {5e-9, 1.8}).start().run_to(0.05);
  backward.add("D", ElementKind::kDiode, {"0", "red-probe"}, {5e-9, 1.8}).start().run_to(0.05);
  EXPECT_NEAR(forward.reading().shown, 1.8 * 0.025852 * std::log(1e-3 / 5e-9), 0.002);
  EXPECT_EQ(backward.reading().state, State::kOverRange);
}

// ---- On the bench

TEST(Meter, ProbesShareAHoleWithALeadAndWithEachOther) {
  BoardBuilder b = one_button();
  b.add("meter", "M1", {"d12", "c12"});          // where R1 and LED1 sit
  b.add("meter", "M2", {"d12", "d12"});          // both in one hole, beside another probe
  EXPECT_EQ(b.board.lead_in(b.at("d12")).part, b.board.find("R1")->id);
  EXPECT_EQ(b.board.find(b.board.lead_in(b.at("c12")).part)->name, "LED1");
  b.add("meter", "M3", {"h20", "h26"});
  b.add("resistor", "R2", {"h20", "h24"});       // a lead goes where a probe only touches
  EXPECT_EQ(b.board.find(b.board.lead_in(b.at("h20")).part)->name, "R2");
  EXPECT_EQ(b.board.find(b.board.lead_in(b.at("h26")).part)->name, "M3");
}

TEST(Meter, ProbeDoesNotReachThroughABody) {
  BoardBuilder b;
  b.add("resistor", "R1", {"c5", "c12"});
  Part probe = make_part(*catalogue().find("meter"));
  probe.name = "M1";
  probe.leads[0] = b.at("c8");
  EXPECT_EQ(check_seat(b.board, probe).error().code, Code::kHoleCovered);
}

TEST(Meter, MeasuresAnUnpoweredResistorOnItsOwn) {
  BoardBuilder b;
  b.add("resistor", "R1", {"c5", "c12"}).set("resistance", 4700);
  b.add("meter", "M1", {"a5", "c12"}).set("function", kOhms);
  Session session(b.board);
  session.advance(0.05);
  const PartReading& reading = session.readings().parts[size_t(b.part("M1"))];
  EXPECT_EQ(reading.state, State::kMeasuring);
  EXPECT_NEAR(reading.shown, 4700, 1);
  session.advance(10);
  EXPECT_TRUE(session.at_rest());
}

TEST(Meter, TurningTheKnobIsNoChangeOfStructure) {
  BoardBuilder b = one_button();
  b.add("meter", "M1", {"d12", "c13"});
  Session session(b.board);
  const uint64_t structure = session.structure_revision();
  for (int function = 0; function <= kDiodeTest; ++function) {
    ASSERT_TRUE(session.apply(Edit{SlidePart{"M1", function}}).ok()) << function;
    session.advance(0.02);
    EXPECT_FALSE(session.readings().error) << function;
  }
  EXPECT_EQ(session.structure_revision(), structure);
}

TEST(Meter, LooksAgainWhenASupplyIsSwitchedOn) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"}).set("on", 0);
  b.add("jumper-wire", "W1", {"top+2", "a5"});
  b.add("resistor", "R1", {"c5", "c10"}).set("resistance", 1000);
  b.add("resistor", "R2", {"d10", "d15"}).set("resistance", 10);
  b.add("jumper-wire", "W2", {"a15", "top-13"});
  b.add("meter", "M1", {"d10", "d15"}).set("function", kOhms);
  Session session(b.board);
  session.advance(0.05);
  EXPECT_EQ(session.readings().parts[size_t(b.part("M1"))].state, State::kMeasuring);
  // 50 mV across R2: within what the meter's own current could have made, so only a new look finds it.
  ASSERT_TRUE(session.apply(Edit{SwitchSupply{"PS1", true}}).ok());
  session.advance(0.05);
  EXPECT_EQ(session.readings().parts[size_t(b.part("M1"))].state, State::kLiveCircuit);
  ASSERT_TRUE(session.apply(Edit{SwitchSupply{"PS1", false}}).ok());
  session.advance(0.05);
  EXPECT_EQ(session.readings().parts[size_t(b.part("M1"))].state, State::kMeasuring);
}

TEST(Meter, ANewFuseIsWholeAndTheOldOneComesBackWithUndo) {
  BoardBuilder b;
  b.add("bench-supply", "PS1", {"top+1", "top-1"}).set("limit", 3);
  b.add("meter", "M1", {"top+5", "top-5"}).set("function", kAmperes);
  Session session(b.board);
  session.advance(2);
  const auto state = [&] { return session.readings().parts[1].state; };
  EXPECT_EQ(state(), State::kMelted);
  ASSERT_TRUE(session.apply(Edit{SlidePart{"M1", kVolts}}).ok());
  session.advance(0.1);
  EXPECT_NEAR(session.readings().parts[1].shown, 5, 0.1) << "volts need no fuse";
  ASSERT_TRUE(session.apply(Edit{SetValue{"M1", "fuse-number", 2}}).ok());
  ASSERT_TRUE(session.apply(Edit{SlidePart{"M1", kAmperes}}).ok());
  EXPECT_NE(state(), State::kMelted);
}

TEST(Meter, CausesNoFindings) {
  for (const bool working : {true, false})
    for (int function = 0; function <= kDiodeTest; ++function) {
      if (function == kAmperes) continue;  // beside the circuit it would be a short
      BoardBuilder plain = one_button();
      if (!working) plain.board.parts[size_t(plain.part("LED1"))].leads = {plain.at("c13"), plain.at("c12")};
      BoardBuilder measured = plain;
      measured.add("meter", "M1", {"d12", "c13"}).set("function", function);
      measured.add("meter", "M2", {"", "h28"}).set("function", function);
      const auto kinds = [](const Board& board) {
        Session session(board);
        std::vector<FindingKind> out;
        for (const Finding& f : findings({session.board(), session.wiring(), session.circuit(), session.readings()})) out.push_back(f.kind);
        return out;
      };
      EXPECT_EQ(kinds(measured.board), kinds(plain.board)) << function;
    }
}

// A resistor that lies apart is no fault while a meter measures its ohms; with the meter on volts it is one.
TEST(Meter, APartTestedOnItsOwnNeedsNoFeed) {
  for (const Function function : {kOhms, kVolts}) {
    BoardBuilder b = one_button();
    b.add("resistor", "R2", {"h20", "h26"});
    b.add("meter", "M1", {"h20", "h26"}).set("function", function);
    Session session(b.board);
    int problems = 0;
    for (const Finding& f : findings({session.board(), session.wiring(), session.circuit(), session.readings()}))
      problems += f.severity != Severity::kNote;
    EXPECT_EQ(problems > 0, function == kVolts);
  }
}

TEST(Meter, InTheLoopItIsAWayForCurrent) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("jumper-wire", "W1", {"top+2", "a5"});
  b.add("resistor", "R1", {"d5", "d10"});
  b.add("meter", "M1", {"c10", "c14"}).set("function", kAmperes);
  b.add("led", "LED1", {"d14", "d15"});
  b.add("jumper-wire", "W2", {"a15", "top-13"});
  Session session(b.board);
  session.settle();
  EXPECT_EQ(session.readings().parts[size_t(b.part("LED1"))].state, State::kLit);
  const PartReading& meter = session.readings().parts[size_t(b.part("M1"))];
  EXPECT_NEAR(meter.shown, session.readings().parts[size_t(b.part("R1"))].current, 1e-6);
  const auto found = findings({session.board(), session.wiring(), session.circuit(), session.readings()});
  EXPECT_FALSE(any_fault(found));
}

TEST(Meter, ExampleShowsVoltsAndOhms) {
  std::ifstream file(std::string(TIEPOINT_EXAMPLES) + "/meter-on-a-divider.board.json");
  std::stringstream content;
  content << file.rdbuf();
  const Result<Board> board = read_board(content.str(), catalogue());
  ASSERT_TRUE(board.ok()) << text(board.error());
  Session session(*board);
  session.settle();
  const auto reading = [&](std::string_view name) { return session.readings().parts[size_t(board->index_of(board->find(name)->id))]; };
  // 2.2 of 3.2 kilohm of the supply's 5 V, less what supply and contacts drop.
  EXPECT_NEAR(reading("M1").shown, 5 * 2.2 / 3.2, 0.02);
  EXPECT_NEAR(reading("M2").shown, 4700, 1);
  const auto found = findings({session.board(), session.wiring(), session.circuit(), session.readings()});
  for (const Finding& f : found)
    for (const Place& place : f.places)
      for (const char* meter : {"M1", "M2"}) EXPECT_NE(place.part, board->find(meter)->id) << meter;
}

TEST(Meter, SavedAndOpenedAgain) {
  BoardBuilder b = one_button();
  b.add("meter", "M1", {"d12", "c13"}).set("function", kOhms);
  b.board.parts.back().mat = {31, 4};
  const Result<Board> again = read_board(write_board(b.board), catalogue());
  ASSERT_TRUE(again.ok());
  EXPECT_EQ(*again, b.board);
}

}  // namespace
}  // namespace tiepoint
