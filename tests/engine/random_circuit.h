// Random circuits: a chain of resistors with others across it, three sources, junctions where asked for. The same every time for a seed on
// every machine: the standard library's distributions, which are
// free to differ, have no part in it.
#pragma once

#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include "tests/engine/build_circuit.h"

namespace tiepoint {

struct Recipe {
  bool junctions = false;
  bool sources_reversed = false;
  double scale = 1;             // of every resistance
  std::vector<int> node_order;  // empty: as drawn
};

inline CircuitBuilder random_circuit(unsigned seed, int nodes, const Recipe& recipe) {
  std::mt19937 random(seed);
  const auto unit = [&] { return double(random()) / 4294967296.0; };
  const auto pick = [&] { return int(random() % uint32_t(nodes + 1)); };
  const auto ohms = [&] {  // 10 ohm to 100 kohm, every decade as likely as another
    constexpr double kDecades[] = {1e1, 1e2, 1e3, 1e4};
    const double decade = kDecades[random() % 4];
    return decade * (1 + 9 * unit()) * recipe.scale;
  };
  CircuitBuilder b;
  for (const int k : recipe.node_order) b.node("n" + std::to_string(k));
  const auto name = [](int k) { return k == 0 ? std::string("0") : "n" + std::to_string(k); };
  const double sign = recipe.sources_reversed ? -1 : 1;
  for (int k = 1; k <= nodes; ++k) b.resistor("R" + std::to_string(k), name(k), name(k - 1), ohms());
  for (int k = 0; k < nodes; ++k) {
    const int a = pick(), c = pick();
    const double across = ohms();
    if (a != c) b.resistor("S" + std::to_string(k), name(a), name(c), across);
    const int d = pick(), e = pick();
    const bool make_junction = unit() < 0.4;
    if (recipe.junctions && d != e && make_junction) b.diode("D" + std::to_string(k), name(d), name(e), 1e-18, 2, 5);
  }
  b.volts("V1", name(1), "0", sign * 5);
  b.volts("V2", name(nodes), name(nodes / 2), sign * 9 * unit());
  b.amperes("I1", name(nodes / 3 + 1), name(0), sign * 0.01);
  return b;
}

}  // namespace tiepoint
