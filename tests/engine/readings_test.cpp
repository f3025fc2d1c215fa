#include "engine/readings/readings.h"

#include <gtest/gtest.h>

#include <cmath>

#include "engine/solver/simulation.h"
#include "tests/engine/build_board.h"

namespace tiepoint {
namespace {

// A board with a solution written by hand: node voltages are given by hole, currents of resistors follow from them, and the
// supply carries what is left at its nodes.
struct HandSolved {
  const Board& board;
  Wiring wiring;
  Circuit circuit;
  Solution solution;

  explicit HandSolved(const Board& b) : board(b), wiring(wire_up(b)), circuit(extract(b, wiring)) {
    solution.node_voltage.assign(size_t(circuit.node_count), 0);
    solution.voltage_rate.assign(size_t(circuit.node_count), 0);
    solution.terminal_current.assign(circuit.terminals.size(), 0);
  }

  NodeIndex node(std::string_view hole) const {
    return circuit.node_of_piece[size_t(strip_of(board, wiring, *board.hole(hole)))];
  }
  void volts(std::string_view hole, double v) { solution.node_voltage[size_t(node(hole))] = v; }

  void pass_currents() {
    std::vector<double> into_node(size_t(circuit.node_count), 0);
    for (const Element& element : circuit.elements) {
      if (element.kind != ElementKind::kResistor) continue;
      const std::span<const NodeIndex> nodes = circuit.nodes(element);
      const double i =
          (solution.node_voltage[size_t(nodes[0])] - solution.node_voltage[size_t(nodes[1])]) / circuit.values(element)[0];
      solution.terminal_current[size_t(element.first_terminal)] = i;
      solution.terminal_current[size_t(element.first_terminal) + 1] = -i;
      into_node[size_t(nodes[0])] -= i;
      into_node[size_t(nodes[1])] += i;
    }
    for (const Element& element : circuit.elements)
      if (element.kind == ElementKind::kLimitedSupply) {
        const double i = into_node[size_t(circuit.nodes(element)[0])];
        solution.terminal_current[size_t(element.first_terminal)] = i;
        solution.terminal_current[size_t(element.first_terminal) + 1] = -i;
      }
  }

