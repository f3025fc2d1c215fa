// Oscilloscopes with two and with four channels, a x10 probe on each.
//
//   probe k ---+------+
//              |      |
//          [ 10M ] = 15 pF         for each channel
//              |      |
//   ground ----+------+            one clip for all channels
//
// Input of a bench oscilloscope 1 megohm beside 15 pF or so; through a x10 probe, as beginners are told to use, 10 megohm beside
// about as much at the tip: common practice, no source. Scales tell the volts at the tip. The ground clip is wired through to the
// case; earth itself is not on this bench, so the clip may lie on any net.
#include "engine/parts/oscilloscope.h"

#include <algorithm>

#include "engine/parts/families.h"

namespace tiepoint {
namespace {

constexpr double kInputResistance = 10e6;    // [ohm]
constexpr double kTipCapacitance = 15e-12;   // [F]
constexpr double kMostVolts = 300;           // [V] at the tip of a x10 probe: common practice, no source

template <size_t N>
constexpr std::array<std::string_view, N> words_of(const std::array<ScaleStep, N>& steps) {
  std::array<std::string_view, N> out = {};
  for (size_t i = 0; i < N; ++i) out[i] = steps[i].word;
  return out;
}
constexpr auto kTimes = words_of(kTimeScale);
constexpr auto kVolts = words_of(kVoltScale);
constexpr size_t kOneMillisecond = 9, kOneVolt = 6;
static_assert(kTimeScale[kOneMillisecond].value == 1e-3 && kVoltScale[kOneVolt].value == 1);

constexpr std::array<std::string_view, 2> kOffOn = {"off", "on"};
constexpr std::array<std::string_view, 2> kHeldRunning = {"held", "running"};
constexpr std::array<std::string_view, 2> kDisplays = {"waves", "strip-chart"};
constexpr std::array<std::string_view, 2> kEdges = {"rising", "falling"};
constexpr std::array<std::string_view, 3> kModes = {"auto", "normal", "single"};
constexpr std::array<std::string_view, 4> kCursorSets = {"off", "time-cursors", "level-cursors", "both-cursors"};
constexpr std::array<std::string_view, 4> kSources = {"channel-1", "channel-2", "channel-3", "channel-4"};

using Words = std::span<const std::string_view>;
constexpr ValueSpec choice(std::string_view key, Words words, double standard, Use use = Use::kPosition) {
  return {.key = key, .unit = "", .standard = standard, .minimum = 0, .maximum = double(words.size() - 1), .options = words, .use = use};
}
constexpr ValueSpec dial(std::string_view key, std::string_view unit, double standard, double most) {
  return {.key = key, .unit = unit, .standard = standard, .minimum = -most, .maximum = most, .options = {}, .use = Use::kPosition};
}

constexpr std::array<std::string_view, kMostChannels> kShownKeys = {"shown-1", "shown-2", "shown-3", "shown-4"};
constexpr std::array<std::string_view, kMostChannels> kVoltKeys = {"volts-1", "volts-2", "volts-3", "volts-4"};
constexpr std::array<std::string_view, kMostChannels> kPositionKeys = {"position-1", "position-2", "position-3", "position-4"};
constexpr std::array<double, kMostChannels> kPositions = {0, -3, 2, -1};  // [squares] apart, so that no trace hides another

template <int Channels>
constexpr auto values_for() {
  namespace v = scope_value;
  std::array<ValueSpec, size_t(v::of_channel(Channels, 0))> out = {};
  const Words sources(kSources.data(), size_t(Channels));
  out[v::kRunning] = choice("running", kHeldRunning, 1);
  out[v::kTime] = choice("time-scale", kTimes, kOneMillisecond, Use::kValue);
  out[v::kDisplay] = choice("display", kDisplays, 0);
  out[v::kSource] = choice("trigger-source", sources, 0);
  out[v::kEdge] = choice("trigger-edge", kEdges, 0);
  out[v::kLevel] = dial("trigger-level", "V", 0, 200);
  out[v::kMode] = choice("trigger-mode", kModes, 0);
  out[v::kShift] = dial("time-shift", "", 0, 5);  // [squares] of the trigger, to the right of the middle
  out[v::kCursors] = choice("cursors", kCursorSets, 0);
  out[v::kCursorChannel] = choice("cursor-source", sources, 0);
  out[v::kTime1] = dial("cursor-time-1", "", -2, 5);  // [squares] from the middle
  out[v::kTime2] = dial("cursor-time-2", "", 2, 5);
  out[v::kLevel1] = dial("cursor-level-1", "", 1, 4);
  out[v::kLevel2] = dial("cursor-level-2", "", -1, 4);
  for (int c = 0; c < Channels; ++c) {
    out[size_t(v::of_channel(c, v::kShown))] = choice(kShownKeys[size_t(c)], kOffOn, c < 2 ? 1 : 0);
    out[size_t(v::of_channel(c, v::kVolts))] = choice(kVoltKeys[size_t(c)], kVolts, kOneVolt, Use::kValue);
    out[size_t(v::of_channel(c, v::kPosition))] = dial(kPositionKeys[size_t(c)], "", kPositions[size_t(c)], 4);
  }
  return out;
}
constexpr auto kTwoValues = values_for<2>();
constexpr auto kFourValues = values_for<4>();

constexpr std::array<LeadSpec, 3> kTwoLeads = {{{.name = "probe-1"}, {.name = "probe-2"}, {.name = "ground-clip"}}};
constexpr std::array<LeadSpec, 5> kFourLeads = {
    {{.name = "probe-1"}, {.name = "probe-2"}, {.name = "probe-3"}, {.name = "probe-4"}, {.name = "ground-clip"}}};

void elements(const Board&, const Part& part, ElementList& out) {
  const int ground = ground_clip(*part.kind);
  for (int c = 0; c < ground; ++c) {
    out.add(ElementKind::kResistor, {c, ground}, {kInputResistance});
    out.add(ElementKind::kCapacitor, {c, ground}, {kTipCapacitance, kNoReading});
  }
}

Ratings ratings(const Part&) { return {.voltage = kMostVolts}; }

// Its numbers are those of its screen. Without the ground clip on metal it compares with nothing.
void read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  if (!known(leads) || !part.leads[size_t(ground_clip(*part.kind))].valid()) return;
  out.power = power_taken(leads);
  out.state = State::kIdle;
  for (int c = 0; c < ground_clip(*part.kind); ++c)
    if (part.leads[size_t(c)].valid()) out.state = State::kMeasuring;
}

constexpr std::string_view kSearch = "oscilloscope scope trace wave signal time trigger probe measure frequency period strip chart recorder";

}  // namespace

bool is_oscilloscope(const PartKind& kind) { return static_cast<const PartType&>(kind).body == Body::kOscilloscope; }

constexpr PartType kOscilloscope = {
    {.key = "oscilloscope",
     .prefix = "OS",
     .leads = kTwoLeads,
     .footprint = {.seat = Seat::kMat, .reach_min = 0, .reach_max = 0, .body_length = 20, .body_width = 10},
     .values = kTwoValues,
     .touches = true},
    "instruments", Body::kOscilloscope, elements, 0, ratings, read, -1, kSearch, 2};

constexpr PartType kOscilloscope4 = {
    {.key = "oscilloscope-4",
     .prefix = "OS",
     .leads = kFourLeads,
     .footprint = {.seat = Seat::kMat, .reach_min = 0, .reach_max = 0, .body_length = 20, .body_width = 10},
     .values = kFourValues,
     .touches = true},
    "instruments", Body::kOscilloscope, elements, 0, ratings, read, -1, kSearch, 4};

}  // namespace tiepoint
