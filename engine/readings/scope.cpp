#include "engine/readings/scope.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tiepoint {
namespace {

constexpr size_t kBuckets = 4096;
constexpr double kBucketsAScreen = 1024;
constexpr double kHysteresis = 0.2;   // [squares] that the trigger wants a signal to go back
constexpr double kForever = std::numeric_limits<double>::infinity();
constexpr double kStill = 0.02;       // [squares] less is no movement
constexpr double kLeastSwing = 0.1;   // [squares] less has no frequency that one could see

// First sample at or after a time.
size_t first_from(std::span<const Sample> samples, double time) {
  return size_t(std::lower_bound(samples.begin(), samples.end(), time, [](const Sample& s, double t) { return s.time < t; }) - samples.begin());
}

template <size_t N>
double step_at(const std::array<ScaleStep, N>& steps, double index) {
  return steps[std::min(size_t(std::max(index, 0.0)), N - 1)].value;
}

}  // namespace

std::string_view key(ScopeState state) {
  static constexpr std::string_view kKeys[] = {"nothing", "free", "triggered", "waiting", "caught", "held", "chart"};
  return kKeys[size_t(state)];
}

ScopeSettings scope_settings(const Part& part) {
  namespace v = scope_value;
  const auto at = [&](int index) { return part.values[size_t(index)]; };
  ScopeSettings s;
  s.channels = channels_of(*part.kind);
  s.running = at(v::kRunning) != 0;
  s.chart = at(v::kDisplay) != 0;
  s.time = step_at(kTimeScale, at(v::kTime));
  s.shift = at(v::kShift);
  s.source = int(at(v::kSource));
  s.mode = TriggerMode(int(at(v::kMode)));
  s.edge = at(v::kEdge) == 0 ? Edge::kRising : Edge::kFalling;
  s.level = at(v::kLevel);
  const int cursors = int(at(v::kCursors));
  s.time_cursors = (cursors & 1) != 0, s.level_cursors = (cursors & 2) != 0;
  s.cursor_channel = int(at(v::kCursorChannel));
  s.time_cursor = {at(v::kTime1), at(v::kTime2)};
  s.level_cursor = {at(v::kLevel1), at(v::kLevel2)};
  for (int c = 0; c < s.channels; ++c)
    s.channel[size_t(c)] = {at(v::of_channel(c, v::kShown)) != 0, step_at(kVoltScale, at(v::of_channel(c, v::kVolts))), at(v::of_channel(c, v::kPosition))};
  return s;
}

Scope::Scope(const ScopeSettings& settings)
    : settings_(settings), last_(size_t(settings.channels), std::numeric_limits<double>::quiet_NaN()), missed_(size_t(settings.channels)) {
  for (int c = 0; c < settings.channels; ++c) traces_.emplace_back(kBuckets, settings.span() / kBucketsAScreen);
}

void Scope::set(const ScopeSettings& settings, double now) {
  if (settings == settings_) return;
  const ScopeSettings before = settings_;
  settings_ = settings;
  if (settings.mode != before.mode || settings.running != before.running || settings.chart != before.chart) arm(now);
  for (Trace& trace : traces_) trace.rebucket(settings.span() / kBucketsAScreen);
  // What is on the screen stays there, at the new scale.
  if (seen_) cut(settings.chart ? screen_.zero - settings.span() : screen_.zero - settings.before(), screen_.zero,
                 settings.chart ? screen_.zero : screen_.zero - settings.before() + settings.span(), screen_.state);
  look(now);
}

void Scope::arm(double now) {
  caught_ = false;
  armed_at_ = now;
}

void Scope::add(int channel, double time, double voltage, double mean, double square) {
  if (!records()) return void(missed_[size_t(channel)] = voltage);
  Trace& trace = traces_[size_t(channel)];
  if (missed_[size_t(channel)]) {
    missed_[size_t(channel)].reset();
    if (trace.size() > 0) trace.add(std::nextafter(trace.at(trace.size() - 1).end, kForever), std::numeric_limits<double>::quiet_NaN());
    known_since_ = std::max(known_since_, time);
  }
  double& last = last_[size_t(channel)];
  if (!(std::fabs(voltage - last) <= kStill * settings_.channel[size_t(channel)].volts)) moved_at_ = time, last = voltage;
  trace.add(time, voltage, mean, square);
}

void Scope::gap(int channel, double time) {
  if (records()) traces_[size_t(channel)].add(time, std::numeric_limits<double>::quiet_NaN());
}

void Scope::stay(double time) {
  if (!records()) return;
  for (size_t c = 0; c < traces_.size(); ++c) {
    Trace& trace = traces_[c];
    if (missed_[c]) add(int(c), time, *missed_[c]);
    else if (trace.size() > 0) trace.add(time, trace.at(trace.size() - 1).last);
  }
}

bool Scope::unsettled(double now) const { return records() && now - moved_at_ < 1.1 * settings_.span(); }

