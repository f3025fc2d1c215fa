#include "shell/bench/bench.h"

#include <utility>
#include <algorithm>
#include <cmath>

#include "shell/bench/draw_scope.h"
#include "shell/bench/find_parts.h"
#include "shell/bench/learner.h"
#include "shell/bench/panels.h"
#include "shell/bench/shown.h"
#include "shell/bench/several.h"
#include "shell/bench/theme.h"
#include "shell/bench/tool.h"
#include "shell/words/words.h"
#include "shell/bench/vector.h"

namespace tiepoint {
namespace {
constexpr double kNoteTime = 3.5;           // [s] a refusal stays in sight
constexpr double kLongestGap = 1;           // [s] a longer pause between frames is not made up for
constexpr double kLongestPause = 0.5;       // [s] between frames while a circuit creeps
constexpr double kLongestSleep = 86400;     // [s] what comes later than this is not waited for
constexpr long kStepsPerFrame = 4000;       // of the solver
constexpr double kEye = 1.0 / 30;           // [s] of real time that an eye takes in as one
constexpr double kRefresh = 1.0 / 60;       // [s] of a usual display
constexpr double kSlowFrame = 1.0 / 30;     // [s] between frames while a circuit changes, where a machine does not keep up
constexpr double kLateGap = 1.0 / 42;       // [s] between frames on average, when each refresh was asked for: it does not
constexpr double kSlowFor = 5;              // [s] until it is tried again
}  // namespace

Bench::Bench() = default;
Bench::~Bench() = default;

void Bench::load(Board board) {
  desk_.release_all();
  desk_.tool.reset();
  desk_.selection.clear(), desk_.hovered.clear();
  desk_.card_shown = false;
  desk_.cursor = {};
  desk_.cursor_shown = false;
  desk_.message = {};
  desk_.pointed.clear();
  desk_.signs = {};
  if (desk_.supplies_locked) switch_off_supplies(board);
  desk_.session.load(std::move(board));
  ++desk_.view_revision;
  zoom_fit();
}

void Bench::set_learner(std::unique_ptr<Learner> learner) { learner_ = std::move(learner); }

void Bench::point_at(Signs signs) {
  desk_.signs = std::move(signs);
  ++desk_.view_revision;
}

void Bench::zoom_fit() {
  desk_.camera.touched = false;
  fit_due_ = true;
}

bool Bench::look_at(std::string_view name) {
  if (name.empty()) desk_.sight_due = Sight{desk_.selection, {}};
  else if (desk_.board().find(name)) desk_.sight_due = Sight{{std::string(name)}, {}};
  else if (const Result<Hole> hole = desk_.board().hole(name)) desk_.sight_due = Sight{{}, *hole};
  else return false;
  return true;
}

// A new board and a new window size are shown at once, all else by a glide.
void Bench::aim_camera(double now) {
  Desk& d = desk_;
  constexpr float kClose = 64;  // [CSS px per hole step]
  const Box view = d.bench.grown(-16);
  if (d.sight_due && d.bench.size().x > 0) {
    const bool hole = d.board().has(d.sight_due->hole), all = !hole && d.sight_due->parts.empty();
    const MatArea area = hole ? hole_area(d.board(), d.sight_due->hole) : all ? bench_area(d.board()) : parts_area(d.board(), d.sight_due->parts);
    Camera there = d.camera;
    if (all) there.fit(area.min, area.max, view);
    else there.fit(area.min, area.max, view, kClose);
    there.touched = !all;
    d.sight = std::move(*d.sight_due);
    d.sight_due.reset();
    glide_.begin(d.camera, there, d.view.reduced_motion ? now - 1 : now);
  }
  if (glide_.advance(d.camera, now)) d.wake = 0;
}

void Bench::zoom(float factor) { desk_.camera.zoom(desk_.bench.centre(), factor); }

void Bench::set_view(const ViewOptions& view) {
  desk_.view = view;
  desk_.view.time_scale = std::clamp(view.time_scale, 0.0, 1000.0);
  desk_.view.step = std::clamp(view.step, 1e-6, 1.0);
  ++desk_.view_revision;
}

// Whatever the pointer was in the middle of ends here, undone; a part taken up by a tap stays in the hand.
void Bench::interrupt() {
  press_from_ = From::kNowhere;
  desk_.pointer.down = desk_.pointer.moved = false;
  if (desk_.tool && !desk_.tool->interrupt(desk_)) desk_.use(nullptr);
}

void Bench::gesture(const Gesture& g) {
  interrupt();
  desk_.camera.pan({g.pan_x, g.pan_y});
  if (g.scale != 1) desk_.camera.zoom({g.x, g.y}, g.scale);
}

void Bench::preferences(const Preferences& preferences) {
  desk_.view.reduced_motion = preferences.reduced_motion;
  if (desk_.paint.more_contrast != preferences.more_contrast) desk_.sheets.forget();
  desk_.paint.more_contrast = preferences.more_contrast;
}

void Bench::let_go() {
  desk_.release_all();
  interrupt();
}

uint64_t Bench::revision(Revision which) const {
  switch (which) {
    case Revision::kBoard:
      return desk_.session.board_revision();
    case Revision::kReadings:
      return desk_.session.readings_revision();
    case Revision::kCamera:
      return camera_revision_;
    case Revision::kView:
      break;
  }
  return desk_.view_revision;
}

std::optional<ImVec2> Bench::screen_of(std::string_view name) const {
  const Result<Hole> hole = desk_.board().hole(name);
  if (!hole) return std::nullopt;
  return desk_.camera.screen(desk_.board().mat_of(*hole));
}

std::string Bench::hole_at(float x, float y) const {
  const Hole hole = hole_under(desk_, {x, y}, false);
  return hole.valid() ? desk_.board().name_of(hole) : std::string();
}

void Bench::set_hole_cursor(Hole hole) {
  desk_.cursor = hole;
  desk_.cursor_shown = hole.valid();
  ++desk_.view_revision;
}

bool Bench::take_up(std::string_view key) {
  const PartKind* kind = catalogue().find(key);
  if (kind == nullptr) return false;
  desk_.use(place_tool(static_cast<const PartType&>(*kind), false));
  return true;
}

void Bench::take_up(const Part& sample) { take_from_box(desk_, type_of(sample), sample.values, false); }

void Bench::search(std::string_view text, int at) {
  Search& search = desk_.search;
  if (!search.open || search.text != text) {
    search.open = true;
    search.text = text;
    search.found = find_parts(text, desk_.recent);
    const auto& offered = desk_.offered;
    if (!offered.empty())
      std::erase_if(search.found, [&](const Part& part) { return std::find(offered.begin(), offered.end(), part.kind) == offered.end(); });
    box_.scroll = 0;
  }
  search.at = search.found.empty() ? -1 : std::clamp(at, 0, int(search.found.size()) - 1);
  box_.show_at = true;
  ++desk_.view_revision;
}

void Bench::end_search() {
  if (!desk_.search.open) return;
  desk_.search = {};
  box_.scroll = 0;
  ++desk_.view_revision;
}

std::string Bench::copy() const {
  return desk_.selection.empty() ? std::string() : copy_parts(desk_.board(), desk_.selection);
}

void Bench::cancel() {
  if (desk_.tool) desk_.tool->cancel(desk_), desk_.use(nullptr);
}

// The pointer as the tools see it, from the ImGui item that is the bench.
void Bench::read_pointer() {
  const ImGuiIO& io = ImGui::GetIO();
  Pointer& p = desk_.pointer;
  const bool valid = ImGui::IsMousePosValid(&io.MousePos);
  p.touch = io.MouseSource == ImGuiMouseSource_TouchScreen;
  p.over = valid && ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenBlockedByActiveItem);
  p.at = valid ? io.MousePos : ImVec2{-1e9f, -1e9f};
  p.pressed = ImGui::IsItemActivated() && ImGui::IsMouseClicked(ImGuiMouseButton_Left);
  if (p.pressed) {
    press_from_ = From::kBench;
    p.down_at = p.at;
    p.moved = false;
  }
  const bool began = press_from_ != From::kNowhere;
  p.down = began && io.MouseDown[0];
  p.released = began && !io.MouseDown[0];
  p.lost = p.released && !valid;
  const float slop = p.touch ? 9.0f : 4.0f;
  if (began && valid && length(p.at - p.down_at) > slop) p.moved = true;
  if (press_from_ == From::kBox) p.moved = true;
  if (p.released) press_from_ = From::kNowhere;