  Readings take() const { return take_readings(board, wiring, circuit, solution); }
};

// 5 V over 330 ohm, straight from the rails.
BoardBuilder resistor_on_rails() {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"}).add("jumper-wire", "W1", {"top+2", "a5"}).add("resistor", "R1", {"b5", "b10"});
  b.add("jumper-wire", "W2", {"a10", "top-10"});
  return b;
}

TEST(Readings, VoltagesAndCurrentsReachTheParts) {
  const BoardBuilder b = resistor_on_rails();
  HandSolved s(b.board);
  s.volts("top+1", 4.996);
  s.volts("a5", 4.995);
  s.volts("a10", 0.001);
  s.volts("top-1", 0);
  s.pass_currents();
  const Readings r = s.take();
  const PartReading& resistor = r.parts[size_t(b.part("R1"))];
  EXPECT_DOUBLE_EQ(resistor.voltage, 4.994);
  EXPECT_NEAR(resistor.current, 4.994 / 330.04, 1e-12);
  EXPECT_NEAR(resistor.power, 4.994 * 4.994 / 330.04, 1e-12);
  EXPECT_EQ(resistor.state, State::kCarrying);
  EXPECT_DOUBLE_EQ(resistor.lead_current[0], -resistor.lead_current[1]);
  EXPECT_DOUBLE_EQ(resistor.lead_voltage[1], 0.001);
  const PartReading& wire = r.parts[size_t(b.part("W1"))];
  const PartReading& supply = r.parts[size_t(b.part("PS1"))];
  EXPECT_DOUBLE_EQ(supply.current, wire.current);
  EXPECT_EQ(supply.state, State::kOn);
  EXPECT_LT(supply.power, 0);
  EXPECT_DOUBLE_EQ(voltage_at(b.board, s.wiring, r, b.at("e5")), 4.995);
}

TEST(Readings, NetVoltageIsTheMeanAndItsSpreadTheDropInTheWires) {
  const BoardBuilder b = resistor_on_rails();
  HandSolved s(b.board);
  s.volts("top+1", 5.0);
  s.volts("a5", 4.8);
  const Readings r = s.take();
  const size_t net = size_t(net_of(b.board, s.wiring, b.at("top+1")));
  EXPECT_DOUBLE_EQ(r.net_voltage[net], 4.9);
  EXPECT_NEAR(r.net_spread[net], 0.2, 1e-12);
}

TEST(Readings, StripsThatNothingTouchesHaveNoReadingAndNoIsland) {
  const BoardBuilder b = resistor_on_rails();
  const HandSolved s(b.board);
  const Readings r = s.take();
  const size_t strip = size_t(strip_of(b.board, s.wiring, b.at("a29")));
  EXPECT_TRUE(std::isnan(r.strip_voltage[strip]));
  EXPECT_EQ(r.strip_island[strip], -1);
  EXPECT_TRUE(std::isnan(r.net_voltage[size_t(net_of(b.board, s.wiring, b.at("a29")))]));
  EXPECT_TRUE(std::isnan(voltage_at(b.board, s.wiring, r, b.at("a29"))));
  EXPECT_TRUE(std::isnan(voltage_at(b.board, s.wiring, r, Hole{})));
}

TEST(Readings, GroupWithoutSupplyHasNoReading) {
  BoardBuilder b = resistor_on_rails();
  b.add("resistor", "R2", {"j20", "j25"}).add("led", "LED1", {"i25", "i26"}).add("push-button", "S1", {"e27"});
  HandSolved s(b.board);
  s.volts("j20", 3);  // whatever a solver might have left there
  const Readings r = s.take();
  for (const char* name : {"R2", "LED1"}) {
    const PartReading& part = r.parts[size_t(b.part(name))];
    EXPECT_TRUE(std::isnan(part.voltage)) << name;
    EXPECT_TRUE(std::isnan(part.current)) << name;
    EXPECT_TRUE(std::isnan(part.lead_voltage[0])) << name;
    EXPECT_TRUE(std::isnan(part.lead_current[0])) << name;
    EXPECT_EQ(part.state, State::kUnknown) << name;
  }
  EXPECT_EQ(r.parts[size_t(b.part("S1"))].state, State::kOpen);
  EXPECT_TRUE(std::isnan(voltage_at(b.board, s.wiring, r, b.at("j20"))));
}

TEST(Readings, IslandsAreTold) {
  BoardBuilder b = resistor_on_rails();
  b.add("resistor", "R2", {"j20", "j25"});
  const HandSolved s(b.board);
  const Readings r = s.take();
  const auto island = [&](std::string_view hole) { return r.strip_island[size_t(strip_of(b.board, s.wiring, b.at(hole)))]; };
  EXPECT_EQ(island("top+1"), island("a10"));
  EXPECT_EQ(island("j20"), island("j25"));
  EXPECT_NE(island("top+1"), island("j20"));
}

TEST(Readings, FailedSolveGivesNoNumbersAtAll) {
  const BoardBuilder b = one_button();
  HandSolved s(b.board);
  s.solution.error = Error{.code = Code::kNoSolution, .part = "LED1", .found = "a12"};
  const Readings r = s.take();
  ASSERT_TRUE(r.error);
  EXPECT_EQ(r.error->code, Code::kNoSolution);
  for (double v : r.strip_voltage) EXPECT_TRUE(std::isnan(v));
  for (double v : r.net_voltage) EXPECT_TRUE(std::isnan(v));
  for (const PartReading& part : r.parts) {
    EXPECT_TRUE(std::isnan(part.voltage));
    EXPECT_TRUE(std::isnan(part.current));
    EXPECT_TRUE(std::isnan(part.power));
    EXPECT_EQ(part.brightness, 0);
    for (double i : part.lead_current) EXPECT_TRUE(std::isnan(i));
  }
}

TEST(Readings, NodeWithoutReadingStaysWithoutOne) {
  const BoardBuilder b = resistor_on_rails();
  HandSolved s(b.board);
  s.volts("a10", kNoReading);
  const Readings r = s.take();
  EXPECT_TRUE(std::isnan(voltage_at(b.board, s.wiring, r, b.at("a10"))));
  EXPECT_EQ(r.parts[size_t(b.part("R1"))].state, State::kUnknown);
  EXPECT_FALSE(std::isnan(voltage_at(b.board, s.wiring, r, b.at("a5"))));
}

TEST(Readings, EmptyBoardHasNothingToRead) {
  const BoardBuilder b;
  const Readings r = HandSolved(b.board).take();
  EXPECT_TRUE(r.parts.empty());
  EXPECT_FALSE(r.error);
  for (double v : r.strip_voltage) EXPECT_TRUE(std::isnan(v));
}

// A button's pair carries the current of both its legs; the sums come from all element terminals at each lead.
TEST(Readings, ButtonCurrentIsTheSumOfItsPair) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"})
      .add("jumper-wire", "W1", {"top+3", "a5"})
      .add("jumper-wire", "W2", {"bottom+3", "j5"});
  b.add("push-button", "S1", {"e5"}).set("pressed", 1);
  b.add("jumper-wire", "W3", {"top+9", "bottom+9"}).add("jumper-wire", "W4", {"a7", "top-7"});
  HandSolved s(b.board);
  const int button = b.part("S1");
  // 1 mA into each leg of the first pair, 2 mA out of lead 3.
  s.solution.terminal_current[size_t(s.circuit.lead_terminals(button, 0)[0])] = 0.001;
  s.solution.terminal_current[size_t(s.circuit.lead_terminals(button, 1)[0])] = 0.001;
  s.solution.terminal_current[size_t(s.circuit.lead_terminals(button, 2)[0])] = -0.002;
  const Readings r = s.take();
  EXPECT_DOUBLE_EQ(r.parts[size_t(button)].current, 0.002);
  EXPECT_EQ(r.parts[size_t(button)].state, State::kClosed);
}

// ---- The whole way, from holes to light.

Readings solve(const Board& board) {
  const Wiring wiring = wire_up(board);
  const Circuit circuit = extract(board, wiring);
  return take_readings(board, wiring, circuit, solve_operating_point(circuit));
}

TEST(Readings, PressedButtonLightsTheLed) {
  BoardBuilder b = one_button();
  b.board.parts[size_t(b.part("S1"))].values[0] = 1;
  const Readings r = solve(b.board);
  ASSERT_FALSE(r.error);
  const PartReading& led = r.parts[size_t(b.part("LED1"))];
  EXPECT_EQ(led.state, State::kLit);
  EXPECT_NEAR(led.current, 9.4e-3, 0.2e-3);  // (5 V - 1.88 V) / 330 ohm
  double around = 0, power = 0;
  for (const PartReading& part : r.parts) {
    power += part.power;
    EXPECT_NEAR(part.current, led.current, 1e-9);  // one loop, one current (10 gigohm and 10 megohm leaks aside)
  }
  for (const char* name : {"W1", "S1", "R1", "LED1", "W2"}) around += r.parts[size_t(b.part(name))].voltage;
  EXPECT_NEAR(around, r.parts[size_t(b.part("PS1"))].voltage, 1e-9);
  EXPECT_NEAR(power, 0, 1e-9);
}

TEST(Readings, OpenButtonLeavesTheLedDarkAtAFewMillivolts) {
  const BoardBuilder b = one_button();
  const Readings r = solve(b.board);
  ASSERT_FALSE(r.error);
  const PartReading& led = r.parts[size_t(b.part("LED1"))];
  EXPECT_EQ(led.state, State::kDark);
  EXPECT_LT(std::abs(led.voltage), 0.01);
  EXPECT_EQ(r.parts[size_t(b.part("R1"))].state, State::kIdle);
  EXPECT_NEAR(r.parts[size_t(b.part("S1"))].voltage, 5, 0.01);
}

TEST(Readings, LedTurnedRoundIsReversed) {
  BoardBuilder b = one_button();
  b.board.parts[size_t(b.part("S1"))].values[0] = 1;
  std::swap(b.board.parts[size_t(b.part("LED1"))].leads[0], b.board.parts[size_t(b.part("LED1"))].leads[1]);
  const Readings r = solve(b.board);
  ASSERT_FALSE(r.error);
  EXPECT_EQ(r.parts[size_t(b.part("LED1"))].state, State::kReversed);
  EXPECT_EQ(r.parts[size_t(b.part("LED1"))].brightness, 0);
}

TEST(Readings, SupplySwitchedOffLeavesZeroVoltEverywhere) {
  BoardBuilder b = one_button();
  b.board.parts[size_t(b.part("S1"))].values[0] = 1;
  b.board.parts[size_t(b.part("PS1"))].values[0] = 0;
  const Readings r = solve(b.board);
  ASSERT_FALSE(r.error);
  for (const char* hole : {"top+1", "a5", "a7", "a12", "a13"})
    EXPECT_NEAR(voltage_at(b.board, wire_up(b.board), r, b.at(hole)), 0, 1e-6) << hole;
  EXPECT_EQ(r.parts[size_t(b.part("PS1"))].state, State::kOff);
  EXPECT_EQ(r.parts[size_t(b.part("LED1"))].state, State::kDark);
}

TEST(Readings, ShortedSupplyDeliversItsLimit) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"}).add("jumper-wire", "W1", {"top+5", "top-6"});
  const Readings r = solve(b.board);
  ASSERT_FALSE(r.error);
  EXPECT_EQ(r.parts[0].state, State::kAtLimit);
  EXPECT_NEAR(r.parts[0].current, 0.5, 0.001);
}