std::optional<double> Scope::find_trigger(double* newest) {
  const size_t source = size_t(std::clamp(settings_.source, 0, settings_.channels - 1));
  traces_[source].samples(all_);
  if (all_.empty()) return std::nullopt;
  *newest = all_.back().time;
  const Trigger trigger = {.mode = settings_.mode == TriggerMode::kSingle ? TriggerMode::kSingle : TriggerMode::kNormal,
                           .edge = settings_.edge,
                           .level = settings_.level,
                           .hysteresis = kHysteresis * settings_.channel[source].volts,
                           .armed_at = armed_at_};
  const std::span<const Sample> whole = std::span<const Sample>(all_).subspan(first_from(all_, known_since_));
  return trigger_time(whole, trigger, settings_.before(), settings_.span() - settings_.before(), times_);
}

void Scope::look(double now) {
  if (!settings_.running) {
    if (screen_.state != ScopeState::kHeld) screen_.state = ScopeState::kHeld, ++revision_;
    return;
  }
  if (caught_) return;
  const double span = settings_.span(), before = settings_.before();
  if (settings_.chart) return cut(now - span, now, now, ScopeState::kChart);
  double newest = 0;
  const std::optional<double> trigger = find_trigger(&newest);
  if (trigger) {
    caught_ = settings_.mode == TriggerMode::kSingle;
    return cut(*trigger - before, *trigger, *trigger - before + span, caught_ ? ScopeState::kCaught : ScopeState::kTriggered);
  }
  if (all_.empty()) return;
  if (settings_.mode == TriggerMode::kAuto && seen_ && newest - span < known_since_) return;  // the picture before stays until a whole one is there
  if (settings_.mode == TriggerMode::kAuto) return cut(newest - span, newest - span + before, newest, ScopeState::kFree);
  if (screen_.state != ScopeState::kWaiting) screen_.state = ScopeState::kWaiting, ++revision_;
}

// Copies a stretch of every trace to the screen and measures it.
void Scope::cut(double from, double zero, double to, ScopeState state) {
  screen_.state = state;
  screen_.from = from, screen_.zero = zero, screen_.to = to;
  for (size_t c = 0; c < traces_.size(); ++c) {
    ScopeScreen::Picture& picture = screen_.channel[c];
    traces_[c].samples(all_);
    const size_t first = first_from(all_, from), last = first_from(all_, to);
    picture.samples.assign(all_.begin() + long(first > 0 ? first - 1 : 0), all_.begin() + long(std::min(last + 1, all_.size())));
    picture.measured = measure(traces_[c], picture.samples, times_);
    Measured& m = picture.measured;
    // A wave that runs on has its frequency even where less than a whole period of it is in sight.
    if (m.periods == 0 && !m.dense && (state == ScopeState::kTriggered || state == ScopeState::kFree)) {
      const Measured longer = measure(traces_[c], all_, times_);
      m.frequency = longer.frequency, m.period = longer.period, m.duty = longer.duty, m.periods = longer.periods;
    }
    if (m.peak_to_peak < kLeastSwing * settings_.channel[c].volts)
      m.frequency = m.period = m.duty = std::numeric_limits<double>::quiet_NaN(), m.periods = 0;
  }
  seen_ = true;
  ++revision_;
}

namespace {
// The first step of a 1-2-5 scale that is no smaller; the largest when none is.
template <size_t N>
double step_for(const std::array<ScaleStep, N>& steps, double least) {
  for (const ScaleStep& step : steps)
    if (step.value >= least * (1 - 1e-9)) return step.value;
  return steps.back().value;
}
}  // namespace

std::optional<ScopeSettings> fitted(const Scope& scope) {
  ScopeSettings s = scope.settings();
  int with_signal = 0, source = -1;
  double period = 0;
  for (int c = 0; c < s.channels; ++c) {
    const Measured& m = scope.screen().channel[size_t(c)].measured;
    if (!s.channel[size_t(c)].shown || std::isnan(m.low)) continue;
    ++with_signal;
    if (source < 0 || (period == 0 && m.peak_to_peak > scope.screen().channel[size_t(source)].measured.peak_to_peak)) source = c;
    if (period == 0 && m.period > 0) period = m.period, source = c;
    if (period == 0 && m.dense) period = scope.finest(), source = c;  // a first step towards it
  }
  if (source < 0) return std::nullopt;
  const double room = kSquaresUp / std::min(with_signal, 2) - (with_signal > 1 ? 0.5 : 1);  // [squares] high
  int place = 0;
  for (int c = 0; c < s.channels; ++c) {
    const Measured& m = scope.screen().channel[size_t(c)].measured;
    ScopeSettings::Channel& channel = s.channel[size_t(c)];
    if (!channel.shown || std::isnan(m.low)) continue;
    // Zero stays on the screen, so that one sees where it is.
    const double low = std::min(m.low, 0.0), high = std::max(m.high, 0.0);
    channel.volts = step_for(kVoltScale, (high - low) / room);
    const double middle = with_signal == 1 ? 0 : place % 2 == 0 ? kSquaresUp / 4 : -kSquaresUp / 4;
    channel.position = std::clamp(std::round((middle - (low + high) / 2 / channel.volts) * 4) / 4, -kSquaresUp / 2, kSquaresUp / 2);
    ++place;
  }
  if (period > 0) s.time = step_for(kTimeScale, 2.5 * period / kSquaresAcross), s.shift = 0;
  const Measured& m = scope.screen().channel[size_t(source)].measured;
  s.source = source;
  s.level = (m.low + m.high) / 2;
  s.mode = TriggerMode::kAuto;
  s.running = true;
  return s;
}

}  // namespace tiepoint