  // The other buttons move the view; a click of the right one puts down what the hand holds.
  const bool other = ImGui::IsItemActive() && (io.MouseDown[1] || io.MouseDown[2]) && !io.MouseDown[0];
  if (other && (io.MouseDelta.x != 0 || io.MouseDelta.y != 0)) desk_.camera.pan(io.MouseDelta);
  if (ImGui::IsItemHovered() && ImGui::IsMouseClicked(ImGuiMouseButton_Right)) cancel();
  if (p.over && io.MouseWheel != 0) desk_.camera.zoom(p.at, std::exp(std::clamp(io.MouseWheel, -3.0f, 3.0f) * 0.16f));
  if (p.over && io.MouseWheelH != 0) desk_.camera.pan({io.MouseWheelH * 40, 0});
}

void Bench::run_tool() {
  Desk& d = desk_;
  if (!d.tool) plain_hand(d);
  if (!d.tool) return;
  d.hovered.clear();
  if (d.pointer.lost) {
    if (!d.tool->interrupt(d)) d.use(nullptr);
    return;
  }
  // A tool may put another in its place; only the one that ended is dropped.
  const Tool* before = d.tool.get();
  if (!d.tool->step(d) && d.tool.get() == before) d.use(nullptr);
}

// Lets simulated time follow real time up to this frame, before a hand changes anything. Returns when to look again.
double Bench::run_simulation(double now) {
  if (now == last_now_) return again_;
  const double gap = last_now_ < 0 ? 0 : now - last_now_;
  last_now_ = now;
  gaps_ += 0.1 * (std::min(gap, 2 * kSlowFrame) - gaps_);
  Session& session = desk_.session;
  session.set_eye(kEye * desk_.view.time_scale);
  const double begun = clock_ ? clock_() : 0;
  if (gap > 0) session.advance(std::min(gap, std::max(kLongestGap, slept_)) * desk_.view.time_scale, kStepsPerFrame);
  if (clock_) simulation_cost_ += clock_() - begun;
  slept_ = 0;
  return again_ = next_look(now);
}

