// Independent sources.
//   Voltage source: unknown of its own is the current i into p;  v_p - v_n = V(t).
//   Current source: I(t) flows into p, through the source, and out of n.
#include "engine/devices/source.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/devices/list.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

constexpr std::string_view kTerminals[] = {"p", "n"};
#define TIEPOINT_WAVEFORM(unit)                                                                                                \
  {"waveform", "", 0, 0, double(Waveform::kCount) - 1}, {"amplitude", unit, 0, -1e12, 1e12}, {"offset", unit, 0, -1e12, 1e12}, \
      {"frequency", "Hz", 0, 0, 1e12}, {"phase", "rad", 0, -1e6, 1e6}, {"delay", "s", 0, 0, 1e9}, {"rise", "s", 0, 0, 1e9},    \
      {"fall", "s", 0, 0, 1e9}, {"width", "s", kInfinite, 0, kInfinite}, {                                                     \
    "duty", "", 0.5, 0, 1                                                                                                      \
  }
constexpr ParameterSpec kVoltageParameters[] = {TIEPOINT_WAVEFORM("V")};
constexpr ParameterSpec kCurrentParameters[] = {TIEPOINT_WAVEFORM("A")};
#undef TIEPOINT_WAVEFORM

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kSnap = 1e-9;  // of a period (or of the elapsed time): nearer to a corner than this is on it

// Square, pulse and step as one trapezoid: low until `start`, then rise, high, fall, low, again every `period`.
struct Trapezoid {
  double low, high, before;            // levels; `before` the first start
  double start, rise, high_for, fall;  // [s]
  double period;                       // [s] infinite: once
  double end(int piece) const {        // offset of the end of rise, high and fall from the start of a period
    return piece == 0 ? rise : piece == 1 ? rise + high_for : rise + high_for + fall;
  }
};

Trapezoid trapezoid(std::span<const double> p) {
  const double top = p[kOffset] + p[kAmplitude];
  const double period = p[kFrequency] > 0 ? 1 / p[kFrequency] : kInfinite;
  switch (Waveform(int(p[kWaveform]))) {
    case Waveform::kSquare: {
      const double low = p[kOffset] - p[kAmplitude];
      if (std::isinf(period)) return {low, top, low, p[kDelay], p[kRise], kInfinite, 0, kInfinite};
      const double shift = p[kPhase] / kTurn - std::floor(p[kPhase] / kTurn);
      const double high_for = std::max(0.0, p[kDuty] * period - p[kRise]);
      return {low, top, low, p[kDelay] - shift * period, p[kRise], high_for, p[kFall], period};
    }
    case Waveform::kPulse:
      return {p[kOffset], top, p[kOffset], p[kDelay], p[kRise], p[kWidth], p[kFall], period};
    default:
      return {p[kOffset], top, p[kOffset], p[kDelay], p[kRise], kInfinite, 0, kInfinite};
  }
}

// Where `time` lies: the start of its period and the piece (0 rise, 1 high, 2 fall, 3 low; -1 before the first).
struct Piece {
  double origin;
  int index;
};

Piece piece_at(const Trapezoid& w, double time) {
  double origin = w.start;
  double slack = kSnap * (std::isinf(w.period) ? std::fabs(w.start) : w.period);
  slack = std::max(slack, 4e-16 * std::fabs(time));
  if (time < w.start - slack) return {w.start, -1};
  if (!std::isinf(w.period)) origin += w.period * std::floor((time - w.start + slack) / w.period);
  for (int piece = 0; piece < 3; ++piece)
    if (time < origin + w.end(piece) - slack) return {origin, piece};
  return {origin, 3};
}

double on_piece(const Trapezoid& w, Piece piece, double time) {
  const double u = time - piece.origin;
  switch (piece.index) {
    case -1:
      return w.before;
    case 0:
      return w.low + (w.high - w.low) * std::clamp(u / w.rise, 0.0, 1.0);
    case 1:
      return w.high;
    case 2:
      return w.high + (w.low - w.high) * std::clamp((u - w.rise - w.high_for) / w.fall, 0.0, 1.0);
    default:
      return w.low;
  }
}

double trapezoid_corner(const Trapezoid& w, double time) {
  const Piece now = piece_at(w, time);
  if (now.index < 0) return w.start;
  if (now.index < 3) return now.origin + w.end(now.index);
  return now.origin + w.period;
}

Waveform shape(std::span<const double> p) { return Waveform(int(p[kWaveform])); }

double next_corner(std::span<const double> p, double time) {
  switch (shape(p)) {
    case Waveform::kDc:
      return kInfinite;
    case Waveform::kSine:
      return p[kDelay] > time + 4e-16 * std::fabs(time) ? p[kDelay] : kInfinite;
    default:
      return trapezoid_corner(trapezoid(p), time);
  }
}

bool moving(std::span<const double> p, double since) {
  switch (shape(p)) {
    case Waveform::kDc:
      return false;
    case Waveform::kSine:
      return next_corner(p, since) == kInfinite && p[kAmplitude] != 0 && p[kFrequency] != 0;
    default: {
      const int piece = piece_at(trapezoid(p), since).index;
      return piece == 0 || piece == 2;
    }
  }
}

// A step that spans a good part of a period could find the same value at all its stages.
double longest_step(std::span<const double> p) {
  return shape(p) == Waveform::kSine && p[kFrequency] > 0 ? 0.1 / p[kFrequency] : kInfinite;
}

void evaluate_voltage(std::span<const double> p, const double* x, const Instant& at, const Local& out) {
  out.f[0] = x[2], out.f[1] = -x[2];
  out.df[2] = 1, out.df[5] = -1;
  out.f[2] = x[0] - x[1] - at.source_scale * waveform_value(p, at.time, at.since);
  out.df[6] = 1, out.df[7] = -1;
}

void evaluate_current(std::span<const double> p, const double*, const Instant& at, const Local& out) {
  const double current = at.source_scale * waveform_value(p, at.time, at.since);
  out.f[0] = current, out.f[1] = -current;
}

}  // namespace

double waveform_value(std::span<const double> p, double time, double since) {
  switch (shape(p)) {
    case Waveform::kDc:
      return p[kOffset] + p[kAmplitude];
    case Waveform::kSine: {
      const double u = std::max(0.0, time - p[kDelay]);
      return p[kOffset] + p[kAmplitude] * std::sin(kTurn * p[kFrequency] * u + p[kPhase]);
    }
    default: {
      const Trapezoid w = trapezoid(p);
      return on_piece(w, piece_at(w, since), time);
    }
  }
}

const Model kVoltageSourceModel = {.kind = ElementKind::kVoltageSource,
                                   .name = "voltage-source",
                                   .terminals = kTerminals,
                                   .parameters = kVoltageParameters,
                                   .joins = "aa",
                                   .extra = 1,
                                   .supplies = true,
                                   .shorts = true,
                                   .timed = true,
                                   .evaluate = evaluate_voltage,
                                   .next_corner = next_corner,
                                   .moving = moving,
                                   .longest_step = longest_step};

const Model kCurrentSourceModel = {.kind = ElementKind::kCurrentSource,
                                   .name = "current-source",
                                   .terminals = kTerminals,
                                   .parameters = kCurrentParameters,
                                   .joins = "ab",
                                   .supplies = true,
                                   .timed = true,
                                   .evaluate = evaluate_current,
                                   .next_corner = next_corner,
                                   .moving = moving,
                                   .longest_step = longest_step};

}  // namespace tiepoint
