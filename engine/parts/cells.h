// The figures of the cells, for cells.cpp and for the checks against published capacities.
#pragma once

#include <span>
#include <string_view>

namespace tiepoint {

struct CellFigures {
  std::string_view name;
  double voltage;     // [V] of a fresh one, open
  double resistance;  // [ohm] of a fresh one
  double capacity;    // [C] (3600 C = 1 A h)
  double current;     // [A] more is called overloaded
};
std::span<const CellFigures> cell_figures();  // AA, AAA, 9 V block, CR2032

// Open voltage and resistance of a cell with the share `charge` (0..1) left in it, relative to a fresh one.
double open_voltage_share(double charge);
double resistance_growth(double charge);

}  // namespace tiepoint
