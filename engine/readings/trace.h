// Trace: a voltage recorded over time, and what an oscilloscope reads off it.
//
// A Trace keeps the newest stretch of time in a ring of buckets. A bucket holds the first, lowest, highest and last value of its
// piece of time, so that a peak survives however many samples share a bucket. Between samples the voltage is taken as straight.
#pragma once

#include <cstddef>
#include <limits>
#include <optional>
#include <span>
#include <vector>

namespace tiepoint {

struct Sample {
  double time;   // [s]
  double value;  // [V]
};

struct Bucket {
  double begin, end;               // [s] times of its first and last sample
  double first, low, high, last;   // [V]
  double since;                    // [s] end of the bucket before; where nothing is known before it, its own begin
  double area, square;             // [V s] [V^2 s] integrals of the voltage and its square from there to its end
};

// What falls into one of many equal pieces of time; low > high: nothing.
struct Column {
  double low, high;  // [V]
};

class Trace {
 public:
  // Keeps `buckets` >= 2 buckets of `bucket_time` seconds; 0: every sample is a bucket of its own.
  Trace(size_t buckets, double bucket_time);

  // Times rise; a sample that does not come after the one before replaces nothing and is left out. NaN: no reading, a gap. `mean` and
  // `square`: means of the voltage and of its square since the sample before, where more is known of them; NaN: it went straight.
  void add(double time, double value, double mean = std::numeric_limits<double>::quiet_NaN(),
           double square = std::numeric_limits<double>::quiet_NaN());
  void clear();
  // Other buckets from here on; what was recorded is kept as far as there is room.
  void rebucket(double bucket_time);

  size_t size() const { return size_; }
  double bucket_time() const { return bucket_time_; }
  const Bucket& at(size_t i) const { return ring_[(start_ + i) % ring_.size()]; }  // 0: the oldest
  // The trace as samples, oldest first: of each bucket first, low, high, last without repetitions. Low and high stand in the middle
  // of the bucket, in the order that makes the shorter line. `out` is written anew.
  void samples(std::vector<Sample>& out) const;
  std::vector<Sample> samples() const;
  std::vector<Column> columns(double from, double to, size_t columns) const;

 private:
  std::vector<Bucket> ring_;
  size_t start_ = 0, size_ = 0;
  double bucket_time_;
  bool gap_ = false;
};

// What falls into each of the equal pieces of [from, to): low and high including the line from the sample before.
void into_columns(std::span<const Sample> samples, double from, double to, std::span<Column> out);

// What is read off a piece of a trace. NaN where there is too little of it: frequency, period and duty need a whole period.
struct Measured {
  double low, high, peak_to_peak;  // [V]
  double mean, rms;                // [V] over whole periods where there are any, else over all of it
  double period, frequency;        // [s] [Hz]
  double duty;                     // share of the period above the middle between low and high
  int periods = 0;
  bool dense = false;              // there are more periods than the buckets can tell apart: none is told
};
Measured measure(std::span<const Sample> samples);
Measured measure(std::span<const Sample> samples, std::vector<double>& scratch);  // allocates nothing once that is warm

// Of samples that are a piece of this trace's: mean, RMS and duty go by what its buckets know of what lies between.
Measured measure(const Trace& trace, std::span<const Sample> samples, std::vector<double>& scratch);

enum class Edge { kRising, kFalling };
// Crossings of `level` in one direction, interpolated. After one the trace must go back beyond level -/+ hysteresis before the next
// counts, so that noise on a slow edge triggers once. [s]
std::vector<double> crossings(std::span<const Sample> samples, Edge edge, double level, double hysteresis);
void crossings(std::span<const Sample> samples, Edge edge, double level, double hysteresis, std::vector<double>& out);

enum class TriggerMode {
  kAuto,    // without a crossing the newest stretch is shown all the same
  kNormal,  // without a crossing nothing new is shown
  kSingle,  // the first crossing after it was armed, then nothing more
};
struct Trigger {
  TriggerMode mode = TriggerMode::kAuto;
  Edge edge = Edge::kRising;
  double level = 0;       // [V]
  double hysteresis = 0;  // [V]
  double armed_at = 0;    // [s] kSingle
};
// Where the picture of `before` seconds ahead of the trigger and `after` seconds behind it has its trigger: the newest one (kSingle:
// the first) with a whole picture around it. Nothing: the picture before stays.
std::optional<double> trigger_time(std::span<const Sample> samples, const Trigger& trigger, double before, double after);
std::optional<double> trigger_time(std::span<const Sample> samples, const Trigger& trigger, double before, double after, std::vector<double>& scratch);

}  // namespace tiepoint
