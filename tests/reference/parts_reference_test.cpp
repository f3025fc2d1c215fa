// The catalogue's figures against the makers' data sheets. Voltages are found from the diode equation by bisection, without the
// solver:  V(I) = n VT ln(I / IS + 1) + RS I  is the root of  IS (exp((V - RS I) / (n VT)) - 1) - I.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "engine/board/board.h"
#include "engine/devices/contact.h"
#include "engine/parts/diode.h"
#include "engine/parts/led.h"
#include "engine/parts/part_type.h"
#include "tests/engine/part_bench.h"

namespace tiepoint {
namespace {

struct Junction {
  double saturation_current, emission, series_resistance, thermal_voltage;
};

// The junction a part really hands to the solver, contacts included.
Junction junction_of(const Part& part) {
  ElementList list;
  type_of(part).elements(Board{}, part, list);
  const std::span<const double> p = list.values(list.entries[0]);
  return {p[0], p[1], p[2], p[3]};
}

double forward_voltage(const Junction& j, double current) {
  double low = 0, high = 20;
  for (int i = 0; i < 200; ++i) {
    const double v = (low + high) / 2;
    const double i_v =
        j.saturation_current * std::expm1((v - j.series_resistance * current) / (j.emission * j.thermal_voltage));
    (i_v < current ? low : high) = v;
  }
  return low;
}

Part led(std::string_view colour) {
  Part part = make_part(*catalogue().find("led"));
  for (size_t i = 0; i < led_figures().size(); ++i)
    if (led_figures()[i].colour == colour) part.values[0] = double(i);
  return part;
}

Part diode(std::string_view type) {
  Part part = make_part(*catalogue().find("diode"));
  for (size_t i = 0; i < diode_figures().size(); ++i)
    if (diode_figures()[i].type == type) part.values[0] = double(i);
  return part;
}

// Forward voltage at 20 mA, typical and largest:
//   red     Vishay TLUR6400, document 83171 Rev 2.0: 2 V, 3 V; 20 mA, reverse voltage 6 V
//   orange  Vishay TLHO4200, document 83005 Rev 2.3: 2.4 V, 3 V
//   yellow  Vishay TLHY6400 (TLHR640., TLHY640., TLHG640. sheet): 2.4 V, 3 V
//   green   Vishay TLHG4400, document 83006 Rev 2.2: 2.4 V, 3 V
//   blue    Cree C5SMF, CLD-CT1240.004: 3.4 V, 4.0 V; 35 mA, reverse voltage 5 V
//   white   Cree LC513FWH1, CLD-CT208.001: 3.2 V, 4.0 V; 25 mA, reverse voltage 5 V
const struct LedSheet {
  std::string_view colour;
  double typical, largest;          // [V]
  double current, reverse_voltage;  // [A], [V]; 0 where the sheet's page was not seen
} kLedSheets[] = {
    {"red", 2.0, 3.0, 0.020, 6}, {"orange", 2.4, 3.0, 0, 0},   {"yellow", 2.4, 3.0, 0, 0},
    {"green", 2.4, 3.0, 0, 0},   {"blue", 3.4, 4.0, 0.035, 5}, {"white", 3.2, 4.0, 0.025, 5},
};

TEST(PartsReference, LedForwardVoltageAtTwentyMilliampere) {
  ASSERT_EQ(std::size(kLedSheets), led_figures().size());
  for (const LedSheet& sheet : kLedSheets) {
    const double v = forward_voltage(junction_of(led(sheet.colour)), 0.020);
    EXPECT_NEAR(v, sheet.typical, 0.005) << sheet.colour;  // the two contacts add 0.8 mV
    EXPECT_LT(v, sheet.largest) << sheet.colour;
  }
}

TEST(PartsReference, LedLimits) {
  for (const LedSheet& sheet : kLedSheets) {
    if (sheet.current == 0) continue;
    const Part part = led(sheet.colour);
    const Ratings ratings = type_of(part).ratings(part);
    EXPECT_EQ(ratings.current, sheet.current) << sheet.colour;
    EXPECT_EQ(ratings.reverse_voltage, sheet.reverse_voltage) << sheet.colour;
    EXPECT_LE(sheet.reverse_voltage / kLedLeakage, 10e-6) << sheet.colour;  // reverse current: at most 10 uA (Vishay 83171)
    if (sheet.colour != "red") continue;
    EXPECT_LE(0.020 * forward_voltage(junction_of(part), 0.020), 0.060);  // 60 mW, the same sheet
  }
}

// Lessons in Electric Circuits, Semiconductors, LED section, table of colours: red 1.5 to 2.4 V, orange 2.1 to 2.2 V, yellow
// and green 1.7 to 2.8 V, white and blue 3 to 4 V. No current is given there; at 5 to 10 mA is an ordinary circuit's.
TEST(PartsReference, LedForwardVoltageInTheTextbookRangeOfItsColour) {
  const struct {
    std::string_view colour;
    double low, high, current;
  } table[] = {
      {"red", 1.5, 2.4, 0.010},   {"orange", 2.1, 2.2, 0.005}, {"yellow", 1.7, 2.8, 0.010},
      {"green", 1.7, 2.8, 0.010}, {"blue", 3, 4, 0.010},       {"white", 3, 4, 0.010},
  };
  for (const auto& row : table) {
    const double v = forward_voltage(junction_of(led(row.colour)), row.current);
    EXPECT_GE(v, row.low) << row.colour;
    EXPECT_LE(v, row.high) << row.colour;
  }
}

// What the solver makes of every light in the box at 20 mA: the textbook's range of its colour (red 1.5 to 2.4 V, infrared 1.2 to 1.7 V,
// blue 3 to 4 V), green of the new kind at most 4.0 V (Cree C5SMF, CLD-CT1240.004); and at most 10 uA backwards at its reverse voltage.
TEST(PartsReference, EveryLightOfTheBoxIsInItsWindowBothWays) {
  const struct {
    const char *kind, *anode, *cathode;
    double low, high;
  } table[] = {{"led", "anode", "cathode", 1.5, 2.4},
               {"led-3mm", "anode", "cathode", 1.5, 2.4},
               {"led-8mm", "anode", "cathode", 1.5, 2.4},
               {"led-10mm", "anode", "cathode", 1.5, 2.4},
               {"infrared-led", "anode", "cathode", 1.2, 1.7},
               {"rgb-led-cathode", "red", "common", 1.5, 2.4},
               {"rgb-led-cathode", "green", "common", 2.8, 4.0},
               {"rgb-led-cathode", "blue", "common", 3, 4},
               {"rgb-led-anode", "common", "red", 1.5, 2.4},
               {"rgb-led-anode", "common", "blue", 3, 4}};
  for (const auto& row : table) {
    PartBench bench(row.kind);
    bench.amperes(row.anode, 0.020).ground(row.cathode).settle();
    EXPECT_GE(bench.voltage(row.anode), row.low) << row.kind << " " << row.anode;
    EXPECT_LE(bench.voltage(row.anode), row.high) << row.kind << " " << row.anode;
    const Part part = make_part(*catalogue().find(row.kind));
    PartBench back(row.kind);
    back.volts(row.cathode, type_of(part).ratings(part).reverse_voltage).ground(row.anode).settle();
    EXPECT_LE(back.current(row.cathode), 10e-6) << row.kind;
    EXPECT_GT(back.current(row.cathode), 0) << row.kind;
  }
}

// The two diodes through the solver: the sheets named below.
TEST(PartsReference, DiodesInTheirWindowsBothWays) {
  const struct {
    double type, forward, most, reverse, leak;
  } table[] = {{0, 10e-3, 1.0, 20, 25e-9}, {1, 1.0, 1.1, 1000, 5e-6}};
  for (const auto& row : table) {
    PartBench bench("diode", {{"type", row.type}});
    bench.amperes("anode", row.forward).ground("cathode").settle();
    EXPECT_LE(bench.voltage("anode"), row.most) << row.type;
    PartBench back("diode", {{"type", row.type}});
    back.volts("cathode", row.reverse).ground("anode").settle();
    EXPECT_LE(back.current("cathode"), row.leak) << row.type;
    EXPECT_GT(back.current("cathode"), 0) << row.type;
  }
}

// Common practice, no source: a small red LED drops about 1.7 V at a few milliampere.
TEST(PartsReference, RedLedDropsAboutOnePointSevenVoltAtAFewMilliampere) {
  EXPECT_NEAR(forward_voltage(junction_of(led("red")), 0.003), 1.7, 0.1);
}

// Cree LC503TBL1, CLD-CT063.000: 1.7 to 2.5 V at 1 uA.
TEST(PartsReference, BlueLedAtOneMicroampere) {
  const double v = forward_voltage(junction_of(led("blue")), 1e-6);
  EXPECT_GE(v, 1.7);
  EXPECT_LE(v, 2.5);
}

// Vishay 81857 Rev 1.3 (1N4148): at most 1.0 V at 10 mA, at most 25 nA at 20 V; 300 mA, 75 V.
// Diotech 1N4148/1N4448: the sister type 0.62 to 0.72 V at 5 mA.
TEST(PartsReference, SignalDiodeSheet) {
  const Part part = diode("1N4148");
  EXPECT_LE(forward_voltage(junction_of(part), 0.010), 1.0);
  EXPECT_GE(forward_voltage(junction_of(part), 0.005), 0.62);
  EXPECT_LE(forward_voltage(junction_of(part), 0.005), 0.72);
  EXPECT_LE(diode_figures()[0].saturation_current + 20 / diode_figures()[0].leakage, 25e-9);
  EXPECT_EQ(type_of(part).ratings(part).current, 0.3);
  EXPECT_EQ(type_of(part).ratings(part).reverse_voltage, 75);
}

// Fairchild 1N4001 to 1N4007, 2001: at most 1.1 V at 1.0 A, at most 5 uA at 1000 V; 1.0 A, 1000 V.
TEST(PartsReference, RectifierDiodeSheet) {
  const Part part = diode("1N4007");
  EXPECT_LE(forward_voltage(junction_of(part), 1.0), 1.1);
  EXPECT_GE(forward_voltage(junction_of(part), 1.0), 0.8);
  EXPECT_LE(diode_figures()[1].saturation_current + 1000 / diode_figures()[1].leakage, 5e-6);
  EXPECT_EQ(type_of(part).ratings(part).current, 1.0);
  EXPECT_EQ(type_of(part).ratings(part).reverse_voltage, 1000);
}

// Wuerth Elektronik 430182, 6 mm x 6 mm: 50 mA, 12 V; contact at most 100 milliohm, open at least 100 megohm.
TEST(PartsReference, PushButtonSheet) {
  Part part = make_part(*catalogue().find("push-button"));
  const Ratings ratings = type_of(part).ratings(part);
  EXPECT_EQ(ratings.current, 0.05);
  EXPECT_EQ(ratings.voltage, 12);
  ElementList open, closed;
  type_of(part).elements(Board{}, part, open);
  part.values[0] = 1;
  type_of(part).elements(Board{}, part, closed);
  EXPECT_EQ(open.parameters[kContactClosed], 0);
  EXPECT_GE(open.parameters[kContactOpenResistance], 100e6);
  EXPECT_EQ(closed.parameters[kContactClosed], 1);
  EXPECT_LE(closed.parameters[kContactClosedResistance], 0.1);
}

// USB 2.0: 4.75 to 5.25 V at the port, up to 500 mA for a configured device.
TEST(PartsReference, UsbSupplyStaysInItsWindowUpToItsLimit) {
  const Part part = make_part(*catalogue().find("usb-supply"));
  ElementList list;
  type_of(part).elements(Board{}, part, list);
  const double voltage = list.parameters[0], resistance = list.parameters[1], limit = list.parameters[2];
  EXPECT_EQ(limit, 0.5);
  EXPECT_LE(voltage, 5.25);
  EXPECT_GE(voltage - resistance * limit, 4.75);
}

}  // namespace
}  // namespace tiepoint