// Where each refresh is asked for and far fewer come, every second one is enough for a while.
double Bench::running_frame(double now) {
  if (now < slow_until_) return kSlowFrame;
  if (gaps_ < kLateGap) return kNextFrame;
  slow_until_ = now + kSlowFor;
  gaps_ = kRefresh;
  return kSlowFrame;
}

double Bench::next_look(double now) {
  const Session& session = desk_.session;
  if (desk_.view.time_scale <= 0) return kSleep;
  if (session.at_rest()) {
    // Nothing to see until a battery has run down a little; the time until then is made up for.
    const double due = session.wear_due() / desk_.view.time_scale;
    if (!(due < kLongestSleep)) return kSleep;
    slept_ = due + kLongestGap;
    return std::max(due, kSlowFrame);
  }
  // A circuit that creeps below what can be seen (a capacitor behind an open switch) is looked at less and less often.
  const uint64_t seen = moving();
  if (seen != seen_)
    seen_ = seen, pause_ = running_frame(now);
  else
    pause_ = std::min(std::max(pause_, kRefresh) * 1.3, kLongestPause);
  return pause_;
}

// What changes in a circuit that does more than creep, shown or not.
uint64_t Bench::moving() const {
  uint64_t hash = 1469598103934665603ull;
  const auto add = [&](double value, double step) {
    const int64_t v = has_reading(value) ? int64_t(std::floor(value / step + 0.5)) : INT64_MIN;
    hash = (hash ^ uint64_t(v)) * 1099511628211ull;
  };
  const Readings& readings = desk_.session.readings();
  for (const PartReading& r : readings.parts) {
    add(std::pow(std::max(r.brightness, 0.0), 0.3), 0.01);
    add(double(int(r.state)), 1);
    if (r.temperature > 50) add(r.temperature, 2);
    add(r.current, 1e-4), add(r.voltage, 5e-3);
  }
  if (desk_.view.levels || desk_.view.hill)
    for (double v : readings.net_voltage) add(v, 5e-3);
  for (const Part& part : desk_.board().parts)
    if (const Scope* scope = desk_.session.scope(part.id)) hash = (hash ^ seen_on(*scope)) * 1099511628211ull;
  return hash;
}

// All that a picture is made of while no input comes, in the steps an eye tells apart.
uint64_t Bench::picture_key() const {
  const Desk& d = desk_;
  Key key;
  key.add(double(d.camera.scale)).add(d.camera.origin).add(d.session.board_revision()).add(d.view_revision).add(d.view.reduced_motion);
  const Readings& readings = d.session.readings();
  const auto& parts = d.board().parts;
  for (size_t i = 0; i < parts.size() && i < readings.parts.size(); ++i) {
    const PartReading& r = readings.parts[i];
    key.add(key_of(d.shown(parts[i], r)));
    if (const Scope* scope = d.session.scope(parts[i].id)) key.add(scope->revision());
    if (d.card_shown && d.selects(parts[i].name)) key.add(r.current).add(r.voltage).add(r.power).add(r.temperature);
    if (d.view.flow && !r.lead_current.empty()) key.add(std::floor(8 * std::log10(std::fabs(r.lead_current[0]) + 1e-7)));
  }
  if (d.view.levels || d.view.hill)
    for (const double v : readings.net_voltage) key.add(has_reading(v) ? std::floor(v * 200 + 0.5) : -1e9);
  return key.value();
}

