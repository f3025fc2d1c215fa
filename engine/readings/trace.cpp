#include "engine/readings/trace.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace tiepoint {
namespace {

constexpr double kUnknown = std::numeric_limits<double>::quiet_NaN();
constexpr double kHysteresis = 0.1;  // of peak to peak, for counting periods
constexpr double kInfinity = std::numeric_limits<double>::infinity();

double between(const Sample& a, const Sample& b, double time) {
  return b.time > a.time ? a.value + (b.value - a.value) * (time - a.time) / (b.time - a.time) : b.value;
}

// Integrals of v, v^2 and of the time above `middle` along straight pieces from `from` to `to`:
//   int v = (a + b) / 2 dt,   int v^2 = (a^2 + a b + b^2) / 3 dt.
struct Integrals {
  double mean = 0, square = 0, above = 0, time = 0;
};

Integrals integrate(std::span<const Sample> samples, double from, double to, double middle) {
  Integrals sum;
  for (size_t i = 1; i < samples.size(); ++i) {
    const Sample &p = samples[i - 1], &q = samples[i];
    const double begin = std::max(from, p.time), end = std::min(to, q.time), dt = end - begin;
    if (!(dt > 0) || std::isnan(p.value) || std::isnan(q.value)) continue;
    const double a = between(p, q, begin), b = between(p, q, end);
    sum.mean += (a + b) / 2 * dt;
    sum.square += (a * a + a * b + b * b) / 3 * dt;
    sum.time += dt;
    const double highest = std::max(a, b), lowest = std::min(a, b);
    sum.above += highest <= middle ? 0 : lowest >= middle ? dt : dt * (highest - middle) / (highest - lowest);
  }
  return sum;
}

// A bucket as it is drawn, with the end of the one before it where that is known.
struct Line {
  std::array<Sample, 5> points;
  int count = 0;
  void add(double time, double value) { points[size_t(count++)] = {time, value}; }
  std::span<const Sample> span() const { return {points.data(), size_t(count)}; }
  Integrals known(const Bucket& b) const { return integrate(span(), b.since, b.end, 0); }
};

Line line_of(const Bucket& b, const Bucket* before) {
  Line out;
  if (before && b.since < b.begin) out.add(b.since, before->last);
  out.add(b.begin, b.first);
  const double middle = (b.begin + b.end) / 2;
  const bool rises = b.last >= b.first;
  const double one = rises ? b.low : b.high, other = rises ? b.high : b.low;
  if (one != b.first && one != b.last) out.add(middle, one);
  if (other != b.first && other != b.last) out.add(middle, other);
  if (b.end > b.begin) out.add(b.end, b.last);
  return out;
}

// The same as above of a trace: where lines leave something out, as its buckets know it. A bucket that is cut has its share of that. Time
// above the middle: of a voltage that jumps between two levels by its mean, which is so when (v - low)(high - v) is nothing all the time
// (its mean is an eighth of the swing's square for a sine, a sixth for straight edges), else by the lines.
constexpr double kTwoLevels = 0.03;

Integrals integrate(const Trace& trace, double from, double to, double middle) {
  Integrals sum;
  for (size_t i = 0; i < trace.size(); ++i) {
    const Bucket& b = trace.at(i);
    const double whole = b.end - b.since, begin = std::max(from, b.since), end = std::min(to, b.end);
    if (!(whole > 0) || !(end > begin) || std::isnan(b.first)) continue;
    const Line line = line_of(b, i > 0 ? &trace.at(i - 1) : nullptr);
    const Integrals all = integrate(line.span(), b.since, b.end, middle);
    const bool cut = begin > b.since || end < b.end;
    Integrals part = cut ? integrate(line.span(), begin, end, middle) : all;
    const double share = (end - begin) / whole;
    part.mean += share * (b.area - all.mean), part.square += share * (b.square - all.square);
    double low = b.low, high = b.high;
    if (line.points[0].time < b.begin) low = std::min(low, line.points[0].value), high = std::max(high, line.points[0].value);
    const double swing = high - low, between = (low + high) * b.area - b.square - low * high * whole;
    if (low < middle && high > middle && between < kTwoLevels * swing * swing * whole)
      part.above += share * (std::clamp((b.area - low * whole) / swing, 0.0, whole) - all.above);
    sum.mean += part.mean, sum.square += part.square, sum.above += part.above, sum.time += part.time;
  }
  return sum;
}

}  // namespace

