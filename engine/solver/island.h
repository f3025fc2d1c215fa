// Island: the equations of one separately solvable piece of a circuit, with fixed structure and changeable numbers.
//
// Notation: x[0..size) are the unknowns: the island's node voltages [V] first, then elements' own unknowns; x[size..total) are
// the voltages of the held nodes it touches, known at every instant. Rows of f [A or V], q [C or Wb] and mag run the same way.
// The equations are  d/dt q(x) + f(x, t) = 0  for rows 0..size; a is the factor of q in a stage of a time step [1/s], 0:
// settled.
#pragma once

#include <limits>
#include <span>
#include <vector>

#include "engine/circuit/circuit.h"
#include "engine/devices/model.h"
#include "engine/solver/arena.h"
#include "engine/solver/linear_solver.h"
#include "engine/solver/parameters.h"
#include "engine/solver/plan.h"

namespace tiepoint {

struct Member {  // an element of the island
  int element = -1;
  const Model* model = nullptr;
  std::span<const double> values;
  int m = 0;  // local unknowns
  int terminals = 0;
  int map = 0;                // maps[map + local]: index into x
  int slots = 0;              // matrix_slots[slots + row * m + column]: place in the matrix; the last slot takes what has none
  int last = -1;              // last_x[last..]: where a nonlinear member was evaluated last
  int local = -1;             // local[local..]: what it gave there
  bool charges = false;       // nonlinear, and has charge with these values: without, q and dq of local[] stay zero
  int mode = 0;               // discrete state
  double mode_since = 0;      // [s]
  double lasted[2] = {0, 0};  // [s] how long the mode before this one lasted, and the one before that

  void enter(int next, double time) {
    lasted[1] = lasted[0], lasted[0] = time - mode_since;
    mode = next, mode_since = time;
  }
};

struct Knot {  // see SolverPlan
  Row<int> rows;
  Row<int> members;      // that store charge on it
  int tied = -1;         // the row whose equation gives way
  Row<int> slots;        // places of that equation
  bool charged = false;  // false: nothing at all determines its voltage; it is taken as 0 V and has no reading
  double target = 0;     // [C] charge on it
  double scale = 1;      // [F] sum of capacitances, to make its equation one of volts
};

class Island {
 public:
  void build(const Circuit& circuit, const SolverPlan& plan, int island, const Parameters& parameters,
             Storage storage = Storage::kAutomatic);

  // New parameters, modes or piece of time: linear parts are gathered again.
  void refresh(const Parameters& parameters, double since);
  // Sets sources and held voltages to an instant. `held`: voltage of every held node of the plan.
  void prepare(double time, std::span<const double> held, double source_scale = 1);
  // f, q and the largest branch current of each row at x; with a matrix also df/dx + a * dq/dx, nonlinear members linearised
  // where limiting allows. Returns true when a member was held back (then f and q are those of the tangent at x).
  // `judged`: mag too.
  bool evaluate(double a, bool with_matrix, bool judged = true);
  // f and q alone, exactly at x.
  void evaluate_exactly();
  // For steps of one linearisation. Charges in proportion to the unknowns are called straight, the others curved.
  void linearise(double a);           // f and q exactly at x, and the matrix there with tangents that stay
  void matrix_of_tangents(double a);  // the same matrix for another a
  void evaluate_aside();              // f exactly at x, of q the curved charges alone; the tangents stay
  bool charges_curve() const { return !charging_.empty(); }
  void curved_charges(double* out) const;                 // out[size]: where the tangents touch
  void add_straight(const double* v, double* out) const;  // out[size] += dq/dx * v of the straight charges; v[size]
  void add_curved(const double* v, double* out) const;    // the same of the others, by the tangents
  // f and q at x by the tangents of the last evaluate: as good as the square of the way from there.
  void follow_tangents();
  // Replaces one equation of each knot that direct current does not determine; r[size], matrix may be null.
  void tie_knots(bool settled, double* r, bool with_matrix);
  double charge_on(const Knot& knot, const Member& member, const double* q, int step) const;
  void remember_knot_charges();                         // those at x
  void initial_charges(double* rows, bool into_knots);  // [size] from initial conditions; into_knots: and as the knots' targets
  // rate[row] = dq/dx * x_rate at x.
  void charge_rate(const double* x_rate, double* rate);
  // f, q of one member at x (not limited); arrays of member.m.
  void evaluate_member(const Member& member, const double* x, double* f, double* q) const;
  void evaluate_local(const Member& member, const double* at, double* f, double* q) const;  // the same at local unknowns
  // f of one member at x [m]; not worked out again where it was evaluated last.
  void terminal_currents(const Member& member, const double* x, double* f) const;
  // dq/dx * x_rate of one member at x.
  void member_charge_rate(const Member& member, const double* x, const double* x_rate, double* rate) const;
  void last_from_x();
  struct Branch {
    int a, b;
    double slope;
  };                                                                      // slope * (x[a] - x[b]) from a to b
  std::span<const Branch> capacitances() const { return capacitances_; }  // linear ones without resistance inside
  int diagonal(int node_row) const { return diagonal_[node_row]; }

