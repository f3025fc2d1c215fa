#include "tests/bench/cases.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <utility>

#include "tests/engine/build_circuit.h"

namespace tiepoint::bench {
namespace {

using Names = std::vector<std::string>;

Case make(std::string name, CircuitBuilder b, double end, int samples, const Names& probes) {
  Case out = {.name = std::move(name), .end = end, .samples = samples};
  for (const std::string& probe : probes) out.probes.push_back(b.node(probe));
  out.circuit = b.circuit();
  return out;
}

std::vector<double> square(double low, double high, double frequency) {
  std::vector<double> p(kDuty + 1, 0.0);
  p[kWaveform] = double(Waveform::kSquare);
  p[kAmplitude] = (high - low) / 2, p[kOffset] = (high + low) / 2, p[kFrequency] = frequency, p[kDuty] = 0.5;
  return p;
}

// An element with two terminals, put in by hand: the builder looks nodes up by name, one after the other.
void add(Circuit& c, ElementKind kind, NodeIndex p, NodeIndex m, const std::vector<double>& values) {
  c.elements.push_back({.kind = kind,
                        .first_terminal = int(c.terminals.size()),
                        .terminal_count = 2,
                        .first_parameter = int(c.parameters.size()),
                        .parameter_count = int(values.size())});
  c.element_name.push_back("E" + std::to_string(c.elements.size()));
  c.terminals.insert(c.terminals.end(), {p, m});
  c.parameters.insert(c.parameters.end(), values.begin(), values.end());
}

// Two transistors, each with an LED and 470 ohm in the collector and a capacitor to the other's base.
void add_flasher(CircuitBuilder& b, const std::string& tag, const std::string& rail, double slower) {
  for (int k = 0; k < 2; ++k) {
    const std::string own = tag + std::to_string(k), other = tag + std::to_string(1 - k);
    b.resistor("RC" + own, rail, "m" + own, 470).led_a("LED" + own, "m" + own, "c" + own);
    b.resistor("RB" + own, rail, "b" + own, (k == 0 ? 47e3 : 39e3) * slower);
    b.capacitor("C" + own, "c" + own, "b" + other, 10e-6);
    b.add("Q" + own, ElementKind::kNpn, {"c" + own, "b" + own, "0"}, {1e-14, 200, 2, 0.025852, 8e-12, 4e-12});
  }
}

}  // namespace

std::vector<Case> transients() {
  std::vector<Case> all;
  {
    CircuitBuilder b;
    b.add("V", ElementKind::kVoltageSource, {"s", "0"}, square(0, 5, 10));
    b.resistor("R1", "s", "a", 220).led_a("LED1", "a", "k").resistor("R2", "k", "0", 10);
    all.push_back(make("switched LED", b, 1, 1000, {"a", "k"}));
  }
  {
    CircuitBuilder b;
    b.add("V", ElementKind::kVoltageSource, {"s", "0"}, square(0, 5, 1000));
    b.resistor("R", "s", "out", 1e3).capacitor("C", "out", "0", 100e-9);
    all.push_back(make("RC square wave", b, 0.1, 1000, {"out"}));
  }
  {
    CircuitBuilder b;
    b.volts("V", "s", "0", 5).resistor("R", "s", "a", 40).inductor("L", "a", "out", 10e-3).capacitor("C", "out", "0", 1e-6);
    all.push_back(make("RLC step", b, 5e-3, 500, {"a", "out"}));
  }
  {
    CircuitBuilder b;
    b.add("V", ElementKind::kVoltageSource, {"s", "0"}, {double(Waveform::kSine), 10, 0, 50});
    b.resistor("RS", "s", "a", 1).silicon("D", "a", "out").capacitor("C", "out", "0", 100e-6).resistor("R", "out", "0", 1e3);
    all.push_back(make("rectifier", b, 0.2, 1000, {"a", "out"}));
  }
  {
    CircuitBuilder b;
    b.volts("V", "cc", "0", 9);
    add_flasher(b, "", "cc", 1);
    all.push_back(make("flasher", b, 3, 1000, {"c0", "b0", "c1", "b1"}));
  }
  {
    CircuitBuilder b;
    b.volts("V", "cc", "0", 5);
    for (int k = 0; k < 5; ++k) {
      const std::string own = std::to_string(k), before = std::to_string((k + 4) % 5);
      b.resistor("RC" + own, "cc", "m" + own, 1e3).led_a("LED" + own, "m" + own, "c" + own);
      b.resistor("RB" + own, "c" + before, "b" + own, 10e3);
      b.capacitor("CB" + own, "b" + own, "0", 1e-6, k % 2 ? 0.3 : 0.8 - 0.1 * k);
      b.add("Q" + own, ElementKind::kNpn, {"c" + own, "b" + own, "0"}, {1e-14, 100, 2, 0.025852, 0, 0});
      b.capacitor("CC" + own, "c" + own, "0", 10e-9, 1);
    }
    all.push_back(make("ring of five", b, 0.1, 1000, {"c0", "b0", "c3"}));
  }
  {
    CircuitBuilder b;
    b.volts("V", "cc", "0", 9);
    Names probes;
    for (int k = 0; k < 8; ++k) {
      const std::string tag(1, char('p' + k));
      add_flasher(b, tag, "cc", 1 + 0.1 * k);
      probes.push_back("c" + tag + "0");
    }
    all.push_back(make("eight flashers", b, 3, 1000, probes));
  }
  return all;
}

Case rc_ladder(int n) {
  CircuitBuilder b;
  b.volts("V", "s", "0", 1);
  Circuit c = b.circuit();
  NodeIndex last = 1;
  for (int k = 0; k < n; ++k) {
    const NodeIndex node = c.node_count++;
    c.node_name.push_back("n" + std::to_string(k));
    add(c, ElementKind::kResistor, last, node, {1e3});
    add(c, ElementKind::kCapacitor, node, 0, {1e-6 / n, 0, 0});
    last = node;
  }
  const double tau = 1e-3 * n / 2;  // [s] half the sum of all R times all C
  return {"RC ladder " + std::to_string(n), std::move(c), 4 * tau, 100, {last, last - n / 2}};
}

Circuit led_ladder(int n) {
  CircuitBuilder b;
  b.volts("V", "s", "0", 5);
  Circuit c = b.circuit();
  const auto fresh = [&] {
    c.node_name.push_back("n" + std::to_string(c.node_count));
    return c.node_count++;
  };
  NodeIndex last = 1;
  for (int k = 0; k < n; ++k) {
    const NodeIndex rail = fresh(), lamp = fresh();
    add(c, ElementKind::kResistor, last, rail, {1});
    add(c, ElementKind::kResistor, rail, lamp, {330});
    add(c, ElementKind::kDiode, lamp, 0, {1e-18, 2, 0});
    last = rail;
  }
  return c;
}

Circuit random_board(unsigned seed) {
  uint64_t state = 0x9E3779B97F4A7C15ull * (seed + 1);
  const auto next = [&] {  // xorshift*
    state ^= state >> 12, state ^= state << 25, state ^= state >> 27;
    return double((state * 0x2545F4914F6CDD1Dull) >> 11) * 0x1p-53;
  };
  const auto pick = [&](int count) { return int(next() * count); };
  CircuitBuilder b;
  b.volts("V", "n1", "0", 3 + 6 * next());
  const int nodes = 3 + int(next() * next() * 28);
  const auto name = [](int k) { return k == 0 ? std::string("0") : "n" + std::to_string(k); };
  for (int k = 2; k <= nodes; ++k)  // a tree, so that everything is joined
    b.resistor("RT" + std::to_string(k), name(k), name(pick(k)), 100 * std::pow(1000, next()));
  for (int k = 0; k < nodes; ++k) {
    const std::string tag = std::to_string(k), p = name(pick(nodes + 1)), m = name(pick(nodes + 1));
    if (p == m) continue;
    const double ohms = 100 * std::pow(100, next());
    switch (pick(4)) {
      case 0: b.resistor("R" + tag, p, m, 100 * std::pow(1000, next())); break;
      case 1: b.resistor("RD" + tag, p, "d" + tag, ohms).silicon("D" + tag, "d" + tag, m); break;
      case 2: b.resistor("RL" + tag, p, "l" + tag, ohms).led_a("L" + tag, "l" + tag, m); break;
      default:
        b.resistor("RQ" + tag, p, "q" + tag, 10e3).resistor("RC" + tag, m, "c" + tag, ohms);
        b.add("Q" + tag, ElementKind::kNpn, {"c" + tag, "q" + tag, "0"}, {1e-14, 150, 2, 0.025852, 0, 0});
    }
  }
  return b.circuit();
}

namespace {

Pattern from_entries(int n, const std::map<std::pair<int, int>, double>& entries) {  // keys (column, row)
  Pattern out = {.size = n, .first = std::vector<int>(size_t(n) + 1, 0)};
  for (const auto& [at, value] : entries) {
    ++out.first[size_t(at.first) + 1];
    out.row.push_back(at.second), out.value.push_back(value);
  }
  for (int k = 0; k < n; ++k) out.first[size_t(k) + 1] += out.first[size_t(k)];
  return out;
}

void join(std::map<std::pair<int, int>, double>& entries, int a, int b, double g) {
  entries[{a, a}] += g, entries[{b, b}] += g;
  entries[{a, b}] -= 0.9 * g, entries[{b, a}] -= g;
}

}  // namespace

Pattern ladder_matrix(int n) {
  std::map<std::pair<int, int>, double> entries;
  for (int k = 0; k < n; ++k) {
    entries[{k, k}] += 1e-3;
    if (k > 0) join(entries, k - 1, k, 1 + 0.1 * (k % 7));
  }
  return from_entries(n, entries);
}

Pattern mesh_matrix(int n) {
  std::map<std::pair<int, int>, double> entries;
  for (int y = 0; y < n; ++y)
    for (int x = 0; x < n; ++x) {
      const int k = y * n + x;
      entries[{k, k}] += 1e-2;
      if (x > 0) join(entries, k - 1, k, 1 + 0.1 * (k % 5));
      if (y > 0) join(entries, k - n, k, 1 + 0.1 * (k % 3));
    }
  return from_entries(n * n, entries);
}

}  // namespace tiepoint::bench
