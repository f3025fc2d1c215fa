// What a digital chip's inside does, as functions of bits; logic.cpp wraps volts and amperes around it. Bit k of `inputs` is the k-th
// input, and so on.
#pragma once

#include <cstdint>

namespace tiepoint {

struct Machine {
  int inputs;
  int state_bits;
  int outputs;
  // The new inner state once the inputs have gone from `before` to `now`. Data are taken from `before`: they were there first.
  uint32_t (*step)(int function, uint32_t state, uint32_t before, uint32_t now);
  uint32_t (*show)(int function, uint32_t state, uint32_t inputs);
  uint32_t (*driven)(uint32_t inputs);  // outputs that are not left open
};

enum GateFunction { kNand, kNor, kAnd, kOr, kXor };  // of the two-input gate; the one-input gate is an inverter

namespace machines {
inline uint32_t all(uint32_t) { return ~uint32_t(0); }
uint32_t no_state(int function, uint32_t state, uint32_t before, uint32_t now);
uint32_t show_inverter(int function, uint32_t state, uint32_t inputs);
uint32_t show_gate(int function, uint32_t state, uint32_t inputs);
uint32_t step_flip_flop(int function, uint32_t state, uint32_t before, uint32_t now);
uint32_t show_flip_flop(int function, uint32_t state, uint32_t inputs);
uint32_t step_counter(int function, uint32_t state, uint32_t before, uint32_t now);
uint32_t show_counter(int function, uint32_t state, uint32_t inputs);
uint32_t step_shift_in(int function, uint32_t state, uint32_t before, uint32_t now);
uint32_t show_shift_in(int function, uint32_t state, uint32_t inputs);
uint32_t step_shift_out(int function, uint32_t state, uint32_t before, uint32_t now);
uint32_t show_shift_out(int function, uint32_t state, uint32_t inputs);
uint32_t driven_shift_out(uint32_t inputs);
uint32_t step_decade(int function, uint32_t state, uint32_t before, uint32_t now);
uint32_t show_decade(int function, uint32_t state, uint32_t inputs);
uint32_t step_segments(int function, uint32_t state, uint32_t before, uint32_t now);
uint32_t show_segments(int function, uint32_t state, uint32_t inputs);
}  // namespace machines

// Inputs | outputs.
inline constexpr Machine kInverterMachine = {1, 0, 1, machines::no_state, machines::show_inverter, machines::all};  // a | y
inline constexpr Machine kGateMachine = {2, 0, 1, machines::no_state, machines::show_gate, machines::all};  // a b | y
inline constexpr Machine kFlipFlopMachine = {4, 1, 2, machines::step_flip_flop, machines::show_flip_flop, machines::all};  // clear- data clock preset- | q q-
inline constexpr Machine kCounterMachine = {9, 4, 5, machines::step_counter, machines::show_counter, machines::all};  // clear- clock a b c d enable-p load- enable-t | qa qb qc qd carry (161)
inline constexpr Machine kShiftInMachine = {12, 8, 2, machines::step_shift_in, machines::show_shift_in, machines::all};  // load- clock d0..d7 serial inhibit | q7 q7- (165)
inline constexpr Machine kShiftOutMachine = {5, 16, 9, machines::step_shift_out, machines::show_shift_out, machines::driven_shift_out};  // serial enable- latch shift clear- | qa..qh qh' (595)
inline constexpr Machine kDecadeMachine = {3, 4, 11, machines::step_decade, machines::show_decade, machines::all};  // clock inhibit reset | q0..q9 carry (4017)
inline constexpr Machine kSegmentsMachine = {7, 4, 7, machines::step_segments, machines::show_segments, machines::all};  // a b c d test- blank- latch | a b c d e f g (4511)

}  // namespace tiepoint