// Both buttons of a series pair, either of a parallel pair: AND and OR (common practice, no source).
TEST(Readings, ButtonsInSeriesAreAndInParallelAreOr) {
  for (const bool parallel : {false, true})
    for (const int pressed : {0, 1, 2, 3}) {
      BoardBuilder b;
      b.add("usb-supply", "PS1", {"top+1", "top-1"}).add("jumper-wire", "W1", {"top+5", "a5"});
      b.add("push-button", "S1", {"e5"}).set("pressed", pressed & 1);
      b.add("push-button", "S2", {"e9"}).set("pressed", pressed >> 1);
      if (parallel) b.add("jumper-wire", "W2", {"b5", "b9"}).add("jumper-wire", "W3", {"a7", "a11"});
      if (!parallel) b.add("jumper-wire", "W2", {"a7", "a9"});
      b.add("resistor", "R1", {"d11", "d16"}).add("led", "LED1", {"c16", "c17"}).add("jumper-wire", "W4", {"a17", "top-17"});
      const Readings r = solve(b.board);
      ASSERT_FALSE(r.error);
      const bool lit = r.parts[size_t(b.part("LED1"))].state == State::kLit;
      EXPECT_EQ(lit, parallel ? pressed != 0 : pressed == 3) << (parallel ? "parallel " : "series ") << pressed;
    }
}

}  // namespace
}  // namespace tiepoint
