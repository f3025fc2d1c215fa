#include "shell/bench/page_scope.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "shell/bench/draw_scope.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {

void measured_text(PageJson& out, std::string_view name, double value, std::string_view unit) {
  out.key(name);
  std::isnan(value) ? out.null() : out.value(measured_value(value, unit));
}

// In hundredths of a square, as near as an eye asks for.
void square(PageJson& out, double value) { out.value(std::round(std::clamp(value, -99.0, 99.0) * 100) / 100); }

void write_columns(PageJson& out, const Scope& scope, int c, int count) {
  const ScopeScreen& screen = scope.screen();
  std::vector<Column> columns(static_cast<size_t>(count));
  into_columns(screen.channel[size_t(c)].samples, screen.from, screen.to, columns);
  out.key("columns").array();
  for (const Column& column : columns) {
    if (column.low > column.high) {
      out.null().null();
      continue;
    }
    square(out, scope.settings().height(c, column.low));
    square(out, scope.settings().height(c, column.high));
  }
  out.end_array();
}

void write_channel(PageJson& out, const Scope& scope, int c, int columns) {
  const ScopeSettings::Channel& channel = scope.settings().channel[size_t(c)];
  const Measured& m = scope.screen().channel[size_t(c)].measured;
  out.object().member("number", c + 1).member("volts", channel.volts).member("voltsText", say_quantity(channel.volts, "V"));
  out.member("text", scope_words(scope, c)).key("zero");
  square(out, channel.position);
  write_columns(out, scope, c, columns);
  out.key("measured").object();
  measured_text(out, "frequency", m.frequency, "Hz");
  measured_text(out, "period", m.period, "s");
  measured_text(out, "peakToPeak", m.peak_to_peak, "V");
  measured_text(out, "mean", m.mean, "V");
  measured_text(out, "rms", m.rms, "V");
  measured_text(out, "duty", m.duty * 100, "%");
  out.end_object().end_object();
}

void write_pair(PageJson& out, std::string_view name, bool on, const std::array<double, 2>& pair) {
  out.key(name);
  if (!on) {
    out.null();
    return;
  }
  out.array().value(pair[0]).value(pair[1]).end_array();
}

}  // namespace

void write_scope(PageJson& out, const Scope& scope, int columns) {
  const ScopeSettings& s = scope.settings();
  out.member("state", key(scope.screen().state)).member("time", s.time).member("timeText", say_quantity(s.time, "s"));
  out.member("chart", s.chart).member("shift", s.shift).member("across", kSquaresAcross).member("up", kSquaresUp);
  out.key("channels").array();
  for (int c = 0; c < s.channels; ++c)
    if (s.channel[size_t(c)].shown) write_channel(out, scope, c, columns);
  out.end_array().key("trigger").object().member("channel", s.source + 1).key("level");
  square(out, s.height(s.source, s.level));
  const double time = std::fabs(s.time_cursor[1] - s.time_cursor[0]) * s.time;
  const double level = std::fabs(s.level_cursor[1] - s.level_cursor[0]) * s.channel[size_t(s.cursor_channel)].volts;
  out.end_object().key("cursors").object();
  write_pair(out, "times", s.time_cursors, s.time_cursor);
  write_pair(out, "levels", s.level_cursors, s.level_cursor);
  out.member("timeText", measured_value(time, "s")).member("levelText", measured_value(level, "V"));
  out.key("rateText");
  time > 0 ? out.value(measured_value(1 / time, "Hz")) : out.null();
  out.end_object();
}

}  // namespace tiepoint
