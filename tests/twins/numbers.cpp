// Prints the solutions of many circuits with 17 digits, so that two builds can be held against each other (tests/tools/twins.test.mjs):
//   settled LABEL V volts... A amperes...        in the order of nodes and terminals
//   moving LABEL SPAN values...                  one probe at its sample times; SPAN: the reach of the signal
//   instants LABEL SAMPLE seconds...             when a swinging output rises through its middle, found to within SAMPLE
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <functional>
#include <sstream>
#include <string>
#include <vector>

#include "engine/file/json.h"
#include "engine/parts/part_type.h"
#include "engine/session/session.h"
#include "tests/engine/random_circuit.h"

namespace tiepoint {
namespace {

void settled(const std::string& label, const Solution& s) {
  std::printf("settled %s", label.c_str());
  if (!s.ok()) {
    std::printf(" E %d\n", int(s.error->code));
    return;
  }
  std::printf(" V");
  for (const double v : s.node_voltage) std::printf(" %.17g", v);
  std::printf(" A");
  for (const double i : s.terminal_current) std::printf(" %.17g", i);
  std::printf("\n");
}

void boards(const std::filesystem::path& folder) {
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(folder))
    if (entry.path().filename().string().find(".board.json") != std::string::npos) files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  for (const std::filesystem::path& file : files) {
    std::ifstream in(file);
    std::stringstream content;
    content << in.rdbuf();
    const Result<Board> board = read_board(content.str(), catalogue());
    if (!board) continue;
    const Wiring wiring = wire_up(*board);
    settled(file.filename().string(), solve_operating_point(extract(*board, wiring)));
  }
}

using Probe = std::function<double(CircuitBuilder&, const Solution&)>;
Probe volts(const std::string& at) {
  return [at](CircuitBuilder& b, const Solution& s) { return b.voltage(s, at); };
}

void moving(const std::string& label, CircuitBuilder b, const Probe& probe, double span, double until) {
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  std::printf("moving %s %.17g", label.c_str(), span);
  for (int k = 1; k <= 60; ++k) {
    simulation.advance(k * until / 60);
    std::printf(" %.17g", probe(b, simulation.solution()));
  }
  std::printf("\n");
}

void instants(const std::string& label, CircuitBuilder b, const Probe& probe, double middle, double until, double sample) {
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  std::printf("instants %s %.17g", label.c_str(), sample);
  double last = probe(b, simulation.solution());
  for (int k = 1; k * sample < until; ++k) {
    simulation.advance(k * sample);
    const double now = probe(b, simulation.solution());
    if (last < middle && now >= middle) std::printf(" %.17g", k * sample);
    last = now;
  }
  std::printf("\n");
}

CircuitBuilder rc() {
  CircuitBuilder b;
  b.volts("V", "s", "0", 15).resistor("R", "s", "c", 10e3).capacitor("C", "c", "0", 100e-6);
  return b;
}

CircuitBuilder rlc(double ohms) {
  CircuitBuilder b;
  b.volts("V", "s", "0", 5).resistor("R", "s", "a", ohms).inductor("L", "a", "c", 10e-3).capacitor("C", "c", "0", 1e-6);
  return b;
}

CircuitBuilder rectifier() {
  CircuitBuilder b;
  b.add("V", ElementKind::kVoltageSource, {"s", "0"}, {double(Waveform::kSine), 10, 0, 50}).resistor("RS", "s", "a", 1).silicon("D", "a", "c");
  b.capacitor("C", "c", "0", 1e-4).resistor("R", "c", "0", 1e3);
  return b;
}

CircuitBuilder afterglow() {
  CircuitBuilder b;
  b.capacitor("C", "c", "0", 1e-3, 5).resistor("R", "c", "a", 220).led_a("D", "a", "0");
  return b;
}

CircuitBuilder square_wave() {
  CircuitBuilder b;
  b.add("V", ElementKind::kVoltageSource, {"s", "0"}, {double(Waveform::kSquare), 2.5, 2.5, 1000}).resistor("R", "s", "c", 1000);
  b.capacitor("C", "c", "0", 1e-6);
  return b;
}

CircuitBuilder flasher() {
  CircuitBuilder b;
  b.volts("V", "cc", "0", 9);
  for (int k = 0; k < 2; ++k) {
    const std::string n = std::to_string(k), other = std::to_string(1 - k);
    b.resistor("RC" + n, "cc", "c" + n, 1e3).resistor("RB" + n, "cc", "b" + n, k ? 39e3 : 47e3).capacitor("C" + n, "c" + n, "b" + other, 1e-6);
    b.add("Q" + n, ElementKind::kNpn, {"c" + n, "b" + n, "0"}, {1e-14, 200, 2, 0.025852, 1e-9, 2e-10});
  }
  return b;
}

CircuitBuilder timer() {
  CircuitBuilder b;
  b.volts("V", "vcc", "0", 5).resistor("RA", "vcc", "dis", 5e3).resistor("RB", "dis", "cap", 3e3).capacitor("C", "cap", "0", 0.15e-6);
  b.add("U", ElementKind::kTimer, {"0", "cap", "out", "vcc", "control", "cap", "dis", "vcc"}, {});
  return b;
}

}  // namespace
}  // namespace tiepoint

int main() {
  using namespace tiepoint;
  boards(TIEPOINT_EXAMPLES);
  boards(std::filesystem::path(TIEPOINT_EXAMPLES) / "parts");
  for (unsigned seed = 1; seed <= 400; ++seed)
    for (const bool junctions : {false, true})
      settled((junctions ? "bent-" : "linear-") + std::to_string(seed),
              solve_operating_point(random_circuit(seed, 3 + int(seed % 50), {.junctions = junctions}).circuit()));
  moving("rc", rc(), volts("c"), 15, 5);
  for (const double ohms : {40.0, 200.0, 500.0}) moving("rlc-" + std::to_string(int(ohms)), rlc(ohms), volts("c"), 7.6, 1e-3);
  moving("rectifier", rectifier(), volts("c"), 9.2, 60e-3);
  moving("afterglow", afterglow(), volts("c"), 5, 2);
  moving("square", square_wave(), volts("c"), 5, 10e-3);
  instants("flasher", flasher(), volts("c0"), 4.5, 0.25, 2e-5);
  instants("timer", timer(), volts("out"), 2.5, 12e-3, 2e-6);
  return 0;
}
