// Digital chips: function tables and levels against their sheets.
#include <gtest/gtest.h>

#include <array>
#include <string>
#include <vector>

#include "engine/devices/logic_machine.h"
#include "tests/engine/part_bench.h"

namespace tiepoint {
namespace {

PartBench powered(std::string_view kind, double supply = 5) {
  PartBench bench(kind);
  bench.volts("vcc", supply).ground("gnd");
  return bench;
}

// Kuphaldt, Lessons in Electric Circuits, Digital, gates chapter; 74HC00 function table (Philips, 30 Jun 2003) (read).
TEST(GateReference, TruthTables) {
  struct Row { const char* kind; std::array<bool, 4> table; };  // for a, b = 00, 01, 10, 11
  for (const Row& row : {Row{"74hc08", {0, 0, 0, 1}}, Row{"74hc32", {0, 1, 1, 1}}, Row{"74hc00", {1, 1, 1, 0}}, Row{"74hc02", {1, 0, 0, 0}},
                         Row{"74hc86", {0, 1, 1, 0}}}) {
    // All four gates at once, each with another line of the table, and turned round.
    for (int turn = 0; turn < 4; ++turn) {
      PartBench bench = powered(row.kind);
      for (int gate = 1; gate <= 4; ++gate) {
        const int line = (gate + turn) % 4;
        bench.volts(std::to_string(gate) + "a", line & 2 ? 5 : 0).volts(std::to_string(gate) + "b", line & 1 ? 5 : 0);
      }
      bench.settle();
      for (int gate = 1; gate <= 4; ++gate) {
        const double out = bench.voltage(std::to_string(gate) + "y");
        EXPECT_NEAR(out, row.table[size_t((gate + turn) % 4)] ? 5 : 0, 0.01) << row.kind << " gate " << gate;
      }
    }
  }
}

TEST(GateReference, Inverters) {
  for (const char* kind : {"74hc04", "74hc14"}) {
    PartBench bench = powered(kind);
    for (int gate = 1; gate <= 6; ++gate) bench.volts(std::to_string(gate) + "a", gate % 2 ? 5 : 0);
    bench.settle();
    for (int gate = 1; gate <= 6; ++gate) EXPECT_NEAR(bench.voltage(std::to_string(gate) + "y"), gate % 2 ? 0 : 5, 0.01) << kind;
  }
}

// 74HC00 (Philips, 30 Jun 2003) and 74HC04 (Nexperia Rev 5), limits of -40 to 85 °C (read).
TEST(GateReference, OutputLevels) {
  struct Row { double supply, load, high_least, low_most; };
  for (const Row& row : {Row{2, 20e-6, 1.9, 0.1}, Row{4.5, 20e-6, 4.4, 0.1}, Row{4.5, 4e-3, 3.84, 0.33}, Row{6, 20e-6, 5.9, 0.1},
                         Row{6, 5.2e-3, 5.34, 0.33}}) {
    PartBench bench = powered("74hc04", row.supply);
    bench.volts("1a", 0).volts("2a", row.supply).amperes("1y", -row.load).amperes("2y", row.load);
    for (const char* in : {"3a", "4a", "5a", "6a"}) bench.ground(in);
    bench.settle();
    EXPECT_GE(bench.voltage("1y"), row.high_least) << row.supply << " V " << row.load;
    EXPECT_LE(bench.voltage("2y"), row.low_most) << row.supply << " V " << row.load;
  }
  // Typical values at 4.5 V, 4 mA: 4.32 and 0.15 V.
  PartBench bench = powered("74hc04", 4.5);
  bench.volts("1a", 0).volts("2a", 4.5).amperes("1y", -4e-3).amperes("2y", 4e-3);
  for (const char* in : {"3a", "4a", "5a", "6a"}) bench.ground(in);
  bench.settle();
  EXPECT_NEAR(bench.voltage("1y"), 4.32, 0.02);
  EXPECT_NEAR(bench.voltage("2y"), 0.15, 0.01);
}

// The input voltage at which the output changes, on the way up and down, by a slow ramp.
std::array<double, 2> thresholds(const char* kind, double supply) {
  PartBench bench = powered(kind, supply);
  for (const char* in : {"2a", "3a", "4a", "5a", "6a"}) bench.ground(in);
  bench.add("V(1a)", ElementKind::kVoltageSource, {"1a", "0"}, {double(Waveform::kPulse), supply, 0, 0, 0, 0, 1e-3, 1e-3, 1e-4}).start();
  std::array<double, 2> found = {-1, -1};
  for (int k = 1; k < 2100; ++k) {
    bench.run_to(k * 1e-6);
    const bool high = bench.voltage("1y") > supply / 2;
    if (!high && found[0] < 0) found[0] = bench.voltage("1a");
    if (high && found[0] >= 0 && found[1] < 0) found[1] = bench.voltage("1a");
  }
  return found;
}

// VIH at least 1.5, 3.15, 4.2 V and VIL at most 0.5, 1.35, 1.8 V at 2, 4.5, 6 V; typically 1.2, 2.4, 3.2 and 0.8, 2.1, 2.8 V (read).
TEST(GateReference, InputLevels) {
  struct Row { double supply, high, low; };
  for (const Row& row : {Row{2, 1.5, 0.5}, Row{4.5, 3.15, 1.35}, Row{6, 4.2, 1.8}}) {
    const auto [up, down] = thresholds("74hc04", row.supply);
    EXPECT_LT(up, row.high) << row.supply;
    EXPECT_GT(down, row.low) << row.supply;
  }
  const auto [up, down] = thresholds("74hc04", 4.5);
  EXPECT_NEAR(up, 2.4, 0.05);
  EXPECT_NEAR(down, 2.1, 0.05);
}

// 74HC14 thresholds at 4.5 V: up 1.7 to 3.15 V, down 0.9 to 2.0 V, hysteresis 0.4 to 1.4 V; typically 2.36, 1.53, 0.83 (NXP 74HC1G14, read).
TEST(GateReference, SchmittTrigger) {
  const auto [up, down] = thresholds("74hc14", 4.5);
  EXPECT_NEAR(up, 2.36, 0.03);
  EXPECT_NEAR(down, 1.53, 0.03);
  EXPECT_GT(up - down, 0.4);
  EXPECT_LT(up - down, 1.4);
}

// ---- Machines: clocked by hand, without volts (function tables of the makers' sheets, from memory)

class Clocked {
 public:
  explicit Clocked(const Machine& machine, uint32_t inputs = 0) : machine_(machine), inputs_(inputs) {}
  Clocked& set(int input, bool high) {
    const uint32_t next = (inputs_ & ~(1u << input)) | uint32_t(high) << input;
    state_ = machine_.step(0, state_, inputs_, next);
    inputs_ = next;
    return *this;
  }
  Clocked& pulse(int input) { return set(input, true).set(input, false); }
  uint32_t show() const { return machine_.show(0, state_, inputs_); }

