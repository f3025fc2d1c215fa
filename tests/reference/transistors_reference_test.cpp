// Transistors against the windows of their sheets.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>

#include "tests/engine/part_bench.h"

namespace tiepoint {
namespace {

struct Saturation {
  const char* kind;
  double sign;  // +1 npn, -1 pnp
  double collector, base;  // [A]
  double vce_most, vbe_least, vbe_most;
};

// 2N3904: Fairchild Rev 1.1.0, Oct 2014. 2N2222: Philips, 29 May 1997. BC547: Fairchild Rev 1.1.1 (all read). 2N3906 at 50/5 mA: TO-92
// sheet (read), at 10/1 mA from memory. BC557 as BC547 (from memory).
TEST(BipolarReference, SaturationWindows) {
  const Saturation rows[] = {{"2n3904", 1, 10e-3, 1e-3, 0.2, 0.65, 0.85},   {"2n3904", 1, 50e-3, 5e-3, 0.3, 0.65, 0.95},
                             {"2n3906", -1, 10e-3, 1e-3, 0.25, 0.65, 0.85}, {"2n3906", -1, 50e-3, 5e-3, 0.4, 0.65, 0.95},
                             {"2n2222", 1, 150e-3, 15e-3, 0.4, 0.6, 1.3},   {"bc547", 1, 10e-3, 0.5e-3, 0.25, 0.6, 0.9},
                             {"bc547", 1, 100e-3, 5e-3, 0.6, 0.6, 1.0},     {"bc557", -1, 10e-3, 0.5e-3, 0.3, 0.6, 0.9}};
  for (const Saturation& row : rows) {
    PartBench bench(row.kind);
    bench.amperes("collector", row.sign * row.collector).amperes("base", row.sign * row.base).ground("emitter").settle();
    const double vce = row.sign * bench.voltage("collector"), vbe = row.sign * bench.voltage("base");
    EXPECT_GT(vce, 0) << row.kind;
    EXPECT_LT(vce, row.vce_most) << row.kind << " " << row.collector;
    EXPECT_GT(vbe, row.vbe_least) << row.kind << " " << row.collector;
    EXPECT_LT(vbe, row.vbe_most) << row.kind << " " << row.collector;
  }
}

struct Gain {
  const char* kind;
  double sign, vce, collector, least, most;
};

// Finds the base current that gives the collector current, by bisection over circuits.
double gain_at(const Gain& row) {
  double low = 1e-9, high = row.collector;
  for (int k = 0; k < 40; ++k) {
    const double base = std::sqrt(low * high);
    PartBench bench(row.kind);
    bench.volts("collector", row.sign * row.vce).amperes("base", row.sign * base).ground("emitter").settle();
    (row.sign * bench.current("collector") < row.collector ? low : high) = base;
  }
  return row.collector / low;
}

TEST(BipolarReference, GainWindows) {
  const Gain rows[] = {{"2n3904", 1, 1, 0.1e-3, 40, 1e9},  {"2n3904", 1, 1, 1e-3, 70, 1e9},  {"2n3904", 1, 1, 10e-3, 100, 300},
                       {"2n3904", 1, 1, 50e-3, 60, 1e9},   {"2n3904", 1, 1, 100e-3, 30, 1e9}, {"2n3906", -1, 1, 10e-3, 100, 300},
                       {"2n2222", 1, 10, 0.1e-3, 35, 1e9}, {"2n2222", 1, 10, 1e-3, 50, 1e9},  {"2n2222", 1, 10, 10e-3, 75, 1e9}, {"2n2222", 1, 10, 150e-3, 100, 300},
                       {"bc547", 1, 5, 2e-3, 200, 450},    {"bc557", -1, 5, 2e-3, 200, 475}};
  for (const Gain& row : rows) {
    const double gain = gain_at(row);
    EXPECT_GE(gain, row.least) << row.kind << " at " << row.collector;
    EXPECT_LE(gain, row.most) << row.kind << " at " << row.collector;
  }
}

// BC547, Fairchild Rev 1.1.1 (read): VBE 0.58 to 0.70 V at 2 mA, 5 V.
TEST(BipolarReference, BaseVoltageWindow) {
  PartBench bench("bc547");
  bench.volts("collector", 5).amperes("base", 2e-3 / 300).ground("emitter").settle();
  EXPECT_GT(bench.voltage("base"), 0.58);
  EXPECT_LT(bench.voltage("base"), 0.70);
}

// TIP120, ST (read): hFE at least 1000 at 0.5 A and 3 A, 3 V; VCE(sat) at most 2 V at 3 A / 12 mA; VBE(on) at most 2.5 V at 3 A.
TEST(DarlingtonReference, GainAndSaturation) {
  EXPECT_GE(gain_at({"tip120", 1, 3, 0.5, 1000, 1e9}), 1000);
  EXPECT_GE(gain_at({"tip120", 1, 3, 3, 1000, 1e9}), 1000);
  PartBench bench("tip120");
  bench.amperes("collector", 3).amperes("base", 12e-3).ground("emitter").settle();
  EXPECT_LT(bench.voltage("collector"), 2);
  EXPECT_GT(bench.voltage("collector"), 0.6);  // a Darlington never saturates as deep as one transistor
  EXPECT_LT(bench.voltage("base"), 2.5);
}

// The base-emitter junction breaks down at VEBO or a little above: 6 V for a 2N3904.
TEST(BipolarReference, BaseEmitterBreaksDownBackwards) {
  PartBench bench("2n3904");
  bench.volts("emitter", 9).resistor("base", "0", 10e3).ground("collector").settle();
  EXPECT_GT(bench.voltage("emitter", "base"), 6);
  EXPECT_LT(bench.voltage("emitter", "base"), 7.5);
}

struct OnResistance {
  const char* kind;
  double sign, vgs, current, most;  // [V] [A] [ohm]
};

// 2N7000: Diotec (read): at most 5 ohm at 10 V / 500 mA (2.5 V), 6 ohm at 4.5 V / 75 mA (0.45 V). BS250: Diodes DS21902 (read): at most
// 5 ohm at 10 V / 200 mA. IRLZ44N, IRF9540N: from memory.
TEST(FieldEffectReference, OnResistance) {
  for (const OnResistance& row :
       {OnResistance{"2n7000", 1, 10, 0.5, 5}, OnResistance{"2n7000", 1, 4.5, 0.075, 6}, OnResistance{"bs170", 1, 10, 0.2, 5},
        OnResistance{"irlz44n", 1, 10, 5, 0.022}, OnResistance{"irlz44n", 1, 4, 5, 0.035},
        OnResistance{"bs250", -1, 10, 0.2, 5}, OnResistance{"irf9540n", -1, 10, 5, 0.117}}) {
    PartBench bench(row.kind);
    bench.amperes("drain", row.sign * row.current).volts("gate", row.sign * row.vgs).ground("source").settle();
    const double resistance = row.sign * bench.voltage("drain") / row.current;
    EXPECT_GT(resistance, 0) << row.kind;
    EXPECT_LE(resistance, row.most) << row.kind << " at " << row.vgs;
  }
}

// Threshold, gate on drain at 1 mA: 2N7000, BS170 0.8 to 3 V; BS250 1 to 3.5 V (read); IRLZ44N 1 to 2 V, IRF9540N 2 to 4 V at 0.25 mA (from
// memory).
TEST(FieldEffectReference, Threshold) {
  struct Row { const char* kind; double sign, current, least, most; };
  for (const Row& row : {Row{"2n7000", 1, 1e-3, 0.8, 3}, Row{"bs170", 1, 1e-3, 0.8, 3}, Row{"bs250", -1, 1e-3, 1, 3.5},
                         Row{"irlz44n", 1, 0.25e-3, 1, 2}, Row{"irf9540n", -1, 0.25e-3, 2, 4}}) {
    PartBench bench(row.kind);
    bench.amperes("drain", row.sign * row.current).resistor("drain", "gate", 1).ground("source").settle();
    EXPECT_GT(row.sign * bench.voltage("gate"), row.least) << row.kind;
    EXPECT_LT(row.sign * bench.voltage("gate"), row.most) << row.kind;
  }
}

// BS170 (onsemi, read), and the 2N7000, of which no transconductance was found, as its twin: typically 2.1 V at 1 mA, RDS(on) typically
// 1.2 and at most 5 ohm at 10 V / 200 mA, gFS typically 320 mS at 10 V / 200 mA.
TEST(FieldEffectReference, TransconductanceOfTheTwins) {
  for (const char* kind : {"bs170", "2n7000"}) {
    const auto current_at = [kind](double gate) {
      PartBench bench(kind);
      bench.volts("drain", 10).volts("gate", gate).ground("source").settle();
      return bench.current("drain");
    };
    double low = 2, high = 6;  // the gate voltage that lets 200 mA flow
    for (int k = 0; k < 50; ++k) (current_at((low + high) / 2) < 0.2 ? low : high) = (low + high) / 2;
    EXPECT_NEAR((current_at(low + 1e-3) - current_at(low - 1e-3)) / 2e-3, 0.320, 0.01 * 0.320);
    PartBench on(kind);
    on.amperes("drain", 0.2).volts("gate", 10).ground("source").settle();
    EXPECT_LT(on.voltage("drain") / 0.2, 5);
  }
}

// Legs from the left, flat face towards you: 2N7000 source gate drain, BS170 drain gate source (both onsemi, from memory).
TEST(FieldEffectReference, LegsOfTheTwinsAreTheOtherWayRound) {
  const auto legs = [](const char* kind) {
    std::string names;
    for (const LeadSpec& lead : catalogue().find(kind)->leads) names += std::string(lead.name) + " ";
    return names;
  };
  EXPECT_EQ(legs("2n7000"), "source gate drain ");
  EXPECT_EQ(legs("bs170"), "drain gate source ");
}

// Limits of the sheets named above: 2N3904 40 V, 6 V, 200 mA, 625 mW; 2N2222 30 V (2N2222A 40 V), 800 mA, 500 mW; 2N7000 60 V, 200 mA, 350 mW;
// BS170 60 V, 500 mA, 830 mW (from memory).
TEST(TransistorLimits, OfTheSheets) {
  struct Row { const char* kind; double volts, amperes, watts; };
  for (const Row& row : {Row{"2n3904", 40, 0.2, 0.625}, Row{"2n2222", 30, 0.8, 0.5}, Row{"2n7000", 60, 0.2, 0.35},
                         Row{"bs170", 60, 0.5, 0.83}}) {
    const Part part = make_part(*catalogue().find(row.kind));
    const Ratings ratings = type_of(part).ratings(part);
    EXPECT_EQ(ratings.voltage, row.volts) << row.kind;
    EXPECT_EQ(ratings.current, row.amperes) << row.kind;
    EXPECT_EQ(ratings.power, row.watts) << row.kind;
  }
}

// BS250: 0.85 V at 0.15 A, gate on source (Diodes DS21902, read).
TEST(FieldEffectReference, BodyDiode) {
  PartBench bench("bs250");
  bench.amperes("drain", 0.15).ground("gate").ground("source").settle();
  EXPECT_NEAR(bench.voltage("drain"), 0.85, 0.05);
}

}  // namespace
}  // namespace tiepoint
