// The function tables are those of the makers' sheets (74HC74, 161, 165, 595: Philips/TI; CD4017, CD4511: TI; from memory).
#include "engine/devices/logic_machine.h"

namespace tiepoint {
namespace {

bool bit(uint32_t word, int k) { return word >> k & 1; }
bool rises(uint32_t before, uint32_t now, int k) { return !bit(before, k) && bit(now, k); }

}  // namespace

namespace machines {

uint32_t no_state(int, uint32_t, uint32_t, uint32_t) { return 0; }

uint32_t show_inverter(int, uint32_t, uint32_t in) { return ~in & 1; }

uint32_t show_gate(int function, uint32_t, uint32_t in) {
  const uint32_t a = in & 1, b = in >> 1 & 1;
  switch (function) {
    case kNand: return (a & b) ^ 1;
    case kNor: return (a | b) ^ 1;
    case kAnd: return a & b;
    case kOr: return a | b;
    default: return a ^ b;
  }
}

// ---- D flip-flop; with clear and preset both low both outputs are high
enum { kClear, kData, kClock, kPreset };
uint32_t step_flip_flop(int, uint32_t state, uint32_t before, uint32_t now) {
  if (!bit(now, kPreset)) return 1;
  if (!bit(now, kClear)) return 0;
  return rises(before, now, kClock) ? bit(before, kData) : state;
}
uint32_t show_flip_flop(int, uint32_t state, uint32_t in) {
  const uint32_t q = state & 1, not_q = !bit(in, kClear) || !q;
  return q | not_q << 1;
}

// ---- Four-bit counter
enum { kCounterClear, kCounterClock, kFirstData, kEnableP = 6, kLoad, kEnableT };
uint32_t step_counter(int, uint32_t state, uint32_t before, uint32_t now) {
  if (!bit(now, kCounterClear)) return 0;
  if (!rises(before, now, kCounterClock)) return state;
  if (!bit(before, kLoad)) return before >> kFirstData & 15;
  return bit(before, kEnableP) && bit(before, kEnableT) ? (state + 1) & 15 : state;
}
uint32_t show_counter(int, uint32_t state, uint32_t in) { return state | uint32_t(bit(in, kEnableT) && state == 15) << 4; }

// ---- Eight bits in side by side, out one after another; the clock and its inhibit are one OR gate
enum { kParallelLoad, kShiftClock, kFirstBit, kSerial = 10, kInhibit };
uint32_t step_shift_in(int, uint32_t state, uint32_t before, uint32_t now) {
  if (!bit(now, kParallelLoad)) return now >> kFirstBit & 255;
  const auto clock = [](uint32_t in) { return bit(in, kShiftClock) || bit(in, kInhibit); };
  if (clock(before) || !clock(now)) return state;
  return (state << 1 | bit(before, kSerial)) & 255;
}
uint32_t show_shift_in(int, uint32_t state, uint32_t) { return bit(state, 7) ? 1 : 2; }

// ---- Eight bits in one after another, out side by side. State: shift register, then storage from bit 8
enum { kSerialIn, kOutputEnable, kStore, kShift, kShiftClear };
uint32_t step_shift_out(int, uint32_t state, uint32_t before, uint32_t now) {
  uint32_t shift = state & 255, storage = state >> 8;
  if (rises(before, now, kStore)) storage = shift;
  if (!bit(now, kShiftClear))
    shift = 0;
  else if (rises(before, now, kShift))
    shift = (shift << 1 | bit(before, kSerialIn)) & 255;
  return shift | storage << 8;
}
uint32_t show_shift_out(int, uint32_t state, uint32_t) { return state >> 8 | uint32_t(bit(state, 7)) << 8; }
uint32_t driven_shift_out(uint32_t in) { return bit(in, kOutputEnable) ? 256 : 511; }

// ---- Decade counter with decoded outputs
enum { kDecadeClock, kDecadeInhibit, kDecadeReset };
uint32_t step_decade(int, uint32_t state, uint32_t before, uint32_t now) {
  if (bit(now, kDecadeReset)) return 0;
  const auto clock = [](uint32_t in) { return bit(in, kDecadeClock) && !bit(in, kDecadeInhibit); };
  return !clock(before) && clock(now) ? (state + 1) % 10 : state;
}
uint32_t show_decade(int, uint32_t state, uint32_t) { return 1u << state | uint32_t(state < 5) << 10; }

// ---- Digit to seven segments, with a latch; sixes and nines have no tails, more than nine is blank
enum { kTest = 4, kBlank, kLatch };
uint32_t step_segments(int, uint32_t state, uint32_t, uint32_t now) { return bit(now, kLatch) ? state : now & 15; }
uint32_t show_segments(int, uint32_t state, uint32_t in) {
  // bits a b c d e f g
  constexpr uint32_t kShapes[10] = {0x3F, 0x06, 0x5B, 0x4F, 0x66, 0x6D, 0x7C, 0x07, 0x7F, 0x67};
  if (!bit(in, kTest)) return 0x7F;
  if (!bit(in, kBlank) || state > 9) return 0;
  return kShapes[state];
}

}  // namespace machines

}  // namespace tiepoint