  Instant instant(const Member& member) const { return {time, since, source_scale, member.mode, member.mode_since}; }
  std::span<const double> values(const Member& member) const { return member.values; }
  // A linear island's df/dx and dq/dx, dense and row-major [size * size].
  void linear_matrices(std::vector<double>* g, std::vector<double>* c) const;
  bool moving() const { return moving_; }  // a source changes within this piece of time
  double next_corner() const;              // of the members and held nodes, after `since`; a mode that ends is one
  static double mode_end(const Member& member, std::span<const double> p);
  double longest_step() const { return longest_step_; }

  int size = 0, total = 0, node_count = 0;
  Row<int> node_of_row;   // size node_count: circuit node of an unknown
  Row<int> owner_of_row;  // size `size`: element of an own unknown, -1 for nodes
  Row<int> held;          // total - size: index into SolverPlan::held
  Row<int> held_needed;   // the same and all they depend on, parents first
  Row<int> held_sources;  // elements whose waveform the held nodes follow
  Row<Member> members;
  Row<int> maps, matrix_slots;
  Row<Knot> knots;
  bool linear = true;   // no nonlinear member
  bool stores = false;  // some charge depends on some x, with the present values
  bool has_modes = false;
  bool strides = false;  // nonlinear members are held back by Model::stride where they have one

  Row<double> x, f, q, mag;
  // [size] largest conductance and capacitance at a row: times the voltages they bound the rounding of its currents and
  // charges.
  Row<double> stiffness, charge_stiffness;
  Row<double> row_error;  // [size]: scratch of the solver, residual and then update
  Row<double> matrix;     // slot_count + 1
  LinearSolver solver;
  bool factored_settled = false;                                 // whether knots were tied by charge in the present factors
  double factored_a = std::numeric_limits<double>::quiet_NaN();  // the a of the present factors, NaN: none
  const Parameters* parameters = nullptr;
  double time = 0, since = 0, source_scale = 1;

 private:
  struct Block {
    int member;
    int first;
  };  // linear member with local matrices block_df, block_dq [first..]
  struct Held {
    int row;
    double value;
  };  // constant or timed part of f

  void map_unknowns(const Circuit& circuit, const SolverPlan& plan, int island, const Parameters& parameters);
  void build_pattern(Storage storage);
  bool build_small_pattern();
  void gather_linear(const Member& member, int index);
  void ask_sources();
  void add_linear(double a);
  void local_x(const Member& member, const double* from, double* to) const {
    for (int k = 0; k < member.m; ++k) to[k] = from[maps[member.map + k]];
  }
  bool evaluate_nonlinear(double a, bool with_matrix, bool judged);
  template <int M>
  bool evaluate_one(const Member& member, const Instant& at_time, double a, bool with_matrix, bool judged);
  template <int M>
  void follow_one(const Member& member);
  template <int M>
  void evaluate_one_aside(const Member& member);
  void linear_rows(bool judged);

  Row<int> nonlinear_, sources_;  // indices into members
  Row<int> in_time_;              // those whose law or mode changes by itself
  bool given_charges_ = false;    // some member may have an initial condition
  Row<int> charging_;             // of the nonlinear ones, those that store charge with the present values
  struct Slope {
    int row, column;
    double value;
  };
  Row<Slope> block_slopes_, block_charge_slopes_;  // what is not zero in blocks; row (and column of charges) an unknown
  Row<Slope> curved_slopes_;                       // dq/dx of the tangents, where it is not zero
  Row<int> diagonal_;                              // places of the node diagonals
  Row<Branch> conductances_, capacitances_;
  Row<Block> blocks_;
  Row<double> block_df_, block_dq_;
  Row<double> source_f_;  // [total]
  Row<double> last_x_;
  Row<double> local_;                   // of each nonlinear member f, q, df, dq where it was evaluated last
  Row<double> base_f_, base_q_, base_;  // slots: linear df, dq, and df + base_a_ * dq
  double base_a_ = std::numeric_limits<double>::quiet_NaN();
  bool moving_ = false;
  double longest_step_ = std::numeric_limits<double>::infinity();
  int gathered_ = -1;  // revision of the parameters in the linear parts, -1: none
};

}  // namespace tiepoint
