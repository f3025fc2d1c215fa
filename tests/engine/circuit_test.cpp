#include "engine/circuit/circuit.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "engine/parts/part_type.h"
#include "tests/engine/build_board.h"

namespace tiepoint {
namespace {

Circuit extract(const Board& board) { return extract(board, wire_up(board)); }

// Same bits, NaN included.
bool same(const std::vector<double>& a, const std::vector<double>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](double x, double y) { return x == y || (std::isnan(x) && std::isnan(y)); });
}

// What must hold of the extract of any board: every index leads back to where it came from.
void expect_round_trip(const Board& board) {
  const Wiring wiring = wire_up(board);
  const Circuit circuit = extract(board, wiring);
  ASSERT_EQ(circuit.node_origin.size(), size_t(circuit.node_count));
  ASSERT_EQ(circuit.node_name.size(), size_t(circuit.node_count));
  ASSERT_EQ(circuit.element_name.size(), circuit.elements.size());
  ASSERT_EQ(circuit.node_of_piece.size(), size_t(wiring.strip_count));
  ASSERT_EQ(circuit.first_element_of_part.size(), board.parts.size() + 1);
  for (NodeIndex node = 0; node < circuit.node_count; ++node) {
    const NodeOrigin origin = circuit.node_origin[size_t(node)];
    EXPECT_FALSE(circuit.node_name[size_t(node)].empty());
    if (origin.strip >= 0) {
      EXPECT_EQ(origin.part, -1);
      EXPECT_EQ(circuit.node_of_piece[size_t(origin.strip)], node);
    } else {
      ASSERT_GE(origin.part, 0);
      EXPECT_LT(origin.inner, type_of(board.parts[size_t(origin.part)]).inner_nodes);
    }
  }
  std::vector<int> seen(circuit.terminals.size(), 0);
  for (size_t p = 0; p < board.parts.size(); ++p) {
    for (int e = circuit.first_element_of_part[p]; e < circuit.first_element_of_part[p + 1]; ++e)
      EXPECT_EQ(circuit.elements[size_t(e)].part, int(p));
    for (size_t lead = 0; lead < board.parts[p].leads.size(); ++lead)
      for (int terminal : circuit.lead_terminals(int(p), int(lead))) {
        // A lead's terminals sit on the node of the strip the lead is in.
        EXPECT_EQ(circuit.terminals[size_t(terminal)], circuit.node_of_piece[size_t(wiring.strip_of_lead[p][lead])]);
        ++seen[size_t(terminal)];
      }
  }
  for (size_t t = 0; t < seen.size(); ++t) {
    const NodeOrigin origin = circuit.node_origin[size_t(circuit.terminals[t])];
    EXPECT_EQ(seen[t], origin.strip >= 0 ? 1 : 0) << "terminal " << t;  // inner ends belong to no lead
  }
  for (NodeIndex node : circuit.references) EXPECT_GE(circuit.node_origin[size_t(node)].strip, 0);
}

TEST(Circuit, EmptyBoardIsAnEmptyCircuit) {
  for (LayoutKind kind : {LayoutKind::k170, LayoutKind::k400, LayoutKind::k830}) {
    const Circuit circuit = extract(BoardBuilder(kind).board);
    EXPECT_EQ(circuit.node_count, 0);
    EXPECT_TRUE(circuit.elements.empty());
    EXPECT_TRUE(circuit.references.empty());
    expect_round_trip(BoardBuilder(kind).board);
  }
}

TEST(Circuit, OneButtonBoardLeadsBack) { expect_round_trip(one_button().board); }

TEST(Circuit, EveryKindLeadsBackSeatedOrInTheAir) {
  BoardBuilder b(LayoutKind::k830);
  b.add("usb-supply", "PS1", {"top+1", "top-1"})
      .add("battery-pack", "BAT1", {"bottom+1", ""})
      .add("jumper-wire", "W1", {"top+2", "a1"});
  b.add("resistor", "R1", {"b1", "b6"})
      .add("led", "LED1", {"c6", "c7"})
      .add("diode", "D1", {"a10", "a15"})
      .add("push-button", "S1", {"e20"});
  b.add("slide-switch", "S2", {"a30"})
      .add("ceramic-capacitor", "C1", {"a40", "a41"})
      .add("electrolytic-capacitor", "C2", {"a45", "a46"});
  expect_round_trip(b.board);
  for (Part& part : b.board.parts) part.leads.assign(part.leads.size(), Hole{});
  expect_round_trip(b.board);
}

