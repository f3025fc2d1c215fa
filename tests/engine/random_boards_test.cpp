// Boards built of anything, anyhow (tests/random/boards.h), are solved, and what is told of them obeys Kirchhoff's laws.
// tests/random/run does the same with thousands.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <string>

#include "engine/circuit/wiring.h"
#include "engine/file/json.h"
#include "engine/parts/part_type.h"
#include "engine/solver/simulation.h"
#include "tests/random/boards.h"
#include "tests/random/verdict.h"

namespace tiepoint {
namespace {

class RandomBoard : public testing::TestWithParam<uint64_t> {};

TEST_P(RandomBoard, SettlesAndObeysKirchhoff) {
  const Board board = random_boards::draw(GetParam());
  const Circuit circuit = extract(board, wire_up(board));
  const Solution solution = solve_operating_point(circuit);
  ASSERT_TRUE(solution.ok()) << text(*solution.error);
  EXPECT_EQ(random_boards::judge(circuit, solution).wrong, "");
}

TEST_P(RandomBoard, GoesOnFromEmpty) {
  const Board board = random_boards::draw(GetParam());
  const Circuit circuit = extract(board, wire_up(board));
  Simulation simulation(circuit);
  simulation.start_from_initial_conditions();
  EXPECT_NEAR(simulation.advance(1e-3), 1e-3, 1e-12);
  ASSERT_TRUE(simulation.solution().ok()) << text(*simulation.solution().error);
  EXPECT_EQ(random_boards::judge(circuit, simulation.solution()).wrong, "");
}

// The first few, and those that were not solved, or wrongly, at some time.
INSTANTIATE_TEST_SUITE_P(Seeds, RandomBoard,
                         testing::Values(1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 1000049, 1000126, 1000309, 1000375, 1000415,
                                         1001246, 1001564, 1004614, 1013032, 1017963));

// The circuit of a board in tests/random/kept; one that cannot be read ends the test program.
Circuit kept(const std::string& name) {
  std::ifstream file(std::string(TIEPOINT_SOURCE) + "/tests/random/kept/" + name + ".board.json");
  std::stringstream content;
  content << file.rdbuf();
  const Result<Board> board = read_board(content.str(), catalogue());
  if (!board.ok()) std::fprintf(stderr, "%s: %s\n", name.c_str(), text(board.error()).c_str()), std::abort();
  return extract(*board, wire_up(*board));
}

void expect_lawful(const std::string& name, const Circuit& circuit, const Solution& solution) {
  ASSERT_TRUE(solution.ok()) << name << ": " << text(*solution.error);
  EXPECT_EQ(random_boards::judge(circuit, solution).wrong, "") << name;
}

void expect_settled(const std::string& name) {
  const Circuit circuit = kept(name);
  expect_lawful(name, circuit, solve_operating_point(circuit));
}

// From empty to `end` [s] in at most so many steps. Returns the voltage of each node.
std::vector<double> expect_to_reach(const std::string& name, double end, long steps) {
  const Circuit circuit = kept(name);
  Simulation simulation(circuit);
  simulation.start_from_initial_conditions();
  EXPECT_EQ(simulation.advance(end, &steps), end) << name;
  expect_lawful(name, circuit, simulation.solution());
  return simulation.solution().node_voltage;
}

// Boards that had no beginning: the start is made finer until the fastest charges count, and there was none so fine.
TEST(KeptBoard, BeginsAsFinelyAsItCan) {
  for (const char* name : {"no-finer-start-of-a-transistor", "no-finer-start-of-a-gate"}) expect_to_reach(name, 1e-4, StepBudget().max_steps);
}

// A source whose metal only open contacts join to a relay's: the voltage there was wrong in the second digit, differently with every length
// of a step, and no step was short enough for the error control.
TEST(KeptBoard, MetalBehindOpenContactsHoldsUpNoTime) {
  expect_to_reach("metal-behind-open-contacts", 1e-3, 100000);
}

// A state whose linearisation says that it is left within nanoseconds, and that is not left: it was waited for with steps shorter than that for
// good, or, where there is no voltage at all to grow, begun anew after each step. A few hundred steps are enough for either.
TEST(KeptBoard, WhatDoesNotLeaveItsBalanceIsLeftAlone) {
  for (const char* name : {"not-leaving-its-balance", "no-voltage-to-grow"}) expect_to_reach(name, 0.02, 5000);
}

// A supply with one lead in the air: of all it is joined to only a capacitor leads on. The equation that gives way to its charge was that of
// an open transistor leg, and what was left told the voltage by the rounding of a sum alone.
TEST(KeptBoard, ASupplyThatOnlyACapacitorTiesDownIsSettled) {
  expect_settled("supply-afloat-behind-a-capacitor");
}

// A base that only a junction which does not conduct joins to the rest: once all currents are right no step of Newton's can be worked out for
// it, and none is needed.
TEST(KeptBoard, MetalBehindAJunctionThatDoesNotConductIsSettled) {
  expect_settled("base-behind-an-open-contact");
}

// A lit phototransistor that next to nothing joins to the rest. What the rounding of its charges makes of its voltage is the more the shorter
// a step is: taken for an error, it made steps of picoseconds for good. Each takes less than a hundred steps now. The last one, a panel of solar
// cells that only a chip without a supply joins to 0 V, takes some thousands: rounding moves it by more at every iteration than Newton's method
// waited for.
TEST(KeptBoard, RoundingIsNoErrorOfAStep) {
  for (const char* name : {"light-on-a-transistor-in-the-air", "light-on-a-transistor-at-two-inputs", "light-on-a-transistor-at-one-output",
                           "panel-behind-an-unfed-chip"})
    expect_to_reach(name, 0.02, 50000);
}

// A supply that only an op-amp's input joins to 0 V: the bias current drove the two apart to 2,000 V, and on the way there no step was found.
TEST(KeptBoard, ASupplyBehindAnInputStaysNearIt) {
  for (const double voltage : expect_to_reach("supply-behind-an-input", 0.02, 5000)) EXPECT_LE(std::fabs(voltage), 6);
}

// Boards whose currents did not sum to zero where they were told: after a step so short that no rate of charge was looked for, after a
// restart whose rate was not that of the fastest charges, and where a restart had put junctions off their curves. What is told is made exact; how it goes on is the same whether it is told or not.
TEST(KeptBoard, ObeysKirchhoffWhereverItIsTold) {
  for (const char* name : {"no-rate-after-a-short-step", "no-rate-after-a-restart", "no-rate-in-the-middle-of-a-fall"}) {
    const Circuit circuit = kept(name);
    Simulation told(circuit), untold(circuit);
    for (Simulation* simulation : {&told, &untold}) simulation->start_from_initial_conditions();
    long steps = 100000, other_steps = 100000;
    told.advance(1e-3, &steps), untold.advance(1e-3, &other_steps);
    ASSERT_TRUE(told.solution().ok()) << name << ": " << text(*told.solution().error);
    EXPECT_EQ(random_boards::judge(circuit, told.solution()).wrong, "") << name;
    steps = other_steps = 1000;
    EXPECT_EQ(told.advance(1.1e-3, &steps), untold.advance(1.1e-3, &other_steps)) << name;
    EXPECT_EQ(steps, other_steps) << name;
  }
}

}  // namespace
}  // namespace tiepoint
