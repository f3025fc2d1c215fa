// The circuits that are timed, as netlists of the engine. Every figure of the benchmarks comes from these.
#pragma once

#include <string>
#include <vector>

#include "engine/circuit/circuit.h"

namespace tiepoint::bench {

struct Case {
  std::string name;
  Circuit circuit;
  double end = 0;         // [s]
  int samples = 0;        // evenly spaced, between the corners of the sources
  std::vector<int> probes;  // nodes that are compared

  double sample(int k) const { return end * (k + 0.5) / samples; }
};

// The seven transients: a switched LED, an RC low-pass under a square wave, a step on a series RLC, a half-wave rectifier, a
// two-transistor flasher, a ring of five inverters, eight flashers on one rail.
std::vector<Case> transients();

// RC ladder of n stages under a step.
Case rc_ladder(int n);
// LED ladder of n stages for the operating point: 2 n + 2 nodes.
Circuit led_ladder(int n);
// A random board of resistors, diodes, LEDs and transistors with 4 to 60 unknowns.
Circuit random_board(unsigned seed);

// Conductance patterns for linear algebra, by columns: a ladder of n nodes, a mesh of n by n nodes; unsymmetric in value.
struct Pattern {
  int size = 0;
  std::vector<int> first, row;
  std::vector<double> value;
};
Pattern ladder_matrix(int n);
Pattern mesh_matrix(int n);

}  // namespace tiepoint::bench
