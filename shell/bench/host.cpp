#include "shell/bench/host.h"

#include <algorithm>
#include <cfloat>
#include <cmath>

#include "imgui_internal.h"

namespace tiepoint {

namespace {

constexpr double kLinger = 0.7;           // [s] after the last input: tooltips appear, fades end
constexpr double kLingerStep = 1.0 / 30;  // [s]
constexpr double kCaretStep = 0.4;        // [s] ImGui's caret is on for 0.8 s and off for 0.4 s
constexpr int kFramesAfterInput = 3;      // ImGui settles sizes and hover over two frames

// The sooner of two wakes, where a negative one means never.
double sooner(double a, double b) {
  if (a < 0) return b;
  if (b < 0) return a;
  return std::min(a, b);
}

}  // namespace

Host::Host(Screen& screen, float width, float height, float dpr, bool accents) : screen_(screen) {
  letters_.want_accents = accents;
  context_ = ImGui::CreateContext();
  ImGui::SetCurrentContext(context_);
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.LogFilename = nullptr;
  io.BackendPlatformName = "tiepoint";
  io.BackendFlags |= ImGuiBackendFlags_HasMouseCursors;
  io.ConfigFlags |= ImGuiConfigFlags_NavNoCaptureKeyboard;
  io.MouseDragThreshold = 4;
  in_.width = in_.height = -1;
  resize(width, height, dpr);
}

Host::~Host() {
  ImGui::SetCurrentContext(context_);
  ImGui::DestroyContext(context_);
}

void Host::resize(float width, float height, float dpr) {
  // A hidden canvas has no size; a model of a display needs one.
  width = std::max(width, 1.0f);
  height = std::max(height, 1.0f);
  dpr = std::clamp(dpr, 0.5f, 8.0f);
  ImGui::SetCurrentContext(context_);
  const bool bake = dpr != in_.dpr || ImGui::GetIO().Fonts->Fonts.empty();
  in_.width = width;
  in_.height = height;
  in_.dpr = dpr;
  if (bake) bake_fonts();
  forget_picture();
  woken();
}

void Host::woken() {
  frames_due_ = kFramesAfterInput;
  input_since_frame_ = true;
}

void Host::pointer(PointerKind kind, PointerSource source, int button, float x, float y) {
  ImGui::SetCurrentContext(context_);
  ImGuiIO& io = ImGui::GetIO();
  source_ = source;
  // The source goes first: ImGui then keeps a touch's press behind its move.
  io.AddMouseSourceEvent(static_cast<ImGuiMouseSource>(source));
  const bool known_button = button >= 0 && button < ImGuiMouseButton_COUNT;
  switch (kind) {
    case PointerKind::kMove:
      io.AddMousePosEvent(x, y);
      break;
    case PointerKind::kDown:
      io.AddMousePosEvent(x, y);
      if (known_button) io.AddMouseButtonEvent(button, true);
      break;
    case PointerKind::kUp:
      io.AddMousePosEvent(x, y);
      if (known_button) io.AddMouseButtonEvent(button, false);
      // A lifted finger hovers over nothing.
      if (source == PointerSource::kTouch) io.AddMousePosEvent(-FLT_MAX, -FLT_MAX);
      break;
    case PointerKind::kLeave:
      io.AddMousePosEvent(-FLT_MAX, -FLT_MAX);
      break;
    case PointerKind::kCancel:
      // Moves away first, so that the release can complete neither a click nor a drop.
      io.AddMousePosEvent(-FLT_MAX, -FLT_MAX);
      for (int i = 0; i < ImGuiMouseButton_COUNT; ++i) io.AddMouseButtonEvent(i, false);
      break;
  }
  woken();
}

void Host::wheel(float dx, float dy) {
  ImGui::SetCurrentContext(context_);
  ImGui::GetIO().AddMouseWheelEvent(dx, dy);
  woken();
}

void Host::gesture(const Gesture& gesture) {
  if (!std::isfinite(gesture.scale) || gesture.scale <= 0) return;
  screen_.gesture(gesture);
  woken();
}

void Host::key(ImGuiKey key, bool down, int modifiers) {
  ImGui::SetCurrentContext(context_);
  ImGuiIO& io = ImGui::GetIO();
  io.AddKeyEvent(ImGuiMod_Shift, (modifiers & kShift) != 0);
  io.AddKeyEvent(ImGuiMod_Ctrl, (modifiers & kControl) != 0);
  io.AddKeyEvent(ImGuiMod_Alt, (modifiers & kAlt) != 0);
  io.AddKeyEvent(ImGuiMod_Super, (modifiers & kMeta) != 0);
  if (key != ImGuiKey_None) io.AddKeyEvent(key, down);
  woken();
}

void Host::text(const char* utf8) {
  ImGui::SetCurrentContext(context_);
  ImGui::GetIO().AddInputCharactersUTF8(utf8);
  woken();
}

void Host::focus(bool on) {
  ImGui::SetCurrentContext(context_);
  ImGui::GetIO().AddFocusEvent(on);
  if (!on) {
    for (int i = 0; i < ImGuiMouseButton_COUNT; ++i) ImGui::GetIO().AddMouseButtonEvent(i, false);
    screen_.let_go();
  }
  woken();
}

void Host::preferences(const Preferences& preferences) {
  screen_.preferences(preferences);
  woken();
}

double Host::frame(double now) {
  ImGui::SetCurrentContext(context_);
  ImGuiIO& io = ImGui::GetIO();
  const bool quiet = !input_since_frame_ && frames_due_ == 0 && context_->InputEventsQueue.empty() && !io.WantTextInput &&
                     now - last_input_ >= kLinger;
  built_ = !quiet;
  if (quiet) {
    if (const std::optional<double> wake = screen_.rest(now)) return *wake;
    built_ = true;
  }
  if (input_since_frame_) last_input_ = now;
  input_since_frame_ = false;
  io.DisplaySize = ImVec2(in_.width, in_.height);
  io.DisplayFramebufferScale = ImVec2(in_.dpr, in_.dpr);
  // A frame after a long sleep must not look like one long step.
  io.DeltaTime = static_cast<float>(std::clamp(now - last_frame_, 1e-4, 0.1));
  last_frame_ = now;
  in_.now = now;

  ImGui::NewFrame();
  double wake = screen_.frame(in_);
  ImGui::Render();
  if (letters_.want_accents != letters_.has_accents) {
    // The same moment once more, with the letters that it lacked.
    bake_fonts();
    forget_picture();
    ImGui::NewFrame();
    wake = screen_.frame(in_);
    ImGui::Render();
  }

  // Quick presses are spread over several frames by ImGui's queue.
  if (frames_due_ > 0) --frames_due_;
  if (frames_due_ > 0 || !context_->InputEventsQueue.empty()) wake = kNextFrame;
  if (now - last_input_ < kLinger) wake = sooner(wake, kLingerStep);
  if (io.WantTextInput) wake = sooner(wake, kCaretStep);
  return wake;
}

ImDrawData* Host::draw_data() const {
  ImGui::SetCurrentContext(context_);
  return ImGui::GetDrawData();
}

bool Host::picture_changed() {
  if (!built_) return false;
  const ImDrawData* data = draw_data();
  if (data == nullptr) return false;
  return picture_.look(*data);
}

bool Host::take_fonts_changed() {
  const bool changed = fonts_changed_;
  fonts_changed_ = false;
  return changed;
}

int Host::want() const {
  ImGui::SetCurrentContext(context_);
  const ImGuiIO& io = ImGui::GetIO();
  return (io.WantCaptureMouse ? kWantMouse : 0) | (io.WantTextInput ? kWantText : 0) |
         (io.WantCaptureKeyboard ? kWantKeyboard : 0);
}

ImGuiMouseCursor Host::cursor() const {
  ImGui::SetCurrentContext(context_);
  return ImGui::GetMouseCursor();
}

}  // namespace tiepoint
