// Scope: what an oscilloscope of the bench records and has on its screen.
//
// While it runs, every step of the simulation goes into a trace per channel (trace.h). The memory is four screens deep, in buckets of
// 1/1024 of a screen, each with its lowest and highest value: bounded, and no peak is lost. A screen is a stretch of time cut out of
// it: around the trigger, or, as a strip chart, the newest. Held, and once a single picture is caught, nothing is recorded.
#pragma once

#include <array>
#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "engine/board/board.h"
#include "engine/parts/oscilloscope.h"
#include "engine/readings/trace.h"

namespace tiepoint {

// The settings on the front, taken from the values of the part.
struct ScopeSettings {
  struct Channel {
    bool shown = false;
    double volts = 1;     // [V] one square up
    double position = 0;  // [squares] of its zero above the middle
    bool operator==(const Channel&) const = default;
  };
  bool running = true, chart = false;
  double time = 1e-3;  // [s] one square across
  double shift = 0;    // [squares] of the trigger to the right of the middle
  int source = 0;      // channel of the trigger
  TriggerMode mode = TriggerMode::kAuto;
  Edge edge = Edge::kRising;
  double level = 0;    // [V]
  bool time_cursors = false, level_cursors = false;
  int cursor_channel = 0;
  std::array<double, 2> time_cursor = {}, level_cursor = {};  // [squares] right of, above the middle
  int channels = 0;
  std::array<Channel, kMostChannels> channel = {};
  bool operator==(const ScopeSettings&) const = default;

  double span() const { return time * kSquaresAcross; }                  // [s]
  double before() const { return time * (kSquaresAcross / 2 + shift); }  // [s] on the screen ahead of the trigger
  double height(int c, double voltage) const { return channel[size_t(c)].position + voltage / channel[size_t(c)].volts; }  // [squares]
  double voltage(int c, double height) const { return (height - channel[size_t(c)].position) * channel[size_t(c)].volts; }  // [V]
};
ScopeSettings scope_settings(const Part& part);

enum class ScopeState {
  kNothing,    // nothing recorded yet
  kFree,       // running without a trigger
  kTriggered,  // the picture stands at its trigger
  kWaiting,    // for a trigger
  kCaught,     // a single picture was taken
  kHeld,       // held by hand
  kChart,      // the strip runs
};
std::string_view key(ScopeState state);

struct ScopeScreen {
  ScopeState state = ScopeState::kNothing;
  double from = 0, to = 0;  // [s] times of the left and the right edge
  double zero = 0;          // [s] what the time axis counts from: the trigger, or the right edge
  struct Picture {
    std::vector<Sample> samples;  // what lies on the screen, with one more at either side
    Measured measured;            // of that; NaN where there is none. The frequency of a running wave: of all that is remembered,
                                  // when less than a period is in sight; none where more
                                  // periods go by than the memory can tell apart
  };
  std::array<Picture, kMostChannels> channel;
};

class Scope {
 public:
  explicit Scope(const ScopeSettings& settings);

  void set(const ScopeSettings& settings, double now);
  const ScopeSettings& settings() const { return settings_; }
  bool records() const { return settings_.running && !caught_; }
  double finest() const { return settings_.span() / 1024; }   // [s] of a bucket
  double sampling() const { return settings_.span() / 256; }  // [s] between samples, that curves look like curves

  // `mean` [V] and `square` [V^2]: see Trace::add.
  void add(int channel, double time, double voltage, double mean = std::numeric_limits<double>::quiet_NaN(),
           double square = std::numeric_limits<double>::quiet_NaN());
  // Nothing is known between the sample before and the next one.
  void gap(int channel, double time);
  // The voltages stayed what they were until `time`.
  void stay(double time);
  // Brings the screen up to `now` [s].
  void look(double now);
  // A single picture may be taken again, from `now` on.
  void arm(double now);
  // The picture would still change though the voltages do not: the last movement has not yet reached its place.
  bool unsettled(double now) const;
  const ScopeScreen& screen() const { return screen_; }
  uint64_t revision() const { return revision_; }  // +1 with each new picture

 private:
  void cut(double from, double zero, double to, ScopeState state);
  std::optional<double> find_trigger(double* newest);

  ScopeSettings settings_;
  std::vector<Trace> traces_;  // per channel
  std::vector<double> last_;   // [V] per channel
  // [V] per channel, the newest that went by and was not recorded: what is recorded next does not follow on.
  std::vector<std::optional<double>> missed_;
  double known_since_ = -1e300;  // [s] when recording last began anew: pictures lie behind that
  ScopeScreen screen_;
  bool caught_ = false, seen_ = false;
  double armed_at_ = 0;  // [s]
  double moved_at_ = -1e300;  // [s] when a voltage last changed
  uint64_t revision_ = 0;
  std::vector<Sample> all_;  // scratch
  std::vector<double> times_;
};

// The settings that show what the channels have on them now: two to five periods, each trace in its own part of the screen, the
// trigger half way up. Nothing where no channel has recorded anything.
std::optional<ScopeSettings> fitted(const Scope& scope);

}  // namespace tiepoint