std::optional<double> Bench::rest(double now) {
  if (restless_ || desk_.tool || fit_due_) return std::nullopt;
  desk_.now = now;
  const double again = run_simulation(now);
  if (picture_key() != built_key_) return std::nullopt;
  return again;
}

double Bench::frame(const FrameIn& in) {
  Desk& d = desk_;
  d.now = in.now;
  d.wake = kSleep;
  // Where there is no room for board, hill and box, the box is put away for as long as the hill is looked at.
  const bool box_away = d.view.hill && in.height < kShortStage;
  const float strip = box_away ? 0 : parts_box_height(in.width, in.height);
  const float above = std::max(in.height - strip, 40.0f), hill = d.view.hill ? std::min(hill_height(above), above - 40) : 0;
  const bool resized = in.width != width_ || in.height != height_ || d.bench.max.y != above - hill;
  d.bench = {{0, 0}, {in.width, above - hill}};
  width_ = in.width, height_ = in.height;
  if (resized) ++d.view_revision;  // the page keeps things in their places over the canvas
  if (fit_due_ || (resized && !d.camera.touched)) {
    const MatArea area = bench_area(d.board());
    d.camera.fit(area.min, area.max, d.bench.grown(-16));
    fit_due_ = false;
    d.sight = {};
  }
  aim_camera(in.now);

  ImGui::SetNextWindowPos({0, 0});
  ImGui::SetNextWindowSize({in.width, in.height});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2{0, 0});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 0.0f);
  ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, 0.0f);
  ImGui::Begin("bench", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                   ImGuiWindowFlags_NoBringToFrontOnFocus | ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoBackground |
                   ImGuiWindowFlags_NoScrollWithMouse);
  ImGui::PopStyleVar(3);
  d.paint.begin(ImGui::GetWindowDrawList(), in.dpr);
  d.sheets.begin_frame();
  d.widgets.clear();

  ImGui::SetCursorScreenPos(d.bench.min);
  ImGui::InvisibleButton(
      "mat", d.bench.size(),
      ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight | ImGuiButtonFlags_MouseButtonMiddle);
  const double again = run_simulation(in.now);
  d.flicker.look(d.board(), d.session.readings(), in.now);
  const bool turning = d.rotors.advance(d.board(), d.session.readings(), in.now, d.view.reduced_motion);
  read_pointer();
  read_keys(d);
  run_tool();
  if (d.camera.scale != seen_from_.scale || d.camera.origin.x != seen_from_.origin.x || d.camera.origin.y != seen_from_.origin.y) ++camera_revision_;
  seen_from_ = d.camera;
  draw_scene(d);
  const bool flowing = d.view.flow && draw_flow_clipped();

  const bool had_tool = d.tool != nullptr;
  if (d.view.hill) hill_panel(d, {{0, d.bench.max.y}, {in.width, above}});
  if (!box_away) parts_box(d, {{0, above}, {in.width, in.height}}, box_);
  if (!had_tool && d.tool && ImGui::GetIO().MouseDown[0]) {
    press_from_ = From::kBox;  // a part is being dragged out
    d.pointer.down_at = ImGui::GetIO().MousePos;
  }
  ImGui::End();
  inspector(d);

  const bool note = d.message.refused && d.now - d.message.time < kNoteTime;
  restless_ = note || flowing || turning || d.tool || d.wake >= 0;
  built_key_ = picture_key();
  double wake = again;
  if (flowing || turning) wake = running_frame(in.now);
  if (d.wake >= 0 && (wake < 0 || d.wake < wake)) wake = d.wake;
  const double left = std::max(kNoteTime - (d.now - d.message.time), 0.02);
  if (note && (wake < 0 || left < wake)) wake = left;
  return wake;
}

std::string Bench::vector_picture() {
  Desk& d = desk_;
  Vector vector(d.bench);
  ImDrawList scratch(ImGui::GetDrawListSharedData());
  scratch._ResetForNewFrame();
  scratch.PushClipRectFullScreen();
  scratch.PushTextureID(ImGui::GetIO().Fonts->TexID);
  const std::vector<Widget> widgets = d.widgets;
  ImDrawList* const list = std::exchange(d.paint.list, &scratch);
  d.paint.vector = &vector;
  draw_scene(d);
  d.paint.vector = nullptr;
  d.paint.list = list;
  d.widgets = widgets;
  return vector.file();
}

bool Bench::draw_flow_clipped() {
  desk_.paint.list->PushClipRect(desk_.bench.min, desk_.bench.max, true);
  const bool moves = draw_flow(desk_);
  desk_.paint.list->PopClipRect();
  return moves;
}

}  // namespace tiepoint
