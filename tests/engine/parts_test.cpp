#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "engine/devices/contact.h"
#include "engine/devices/model.h"
#include "engine/parts/families.h"
#include "engine/parts/led.h"
#include "engine/parts/marking.h"
#include "engine/parts/part_type.h"
#include "tests/engine/build_board.h"

namespace tiepoint {
namespace {

// A kind's options, and its smallest, usual and largest numbers, in every combination; where that would be very many (the knobs of an
// oscilloscope), each value by itself.
std::vector<Part> variants(const PartKind& kind) {
  constexpr size_t kMost = 20000;
  std::vector<std::vector<double>> choices;
  size_t combinations = 1;
  for (const ValueSpec& spec : kind.values) {
    choices.push_back({spec.minimum, spec.standard, spec.maximum});
    for (size_t i = 0; i < spec.options.size(); ++i) choices.back().push_back(double(i));
    combinations = std::min(combinations * choices.back().size(), kMost + 1);
  }
  std::vector<Part> parts = {make_part(kind)};
  for (size_t v = 0; v < kind.values.size(); ++v) {
    std::vector<Part> next;
    for (const Part& part : combinations > kMost ? std::vector<Part>{make_part(kind)} : parts)
      for (double choice : choices[v]) {
        next.push_back(part);
        next.back().values[v] = choice;
      }
    if (combinations > kMost)
      parts.insert(parts.end(), next.begin(), next.end());
    else
      parts = std::move(next);
  }
  return parts;
}

const PartType& type(const PartKind& kind) { return static_cast<const PartType&>(kind); }

ElementList elements_of(const Part& part) {
  ElementList list;
  type_of(part).elements(Board{}, part, list);
  return list;
}

Part part_of(std::string_view kind) { return make_part(*catalogue().find(kind)); }

PartNumbers read_part(const Part& part, std::vector<double> voltage, std::vector<double> current) {
  const std::vector<double> rate(voltage.size(), 0);
  PartNumbers out;
  type_of(part).read(part, {voltage, current, rate}, out);
  return out;
}

TEST(Parts, CatalogueHoldsTheFirstKinds) {
  for (const char* key : {"jumper-wire", "resistor", "led", "diode", "push-button", "slide-switch", "ceramic-capacitor",
                          "electrolytic-capacitor", "usb-supply", "battery-pack"})
    EXPECT_NE(catalogue().find(key), nullptr) << key;
  EXPECT_EQ(catalogue().find("no-such-kind"), nullptr);
}

TEST(Parts, KeysLeadsAndValuesAreUnique) {
  std::set<std::string_view> keys;
  for (const PartKind* kind : catalogue().kinds) {
    EXPECT_TRUE(keys.insert(kind->key).second) << kind->key;
    std::set<std::string_view> leads, values;
    for (const LeadSpec& lead : kind->leads) EXPECT_TRUE(leads.insert(lead.name).second) << kind->key;
    for (const ValueSpec& value : kind->values) EXPECT_TRUE(values.insert(value.key).second) << kind->key;
  }
}

TEST(Parts, EveryKindIsComplete) {
  for (const PartKind* kind : catalogue().kinds) {
    SCOPED_TRACE(kind->key);
    EXPECT_FALSE(kind->prefix.empty());
    if (kind->key != "note") EXPECT_GE(kind->leads.size(), 2u);  // paper
    EXPECT_FALSE(type(*kind).group.empty());
    EXPECT_FALSE(type(*kind).search.empty());
    EXPECT_NE(type(*kind).elements, nullptr);
    EXPECT_NE(type(*kind).ratings, nullptr);
    EXPECT_NE(type(*kind).read, nullptr);
    EXPECT_LT(type(*kind).reference_lead, int(kind->leads.size()));
    EXPECT_LE(kind->footprint.reach_min, kind->footprint.reach_max);
  }
}

TEST(Parts, StandardValuesFitTheirOwnRange) {
  for (const PartKind* kind : catalogue().kinds)
    for (size_t v = 0; v < kind->values.size(); ++v) {
      const ValueSpec& spec = kind->values[v];
      EXPECT_TRUE(check_value(*kind, int(v), spec.standard).ok()) << kind->key << " " << spec.key;
      EXPECT_TRUE(spec.options.empty() || spec.maximum == double(spec.options.size() - 1)) << kind->key << " " << spec.key;
      EXPECT_TRUE(spec.series == 0 || !e_series(spec.series).empty()) << kind->key << " " << spec.key;
    }
}

TEST(Parts, ZeroOhmIsNoResistor) {
  const PartKind& resistor = *catalogue().find("resistor");
  const int resistance = value_index(resistor, "resistance");
  EXPECT_FALSE(check_value(resistor, resistance, 0).ok());
  EXPECT_FALSE(check_value(resistor, resistance, -1).ok());
  EXPECT_TRUE(check_value(resistor, resistance, 0.1).ok());
  EXPECT_TRUE(check_value(resistor, resistance, 22e6).ok());
  EXPECT_FALSE(check_value(resistor, resistance, 23e6).ok());
}

TEST(Parts, ElementsMatchTheirModelsWhateverTheValues) {
  for (const PartKind* kind : catalogue().kinds)
    for (const Part& part : variants(*kind)) {
      SCOPED_TRACE(kind->key);
      const ElementList list = elements_of(part);
      for (const ElementList::Entry& entry : list.entries) {
        const Model& m = model(entry.kind);
        ASSERT_LE(size_t(entry.parameter_count), m.parameters.size()) << m.name;
        ASSERT_EQ(size_t(entry.terminal_count), m.terminals.size()) << m.name;
        for (size_t k = 0; k < m.parameters.size(); ++k) {
          if (k >= size_t(entry.parameter_count)) {  // left out at the end: there must be a standard
            EXPECT_FALSE(std::isnan(m.parameters[k].standard)) << m.name << " " << m.parameters[k].name;
            continue;
          }
          const double value = list.values(entry)[k];
          if (std::isnan(value)) {  // the board's history decides
            EXPECT_EQ(m.parameters[k].name.substr(0, 8), "initial_") << m.name << " " << m.parameters[k].name;
            continue;
          }
          EXPECT_GE(value, m.parameters[k].minimum) << m.name << " " << m.parameters[k].name;
          EXPECT_LE(value, m.parameters[k].maximum) << m.name << " " << m.parameters[k].name;
        }
        for (int terminal : list.ends(entry)) {
          EXPECT_GE(terminal, 0);
          EXPECT_LT(terminal, int(kind->leads.size()) + type(*kind).inner_nodes);
        }
      }
    }
}

TEST(Parts, ValuesNeverChangeTheStructure) {
  for (const PartKind* kind : catalogue().kinds) {
    const ElementList standard = elements_of(make_part(*kind));
    for (const Part& part : variants(*kind)) {
      const ElementList list = elements_of(part);
      ASSERT_EQ(list.entries.size(), standard.entries.size()) << kind->key;
      EXPECT_EQ(list.terminals, standard.terminals) << kind->key;
      for (size_t e = 0; e < list.entries.size(); ++e) EXPECT_EQ(list.entries[e].kind, standard.entries[e].kind) << kind->key;
    }
  }
}

TEST(Parts, EveryLeadAndInnerNodeIsUsedByAnElement) {
  for (const PartKind* kind : catalogue().kinds) {
    const ElementList list = elements_of(make_part(*kind));
    const std::set<int> used(list.terminals.begin(), list.terminals.end());
    const int leads = int(kind->leads.size());
    for (int terminal = 0; terminal < leads + type(*kind).inner_nodes; ++terminal) {
      // Paper has no elements.
      const bool by_name = kind->key == "note" || (terminal < leads && kind->leads[size_t(terminal)].name == "unused");
      EXPECT_EQ(used.count(terminal), by_name ? 0u : 1u) << kind->key << " " << terminal;
    }
  }
}

TEST(Parts, JunctionsUseTheTemperatureOfTheModels) { EXPECT_EQ(kJunctionThermalVoltage, kThermalVoltage); }

TEST(Parts, NoReadingLeavesNumbersUnknownAndIsNoLight) {
  for (const PartKind* kind : catalogue().kinds) {
    const size_t n = kind->leads.size();
    const PartNumbers out = read_part(make_part(*kind), std::vector<double>(n, kNoReading), std::vector<double>(n, kNoReading));
    SCOPED_TRACE(kind->key);
    EXPECT_FALSE(has_reading(out.voltage));
    EXPECT_FALSE(has_reading(out.current));
    EXPECT_FALSE(has_reading(out.power));
    EXPECT_EQ(out.brightness, 0);
    // A contact stands where it stands, with or without a supply.
    const std::set<State> told = {State::kUnknown, State::kOpen, State::kClosed, State::kOn, State::kOff};
    EXPECT_TRUE(told.count(out.state)) << key(out.state);
  }
}

TEST(Parts, ContactsAndSuppliesTellTheirPositionWithoutAReading) {
  for (const char* kind : {"push-button", "slide-switch", "usb-supply", "battery-pack"}) {
    const Part part = part_of(kind);
    const size_t n = part.leads.size();
    EXPECT_NE(read_part(part, std::vector<double>(n, kNoReading), std::vector<double>(n, kNoReading)).state, State::kUnknown)
        << kind;
  }
}

TEST(Parts, StateKeysAreUnique) {
  std::set<std::string_view> keys;
  for (int s = 0; s <= int(State::kBeingCharged); ++s) EXPECT_TRUE(keys.insert(key(State(s))).second);
  EXPECT_EQ(key(State::kTooBright), "too-bright");
  EXPECT_EQ(key(State::kBeingCharged), "being-charged");
}

TEST(Parts, WireResistanceIsLengthTimesGaugePlusTwoContacts) {
  BoardBuilder b;
  b.add("jumper-wire", "W1", {"a1", "a21"});
  ElementList list;
  type_of(b.board.parts[0]).elements(b.board, b.board.parts[0], list);
  const double expected = (20 * kPitch + 12e-3) * awg_resistance(22) + 2 * kContactResistance;
  EXPECT_NEAR(list.parameters[0], expected, 1e-12);
  b.set("gauge", 6);  // 26
  list.clear();
  type_of(b.board.parts[0]).elements(b.board, b.board.parts[0], list);
  EXPECT_GT(list.parameters[0], expected);
}

TEST(Parts, WireOnTheDiagonalIsAsLongAsItsStraightWay) {
  BoardBuilder b;
  b.add("jumper-wire", "W1", {"a1", "e4"});  // 3 across, 4 down
  ElementList list;
  type_of(b.board.parts[0]).elements(b.board, b.board.parts[0], list);
  EXPECT_NEAR(list.parameters[0], (5 * kPitch + 12e-3) * awg_resistance(22) + 2 * kContactResistance, 1e-12);
}

TEST(Parts, ResistorIsTooHotAboveItsRating) {
  const Part r = part_of("resistor");
  EXPECT_EQ(read_part(r, {5, 0}, {0.049, -0.049}).state, State::kCarrying);
  EXPECT_EQ(read_part(r, {5, 0}, {0.051, -0.051}).state, State::kTooHot);
  EXPECT_EQ(read_part(r, {0, 5}, {-0.051, 0.051}).state, State::kTooHot);
  EXPECT_EQ(read_part(r, {5, 5}, {0, 0}).state, State::kIdle);
  EXPECT_DOUBLE_EQ(read_part(r, {5, 2}, {0.01, -0.01}).power, 0.03);
}

TEST(Parts, LedStatesFollowItsCurrent) {
  const Part led = part_of("led");
  const auto state = [&](double v, double i) { return read_part(led, {v, 0}, {i, -i}).state; };
  EXPECT_EQ(state(0, 0), State::kDark);
  EXPECT_EQ(state(1.4, 1e-6), State::kDark);
  EXPECT_EQ(state(1.7, 0.5e-3), State::kFaint);
  EXPECT_EQ(state(1.9, 10e-3), State::kLit);
  EXPECT_EQ(state(2.0, 20e-3), State::kLit);
  EXPECT_EQ(state(2.2, 30e-3), State::kTooBright);
  EXPECT_EQ(state(-5, -5e-7), State::kReversed);
}

TEST(Parts, LedBrightnessIsOneAtFullCurrentAndNeverNegative) {
  const Part led = part_of("led");
  EXPECT_DOUBLE_EQ(read_part(led, {2, 0}, {kLedFullCurrent, -kLedFullCurrent}).brightness, 1);
  EXPECT_EQ(read_part(led, {-5, 0}, {-5e-7, 5e-7}).brightness, 0);
}

TEST(Parts, ButtonTellsItsContactAndItsOverload) {
  Part button = part_of("push-button");
  EXPECT_EQ(read_part(button, {5, 5, 0, 0}, {0, 0, 0, 0}).state, State::kOpen);
  button.values[0] = 1;
  const PartNumbers pressed = read_part(button, {5, 5, 4.999, 4.999}, {0.01, 0, -0.01, 0});
  EXPECT_EQ(pressed.state, State::kClosed);
  EXPECT_DOUBLE_EQ(pressed.current, 0.01);
  EXPECT_NEAR(pressed.voltage, 0.001, 1e-12);
  EXPECT_EQ(read_part(button, {5, 5, 4.9, 4.9}, {0, 0.06, -0.06, 0}).state, State::kOverloaded);
}

TEST(Parts, SlideSwitchJoinsCommonToTheSideItStandsAt) {
  Part slide = part_of("slide-switch");
  const auto closed = [&](size_t contact) {
    const ElementList list = elements_of(slide);
    return list.values(list.entries[contact])[kContactClosed] != 0;
  };
  EXPECT_TRUE(closed(0));
  EXPECT_FALSE(closed(1));
  slide.values[0] = 1;
  EXPECT_FALSE(closed(0));
  EXPECT_TRUE(closed(1));
}

TEST(Parts, SupplyDeliversReachesItsLimitAndIsCharged) {
  Part usb = part_of("usb-supply");
  const PartNumbers on = read_part(usb, {4.99, 0}, {-0.01, 0.01});
  EXPECT_EQ(on.state, State::kOn);
  EXPECT_DOUBLE_EQ(on.current, 0.01);  // delivered
  EXPECT_LT(on.power, 0);              // taken: negative
  EXPECT_EQ(read_part(usb, {0.1, 0}, {-0.5, 0.5}).state, State::kAtLimit);
  EXPECT_EQ(read_part(usb, {9, 0}, {0.1, -0.1}).state, State::kBeingCharged);
  usb.values[0] = 0;
  EXPECT_EQ(read_part(usb, {0, 0}, {0, 0}).state, State::kOff);
  EXPECT_EQ(elements_of(usb).parameters[0], 0);
  EXPECT_EQ(elements_of(usb).parameters[1], kOpenResistance);
}

TEST(Parts, CellsOfABatteryPackAddUp) {
  Part pack = part_of("battery-pack");
  const ElementList three = elements_of(pack);
  EXPECT_DOUBLE_EQ(three.parameters[0], 4.5);
  pack.values[size_t(value_index(*pack.kind, "cells"))] = 5;
  const ElementList six = elements_of(pack);
  EXPECT_DOUBLE_EQ(six.parameters[0], 9);
  EXPECT_NEAR(six.parameters[1] - three.parameters[1], 3 * 0.15, 1e-12);
  EXPECT_EQ(read_part(pack, {8, 0}, {-1.1, 1.1}).state, State::kOverloaded);
}

TEST(Parts, CapacitorStatesFollowVoltageAndCurrent) {
  const Part c = part_of("electrolytic-capacitor");
  const auto state = [&](double v, double i) { return read_part(c, {v, 0}, {i, -i}).state; };
  EXPECT_EQ(state(0, 0), State::kEmpty);
  EXPECT_EQ(state(0, 1e-3), State::kCharging);
  EXPECT_EQ(state(3, 1e-3), State::kCharging);
  EXPECT_EQ(state(5, 0), State::kCharged);
  EXPECT_EQ(state(3, -1e-3), State::kDischarging);
  EXPECT_EQ(state(17, 0), State::kOverVoltage);
  EXPECT_EQ(state(-5, 0), State::kReversed);
}

TEST(Parts, BiggerElectrolyticHasLessSeriesResistance) {
  Part c = part_of("electrolytic-capacitor");
  const double hundred = elements_of(c).parameters[2];
  EXPECT_NEAR(hundred, 0.16 / (2 * 3.141592653589793 * 120 * 100e-6) + 2 * kContactResistance, 1e-9);
  c.values[0] = 1000e-6;
  EXPECT_LT(elements_of(c).parameters[2], hundred);
}

TEST(Parts, DiodeConductsOneWay) {
  const Part d = part_of("diode");
  EXPECT_EQ(read_part(d, {0.7, 0}, {0.01, -0.01}).state, State::kConducting);
  EXPECT_EQ(read_part(d, {-5, 0}, {-2e-9, 2e-9}).state, State::kBlocking);
  EXPECT_EQ(read_part(d, {-80, 0}, {-1e-7, 1e-7}).state, State::kOverVoltage);
  EXPECT_EQ(read_part(d, {1.0, 0}, {0.4, -0.4}).state, State::kTooHot);
  EXPECT_EQ(read_part(d, {0, 0}, {0, 0}).state, State::kIdle);
}

}  // namespace
}  // namespace tiepoint