Trace::Trace(size_t buckets, double bucket_time) : ring_(std::max<size_t>(buckets, 2)), bucket_time_(bucket_time) {}

void Trace::clear() {
  start_ = size_ = 0;
  gap_ = false;
}

void Trace::add(double time, double value, double mean, double square) {
  if (size_ > 0 && !(time > at(size_ - 1).end)) return;
  double since = time, area = 0, squares = 0;
  if (std::isnan(value)) {
    if (gap_) return;  // one bucket marks the whole gap
    gap_ = true;
  } else {
    Bucket* last = size_ > 0 ? &ring_[(start_ + size_ - 1) % ring_.size()] : nullptr;
    if (last && !gap_) {
      since = last->end;
      const double a = last->last, dt = time - since;
      area = dt * (std::isnan(mean) ? (a + value) / 2 : mean);
      squares = dt * (std::isnan(square) ? (a * a + a * value + value * value) / 3 : square);
    }
    if (last && !gap_ && time - last->begin < bucket_time_) {
      last->end = time, last->last = value;
      last->area += area, last->square += squares;
      last->low = std::min(last->low, value), last->high = std::max(last->high, value);
      return;
    }
    gap_ = false;
  }
  if (size_ == ring_.size()) start_ = (start_ + 1) % ring_.size(), --size_;
  ring_[(start_ + size_++) % ring_.size()] = {time, time, value, value, value, value, since, area, squares};
}

void Trace::rebucket(double bucket_time) {
  if (bucket_time == bucket_time_) return;
  std::vector<Bucket> kept;
  for (size_t i = 0; i < size_; ++i) kept.push_back(at(i));
  bucket_time_ = bucket_time;
  clear();
  for (size_t i = 0; i < kept.size(); ++i) {
    const Line line = line_of(kept[i], i > 0 ? &kept[i - 1] : nullptr);
    const Integrals known = line.known(kept[i]);  // what lines leave out is spread over the bucket
    const double more = known.time > 0 ? (kept[i].area - known.mean) / known.time : 0;
    const double more_square = known.time > 0 ? (kept[i].square - known.square) / known.time : 0;
    for (int k = line.count > 1 && line.points[0].time < kept[i].begin ? 1 : 0; k < line.count; ++k) {
      const Sample& q = line.points[size_t(k)];
      if (k == 0) {
        add(q.time, q.value);
        continue;
      }
      const double a = line.points[size_t(k) - 1].value, b = q.value;
      add(q.time, b, (a + b) / 2 + more, (a * a + a * b + b * b) / 3 + more_square);
    }
  }
}

void Trace::samples(std::vector<Sample>& out) const {
  out.clear();
  for (size_t i = 0; i < size_; ++i) {
    const Line line = line_of(at(i), nullptr);
    out.insert(out.end(), line.points.begin(), line.points.begin() + line.count);
  }
}

std::vector<Sample> Trace::samples() const {
  std::vector<Sample> out;
  out.reserve(2 * size_);
  samples(out);
  return out;
}

std::vector<Column> Trace::columns(double from, double to, size_t count) const {
  std::vector<Column> out(count);
  into_columns(samples(), from, to, out);
  return out;
}

void into_columns(std::span<const Sample> all, double from, double to, std::span<Column> out) {
  std::fill(out.begin(), out.end(), Column{kInfinity, -kInfinity});
  const size_t count = out.size();
  if (count == 0 || !(to > from)) return;
  const double width = (to - from) / double(count);
  const auto column_of = [&](double time) { return std::clamp((time - from) / width, -1.0, double(count)); };
  // A straight piece reaches, in every column it passes, from its value at the one border to that at the other.
  const auto line = [&](Sample a, Sample b) {
    if (std::isnan(a.value) || std::isnan(b.value) || b.time < from || a.time >= to) return;
    const int first = std::max(0, int(std::floor(column_of(a.time)))), last = std::min(int(count) - 1, int(std::floor(column_of(b.time))));
    for (int c = first; c <= last; ++c) {
      const double begin = std::max(a.time, from + c * width), end = std::min(b.time, from + (c + 1) * width);
      for (const double v : {between(a, b, begin), between(a, b, end)})
        out[size_t(c)].low = std::min(out[size_t(c)].low, v), out[size_t(c)].high = std::max(out[size_t(c)].high, v);
    }
  };
  if (all.size() == 1) line(all[0], all[0]);
  for (size_t i = 1; i < all.size(); ++i) line(all[i - 1], all[i]);
}