TEST(Circuit, OnlyTouchedStripsAreNodes) {
  BoardBuilder b;
  b.add("resistor", "R1", {"a1", "a5"});
  const Circuit circuit = extract(b.board);
  EXPECT_EQ(circuit.node_count, 2);
  EXPECT_EQ(circuit.elements.size(), 1u);
  EXPECT_EQ(circuit.node_name, (std::vector<std::string>{"a1", "a5"}));
  EXPECT_EQ(circuit.element_name[0], "R1");
}

TEST(Circuit, BothLeadsInOneStripShareANode) {
  BoardBuilder b;
  b.add("led", "LED1", {"a3", "b3"});
  const Circuit circuit = extract(b.board);
  EXPECT_EQ(circuit.node_count, 1);
  for (NodeIndex node : circuit.terminals) EXPECT_EQ(node, 0);
  expect_round_trip(b.board);
}

TEST(Circuit, ButtonLegsOfAPairAreJoinedByMetalWithResistance) {
  BoardBuilder b;
  b.add("push-button", "S1", {"e5"});
  const Circuit circuit = extract(b.board);
  EXPECT_EQ(circuit.node_count, 6);  // four strips, two pieces of metal
  EXPECT_EQ(circuit.elements.size(), 5u);
  for (const Element& e : circuit.elements)
    if (e.kind == ElementKind::kResistor) EXPECT_GT(circuit.values(e)[0], 0);
}

TEST(Circuit, SupplyLeadIsTheZeroOfItsGroup) {
  const BoardBuilder b = one_button();
  const Wiring wiring = wire_up(b.board);
  const Circuit circuit = extract(b.board, wiring);
  ASSERT_EQ(circuit.references.size(), 1u);
  EXPECT_EQ(circuit.references[0], circuit.node_of_piece[size_t(strip_of(b.board, wiring, b.at("top-1")))]);
}

TEST(Circuit, GroupWithoutSupplyHasNoZero) {
  BoardBuilder b;
  b.add("resistor", "R1", {"a1", "a5"}).add("led", "LED1", {"b5", "b6"});
  EXPECT_TRUE(extract(b.board).references.empty());
}

TEST(Circuit, TwoIslandsHaveAZeroEach) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"}).add("resistor", "R1", {"a5", "a10"});
  b.add("jumper-wire", "W1", {"top+5", "b5"}).add("jumper-wire", "W2", {"top-10", "b10"});
  b.add("battery-pack", "BAT1", {"bottom+1", "bottom-1"}).add("resistor", "R2", {"j15", "j20"});
  b.add("jumper-wire", "W3", {"bottom+15", "i15"}).add("jumper-wire", "W4", {"bottom-20", "i20"});
  const Circuit circuit = extract(b.board);
  EXPECT_EQ(circuit.references.size(), 2u);
  int groups = 0;
  const std::vector<int> group = galvanic_groups(circuit, &groups);
  EXPECT_EQ(groups, 2);
  EXPECT_NE(group[size_t(circuit.references[0])], group[size_t(circuit.references[1])]);
}

TEST(Circuit, JoinedSuppliesShareTheZeroOfTheFirst) {
  BoardBuilder b;
  b.add("battery-pack", "BAT1", {"bottom+1", "bottom-1"}).add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("jumper-wire", "W1", {"top-5", "bottom-5"});
  const Wiring wiring = wire_up(b.board);
  const Circuit circuit = extract(b.board, wiring);
  ASSERT_EQ(circuit.references.size(), 1u);
  EXPECT_EQ(circuit.references[0], circuit.node_of_piece[size_t(strip_of(b.board, wiring, b.at("bottom-1")))]);
}

TEST(Circuit, SupplyWithItsLeadsInTheAirIsAnIsland) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"", ""});
  const Circuit circuit = extract(b.board);
  EXPECT_EQ(circuit.node_count, 2);
  EXPECT_EQ(circuit.references.size(), 1u);
}

TEST(Circuit, SupplyWithBothLeadsInOneRailIsExtracted) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top+2"});
  const Circuit circuit = extract(b.board);
  EXPECT_EQ(circuit.node_count, 1);
  EXPECT_EQ(circuit.references, std::vector<NodeIndex>{0});
  expect_round_trip(b.board);
}

