// The interface of an electrical model, and the table of all models.
//
// A circuit is the charge-oriented system  d/dt q(x) + f(x, t) = 0  over unknowns x: node voltages, then each element's extra
// unknowns (a source's or coil's current). An element contributes local f and q: rows 0..terminals-1 are currents INTO the
// element [A] and charges [C] at its terminals, rows after that are its own equations. Jacobians are df/dx and dq/dx, local,
// row-major m*m with m = terminals + extra. Formula and source stand at the top of each model's file.
#pragma once

#include <array>
#include <span>
#include <string_view>

#include "engine/parts/element.h"

namespace tiepoint {

inline constexpr int kMaxLocal = 24;      // most local unknowns of any model
inline constexpr int kMaxParameters = 16;  // most parameters of any model

struct ParameterSpec {
  std::string_view name;  // as in circuit files: "resistance"
  std::string_view unit;
  double standard;        // default; NaN: must be given
  double minimum, maximum;
};

// What evaluate fills; zeroed by the caller. Handed on by reference: a copy reads two pointers of 32 bits as one number of 64 just after they
// were written, and a processor waits for that (a quarter of a step as WebAssembly).
struct Local {
  double* f;    // [m]
  double* q;    // [m]
  double* df;   // [m*m]
  double* dq;   // [m*m]
};

struct Instant {  // circumstances of an evaluation
  double time = 0;          // [s]
  double since = 0;         // [s] start of the smooth piece of time that is being solved: a waveform is followed on the piece that
                            // begins there, so that a step may end exactly on a corner and still see the value before it
  double source_scale = 1;  // 0..1 during source stepping
  int mode = 0;             // discrete state of the element, 0 for models without one
  double mode_since = 0;    // [s] when that mode began
};

struct Model {
  ElementKind kind;
  std::string_view name;                        // spelled out, as in circuit files: "voltage-source"
  std::span<const std::string_view> terminals;
  std::span<const ParameterSpec> parameters;
  std::string_view joins;                       // a letter per terminal: equal letters are joined by a path for direct current
  int extra = 0;                                // own unknowns after the terminals
  int (*extra_for)(std::span<const double> p) = nullptr;  // when their number depends on the parameters; at most `extra`
  bool linear = true;                           // df and dq do not depend on x (they may on the mode, and on `since`)
  bool stores = false;                          // has charge or flux
  int charge_row = -1;                          // own row whose charge stands on terminal 0 (+) and 1 (-), when it exists
  bool supplies = false;                        // an independent source of energy: gives its group a reference (its last terminal)
  bool shorts = false;                          // an ideal voltage V(t) between two terminals; its own row is v(p) - v(n) - V(t)
  bool timed = false;                           // f depends on time
  bool looks_again = false;                     // goes back to mode 0 whenever something about the circuit is changed
  void (*evaluate)(std::span<const double> p, const double* x, const Instant& at, const Local& out) = nullptr;
  // Junction limiting: moves `x` (proposed local unknowns) back towards `last`; true when it changed anything.
  bool (*limit)(std::span<const double> p, const double* last, double* x) = nullptr;
  // The same on the way to a settled state, with longer strides: soon there, and not to be relied on. Null: limit.
  bool (*stride)(std::span<const double> p, const double* last, double* x) = nullptr;
  // Charges and fluxes at the start, from initial conditions in the parameters, into q[m] (zeroed by the caller).
  void (*initial)(std::span<const double> p, double* q) = nullptr;
  // Next instant > time at which a timed model has a corner; +inf when none.
  double (*next_corner)(std::span<const double> p, double time) = nullptr;
  // Timed models: does f change between corners, in the piece that begins at `since`? And the longest step that still sees it [s].
  bool (*moving)(std::span<const double> p, double since) = nullptr;
  double (*longest_step)(std::span<const double> p) = nullptr;
  // Discrete states (latches, hysteresis): event(k) crosses zero from below when the element must change mode; next_mode says to
  // which. Both null for models without modes.
  int events = 0;
  double (*event)(std::span<const double> p, const double* x, const Instant& at, int k) = nullptr;
  int (*next_mode)(std::span<const double> p, const double* x, const Instant& at) = nullptr;
  // Modes that end by themselves (a relay's armature on its way, a gate's output that follows its inputs): how long a mode lasts
  // [s], +inf for ever, and the mode that comes after. An event on the way starts another mode and the wait anew. A settled state
  // does not wait.
  double (*lasts)(std::span<const double> p, int mode) = nullptr;
  int (*after)(std::span<const double> p, int mode) = nullptr;
};

// The number of own unknowns of an element with these parameters.
inline int extra_of(const Model& m, std::span<const double> p) { return m.extra_for ? m.extra_for(p) : m.extra; }

extern const std::array<const Model*, size_t(ElementKind::kCount)> kModels;  // in the order of ElementKind
inline const Model& model(ElementKind kind) { return *kModels[size_t(kind)]; }
inline std::span<const Model* const> models() { return kModels; }
const Model* find_model(std::string_view name);  // null when unknown

inline constexpr double kThermalVoltage = 0.025852;  // [V] kT/q at 300 K (the reference temperature of the junction models)

}  // namespace tiepoint
