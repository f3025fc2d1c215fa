#include "tests/random/verdict.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace tiepoint::random_boards {

// How far currents may miss each other: what would be lost in the noise of a good bench meter, or a millionth of what flows there. Our own
// choice, no source.
constexpr double kSmall = 1e-9, kShare = 1e-6;

Verdict judge(const Circuit& circuit, const Solution& solution) {
  Verdict out;
  if (!solution.ok()) return out;
  out.solved = true;
  std::vector<double> sum(size_t(circuit.node_count), 0.0), largest(sum);
  std::vector<int> group = galvanic_groups(circuit);
  for (const Element& e : circuit.elements) {
    double in = 0, most = 0;
    bool read = true;
    for (int k = 0; k < e.terminal_count; ++k) {
      const int node = circuit.terminals[size_t(e.first_terminal + k)];
      const double i = solution.terminal_current[size_t(e.first_terminal + k)];
      const double v = solution.node_voltage[size_t(node)];
      if (std::isnan(v)) read = false;
      if (std::isinf(i) || std::isinf(v))
        return out.wrong = "no number at " + circuit.element_name[size_t(&e - circuit.elements.data())], out;
      if (std::isnan(i)) {
        if (!std::isnan(v))
          return out.wrong = "a voltage without a current at " + circuit.element_name[size_t(&e - circuit.elements.data())],
                 out;
        continue;
      }
      in += i, most = std::max(most, std::fabs(i));
      sum[size_t(node)] += i, largest[size_t(node)] = std::max(largest[size_t(node)], std::fabs(i));
    }
    if (read && std::fabs(in) > kSmall + kShare * most)
      return out.wrong = "more goes into " + circuit.element_name[size_t(&e - circuit.elements.data())] + " than comes out",
             out;
  }
  for (int node = 0; node < circuit.node_count; ++node) {
    out.worst_current = std::max(out.worst_current, std::fabs(sum[size_t(node)]));
    if (largest[size_t(node)] > kSmall)
      out.worst_share = std::max(out.worst_share, std::fabs(sum[size_t(node)]) / largest[size_t(node)]);
    if (!(std::fabs(sum[size_t(node)]) <= kSmall + kShare * largest[size_t(node)]))
      return out.wrong = "currents do not sum to zero at " + circuit.node_name[size_t(node)] + ": " +
                         std::to_string(sum[size_t(node)] * 1e9) + " nA of " + std::to_string(largest[size_t(node)] * 1e9) +
                         " nA",
             out;
  }
  return out;
}

}  // namespace tiepoint::random_boards