 private:
  const Machine& machine_;
  uint32_t state_ = 0, inputs_;
};

TEST(MachineReference, BinaryCounter) {
  // clear-, enable-p, load-, enable-t high: it counts to 15, carries there, and begins again.
  Clocked c(kCounterMachine, 1u << 0 | 1u << 6 | 1u << 7 | 1u << 8);
  for (uint32_t k = 1; k <= 16; ++k) {
    c.pulse(1);
    EXPECT_EQ(c.show() & 15, k % 16);
    EXPECT_EQ(c.show() >> 4 & 1, k == 15 ? 1u : 0u);
  }
  c.set(2, true).set(4, true).set(7, false);  // load 5 with the next clock
  EXPECT_EQ(c.show() & 15, 0u);
  c.pulse(1).set(7, true);
  EXPECT_EQ(c.show() & 15, 5u);
  c.set(6, false).pulse(1);
  EXPECT_EQ(c.show() & 15, 5u);  // not enabled
  c.set(0, false);
  EXPECT_EQ(c.show() & 15, 0u);  // cleared at once
}

TEST(MachineReference, DecadeCounter) {
  Clocked c(kDecadeMachine);
  for (int k = 1; k <= 12; ++k) {
    c.pulse(0);
    EXPECT_EQ(c.show() & 0x3FF, 1u << (k % 10));
    EXPECT_EQ(c.show() >> 10 & 1, k % 10 < 5 ? 1u : 0u);  // carry high for 0 to 4
  }
  c.set(1, true).pulse(0);
  EXPECT_EQ(c.show() & 0x3FF, 1u << 2);  // inhibited
  c.set(2, true);
  EXPECT_EQ(c.show() & 0x3FF, 1u);
}

TEST(MachineReference, ShiftRegistersPassAByteOn) {
  // Parallel in: load 0xA6 (d0 is the first bit, d7 the one at the output), clock it out of q7.
  Clocked in(kShiftInMachine, 1);
  const uint32_t byte = 0xA6;
  for (int k = 0; k < 8; ++k) in.set(2 + k, byte >> k & 1);
  in.set(0, false).set(0, true);
  Clocked out(kShiftOutMachine, 1u << 4);  // clear- high
  for (int k = 0; k < 8; ++k) {
    out.set(0, in.show() & 1).pulse(3);
    in.pulse(1);
  }
  EXPECT_EQ(out.show() & 255, 0u);  // nothing until the latch
  out.pulse(2);
  EXPECT_EQ(out.show() & 255, byte);
  EXPECT_EQ(kShiftOutMachine.driven(1u << 1) & 255, 0u);  // enable- high: outputs open
}

TEST(MachineReference, FlipFlop) {
  Clocked f(kFlipFlopMachine, 1u << 0 | 1u << 3);
  EXPECT_EQ(f.show(), 2u);
  f.set(1, true);
  EXPECT_EQ(f.show(), 2u);  // data alone change nothing
  f.pulse(2);
  EXPECT_EQ(f.show(), 1u);
  f.set(0, false);
  EXPECT_EQ(f.show(), 2u);
  f.set(3, false);
  EXPECT_EQ(f.show(), 3u);  // both low: both outputs high
}

// Truth table of the CD4511 (Fairchild, Apr 2002, read): a..g for 0..9, blank above, lamp test and blanking.
TEST(MachineReference, SevenSegments) {
  const char* table[10] = {"1111110", "0110000", "1101101", "1111001", "0110011", "1011011", "0011111", "1110000", "1111111", "1110011"};
  for (uint32_t digit = 0; digit < 16; ++digit) {
    Clocked c(kSegmentsMachine, 1u << 4 | 1u << 5);
    for (int k = 0; k < 4; ++k) c.set(k, digit >> k & 1);
    for (int segment = 0; segment < 7; ++segment)
      EXPECT_EQ(c.show() >> segment & 1, digit < 10 && table[digit][segment] == '1' ? 1u : 0u) << digit << " segment " << segment;
    c.set(6, true);
    const uint32_t held = c.show();
    for (int k = 0; k < 4; ++k) c.set(k, 0);
    EXPECT_EQ(c.show(), held);  // latched
    c.set(5, false);
    EXPECT_EQ(c.show(), 0u);
    c.set(4, false);
    EXPECT_EQ(c.show(), 0x7Fu);
  }
}

// L293D, TI SLRS008C (read): 1.4 V (at most 1.8) below the load's supply and 1.2 V (at most 1.8) above ground at 0.6 A; clamps 1.3 V.
TEST(HalfBridgeReference, OutputLevels) {
  PartBench bench("l293d");
  bench.volts("vcc", 5).volts("load", 12).volts("1-2enable", 5).volts("3-4enable", 0).volts("1a", 5).volts("2a", 0).volts("3a", 5).volts("4a", 0);
  for (const char* g : {"gnd-1", "gnd-2", "gnd-3", "gnd-4"}) bench.ground(g);
  bench.amperes("1y", -0.6).amperes("2y", 0.6).amperes("3y", 0.6).amperes("4y", -0.6).settle();
  EXPECT_NEAR(12 - bench.voltage("1y"), 1.4, 0.2);
  EXPECT_NEAR(bench.voltage("2y"), 1.2, 0.2);
  EXPECT_NEAR(bench.voltage("3y") - 12, 1.3, 0.2);  // open, and pushed against its clamps
  EXPECT_NEAR(-bench.voltage("4y"), 1.3, 0.2);
}

}  // namespace
}  // namespace tiepoint