std::vector<double> crossings(std::span<const Sample> samples, Edge edge, double level, double hysteresis) {
  std::vector<double> out;
  crossings(samples, edge, level, hysteresis, out);
  return out;
}

void crossings(std::span<const Sample> samples, Edge edge, double level, double hysteresis, std::vector<double>& out) {
  out.clear();
  const double sign = edge == Edge::kRising ? 1 : -1;
  bool armed = false;
  for (size_t i = 0; i < samples.size(); ++i) {
    const double height = sign * (samples[i].value - level);
    if (std::isnan(height)) {
      armed = false;
      continue;
    }
    if (armed && height >= 0) {
      const Sample &a = samples[i - 1], &b = samples[i];
      const double before = sign * (a.value - level);
      // Armed further back, above the level already but for the noise: it crossed where the last piece does.
      out.push_back(before < 0 ? a.time + (b.time - a.time) * before / (before - height) : b.time);
      armed = false;
    }
    if (height < 0 && height <= -hysteresis) armed = true;
  }
}

namespace {
Measured measured(const Trace* trace, std::span<const Sample> samples, std::vector<double>& rises);
}

Measured measure(std::span<const Sample> samples) {
  std::vector<double> scratch;
  return measure(samples, scratch);
}

Measured measure(std::span<const Sample> samples, std::vector<double>& rises) { return measured(nullptr, samples, rises); }

Measured measure(const Trace& trace, std::span<const Sample> samples, std::vector<double>& scratch) {
  return measured(&trace, samples, scratch);
}

namespace {
constexpr double kLeastBuckets = 2.5;  // of a period: of less a bucket has both extremes, and there is a crossing in each whatever goes by

Measured measured(const Trace* trace, std::span<const Sample> samples, std::vector<double>& rises) {
  Measured m{kUnknown, kUnknown, kUnknown, kUnknown, kUnknown, kUnknown, kUnknown, kUnknown};
  double low = kInfinity, high = -kInfinity;
  for (const Sample& s : samples)
    if (!std::isnan(s.value)) low = std::min(low, s.value), high = std::max(high, s.value);
  if (low > high) return m;
  m.low = low, m.high = high, m.peak_to_peak = high - low;
  const double middle = (low + high) / 2;
  rises.clear();
  if (m.peak_to_peak > 0) crossings(samples, Edge::kRising, middle, kHysteresis * m.peak_to_peak, rises);
  double from = samples.front().time, to = samples.back().time;
  if (rises.size() >= 2 && trace && rises.back() - rises.front() < kLeastBuckets * double(rises.size() - 1) * trace->bucket_time()) {
    m.dense = true;
  } else if (rises.size() >= 2) {
    from = rises.front(), to = rises.back();
    m.periods = int(rises.size()) - 1;
    m.period = (to - from) / m.periods;
    m.frequency = 1 / m.period;
  }
  const Integrals sum = trace ? integrate(*trace, from, to, middle) : integrate(samples, from, to, middle);
  if (sum.time > 0) {
    m.mean = sum.mean / sum.time;
    m.rms = std::sqrt(sum.square / sum.time);
    if (m.periods > 0) m.duty = sum.above / sum.time;
  } else {
    m.mean = low, m.rms = std::fabs(low);
  }
  return m;
}
}  // namespace

std::optional<double> trigger_time(std::span<const Sample> samples, const Trigger& trigger, double before, double after) {
  std::vector<double> scratch;
  return trigger_time(samples, trigger, before, after, scratch);
}

std::optional<double> trigger_time(std::span<const Sample> samples, const Trigger& trigger, double before, double after, std::vector<double>& times) {
  if (samples.empty()) return std::nullopt;
  const double oldest = samples.front().time, newest = samples.back().time;
  std::optional<double> found;
  crossings(samples, trigger.edge, trigger.level, trigger.hysteresis, times);
  for (const double time : times) {
    if (time - before < oldest || time + after > newest) continue;
    if (trigger.mode == TriggerMode::kSingle) {
      if (time < trigger.armed_at) continue;
      return time;
    }
    found = time;
  }
  if (found || trigger.mode != TriggerMode::kAuto) return found;
  return newest - after;
}

}  // namespace tiepoint
