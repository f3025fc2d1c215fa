// The same circuits, their equations written down a second time for the libraries they are measured against: plain modified
// nodal analysis (Ho, Ruehli & Brennan, IEEE TCS 22, 1975) with analytic Jacobians, nothing of the engine's equations in it.
//
// Unknowns: node voltages but that of node 0, then the current of every voltage source and coil. Elements: resistor, capacitor,
// coil, voltage source, diode without breakdown or charge, npn with constant junction capacitances.
#pragma once

#include <vector>

#include "engine/circuit/circuit.h"

namespace tiepoint::bench {

class Sheet {
 public:
  explicit Sheet(const Circuit& circuit);
  int size() const { return size_; }
  int row_of_node(int node) const { return node - 1; }

  // r = C y' + f(y, t), on the piece of the waveforms that begins at `since`.
  void residual(double t, double since, const double* y, const double* yp, double* r) const;
  // value = df/dy + cj C, in the pattern.
  void jacobian(const double* y, double cj, double* value) const;
  const std::vector<int>& first() const { return first_; }  // pattern by columns
  const std::vector<int>& row() const { return row_; }
  // 1: the unknown has a derivative in some equation.
  std::vector<double> differential() const;
  // Voltages and currents at the start.
  void start(double* y) const;
  double next_corner(double t) const;  // of all sources; +inf when none

 private:
  struct Two {
    int p, n, extra;  // rows, -1: node 0
    double a, b, c;
    int slot[6];
  };
  struct Three {
    int c, b, e;
    double is, bf, br, vt, cbe, cbc;
    int slot[9];
  };
  struct Source {
    int p, n, extra;
    std::vector<double> wave;
    int slot[4];
  };
  void find_slots();

  int size_ = 0;
  std::vector<Two> resistors_, capacitors_, coils_, diodes_;
  std::vector<Three> transistors_;
  std::vector<Source> sources_;
  std::vector<int> first_, row_;
};

}  // namespace tiepoint::bench