TEST(Circuit, HiddenCrackCutsTheRailInTheCircuitAndNowhereElse) {
  BoardBuilder whole, cracked;
  cracked.board.breadboards[0].cracks[size_t(Rail::kTopPlus)] = Crack::kHidden;
  for (BoardBuilder* b : {&whole, &cracked}) {
    b->add("usb-supply", "PS1", {"top+1", "top-1"});
    b->add("resistor", "R1", {"top+15", "a5"});   // the last hole before the cut of a half board
    b->add("resistor", "R2", {"top+16", "a9"});
    b->add("jumper-wire", "W1", {"top+2", "top+25"});
  }
  const Wiring wiring = wire_up(cracked.board), good = wire_up(whole.board);
  EXPECT_EQ(wiring.net_of_strip, good.net_of_strip);
  EXPECT_EQ(cracked.board.clip_of(cracked.at("top+1")).size(), 25u);
  EXPECT_NE(piece_of(cracked.board, wiring, cracked.at("top+15")), piece_of(cracked.board, wiring, cracked.at("top+16")));
  EXPECT_EQ(piece_of(whole.board, good, whole.at("top+15")), piece_of(whole.board, good, whole.at("top+16")));
  const Circuit circuit = extract(cracked.board, wiring);
  EXPECT_EQ(circuit.node_count, extract(whole.board, good).node_count + 1);
  const auto node = [&](int part, int lead) { return circuit.node_of_lead[size_t(circuit.first_lead_of_part[size_t(part)] + lead)]; };
  EXPECT_EQ(node(0, 0), node(1, 0));
  EXPECT_NE(node(1, 0), node(2, 0));
  EXPECT_EQ(node(3, 1), node(2, 0)) << "the wire lies over the crack";
  EXPECT_EQ(node(3, 0), node(0, 0));
  expect_round_trip(whole.board);
}

TEST(Circuit, GroupsAreNumberedByTheirFirstNode) {
  BoardBuilder b;
  b.add("resistor", "R3", {"a20", "a25"}).add("resistor", "R2", {"a10", "a15"}).add("resistor", "R1", {"b25", "b30"});
  const Circuit circuit = extract(b.board);
  // Nodes in strip order: a10, a15, a20, a25, a30.
  EXPECT_EQ(galvanic_groups(circuit), (std::vector<int>{0, 0, 1, 1, 1}));
}

TEST(Circuit, RefreshedValuesEqualAFreshExtract) {
  BoardBuilder b = one_button();
  b.add("slide-switch", "S2", {"g20"}).add("electrolytic-capacitor", "C1", {"j1", "j2"}).add("battery-pack", "BAT1", {"", ""});
  Circuit circuit = extract(b.board);
  for (size_t p = 0; p < b.board.parts.size(); ++p) {
    Part& part = b.board.parts[p];
    for (size_t v = 0; v < part.values.size(); ++v) {
      const ValueSpec& spec = part.kind->values[v];
      for (double value : {spec.minimum, spec.maximum, spec.standard, spec.maximum}) {
        part.values[v] = value;
        ASSERT_TRUE(refresh_values(circuit, b.board, int(p))) << part.name << " " << spec.key;
        const Circuit fresh = extract(b.board);
        EXPECT_TRUE(same(circuit.parameters, fresh.parameters)) << part.name << " " << spec.key;
        EXPECT_EQ(circuit.terminals, fresh.terminals);
      }
    }
  }
}

TEST(Circuit, RefreshRefusesAnotherStructure) {
  BoardBuilder b = one_button();
  Circuit circuit = extract(b.board);
  const std::vector<double> before = circuit.parameters;
  EXPECT_FALSE(refresh_values(circuit, b.board, -1));
  EXPECT_FALSE(refresh_values(circuit, b.board, int(b.board.parts.size())));
  b.board.parts[size_t(b.part("R1"))] = make_part(*catalogue().find("push-button"));
  EXPECT_FALSE(refresh_values(circuit, b.board, 3));
  b.add("resistor", "R2", {"j1", "j5"});
  EXPECT_FALSE(refresh_values(circuit, b.board, 0));
  EXPECT_TRUE(same(circuit.parameters, before));
}

TEST(Circuit, ElementNamesAreUnique) {
  const Circuit circuit = extract(one_button().board);
  const std::set<std::string> names(circuit.element_name.begin(), circuit.element_name.end());
  EXPECT_EQ(names.size(), circuit.element_name.size());
  EXPECT_TRUE(names.count("R1"));
  EXPECT_TRUE(names.count("S1#5"));
}

TEST(Circuit, MovingAPartLeavesTheOthersElementsAlone) {
  BoardBuilder b = one_button();
  const Circuit before = extract(b.board);
  b.board.parts[size_t(b.part("LED1"))].leads = {b.at("g20"), b.at("g21")};
  const Circuit after = extract(b.board);
  EXPECT_EQ(before.element_name, after.element_name);
  EXPECT_TRUE(same(before.parameters, after.parameters));
}

}  // namespace
}  // namespace tiepoint
