// The seam between a screen (class Bench) and the machine below it (the browser, or a test).
// Host owns the Dear ImGui context, input, fonts, NewFrame and Render, the frame schedule and the question "did the picture
// change". It knows no browser and no GL: shell/bench/web_api.cpp adds those, tests/shell drives it natively with injected
// input.
//
// All positions and sizes are CSS pixels; `dpr` device pixels make one CSS pixel. Times are seconds of a monotonic clock.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

#include "imgui.h"
#include "shell/bench/picture.h"

namespace tiepoint {

struct FrameIn {
  double now = 0;               // [s] monotonic; never advance the model by counting frames
  float width = 0, height = 0;  // [CSS px] of the canvas
  float dpr = 1;                // device pixels per CSS pixel
};

// Two fingers, or a trackpad pinch. ImGui sees nothing of it; it belongs to the board's camera.
struct Gesture {
  float x = 0, y = 0;          // [CSS px] the fingers' centre now: the point that keeps its place under the scale
  float scale = 1;             // factor since the last call
  float pan_x = 0, pan_y = 0;  // [CSS px] the centre's way since the last call
};

struct Preferences {
  bool reduced_motion = false;
  bool more_contrast = false;
  bool dark = false;
};

enum class Revision : int { kBoard = 0, kReadings = 1, kView = 2, kCamera = 3 };

// Returned by Screen::frame: when to draw again.
inline constexpr double kNextFrame = 0;  // something moves: as soon as the display can
inline constexpr double kSleep = -1;     // nothing changes until the next input or call
                                         // > 0: in that many seconds at the latest

// What Host asks of the screen above it. class Bench implements this.
class Screen {
 public:
  virtual ~Screen() = default;
  // Draws every ImGui window, between NewFrame and Render. Returns kNextFrame, kSleep or seconds until the next frame.
  // Host itself adds a few frames after each input, 30 Hz for 0.7 s after the last one (tooltips) and the blinking text caret;
  // the screen speaks only for what moves by itself (animation, a circuit not at rest).
  virtual double frame(const FrameIn& in) = 0;
  // Lets time pass where no input came. Seconds until the next call (or kSleep) when the picture of the last frame still holds;
  // none when a frame must be built, which the Host then does.
  virtual std::optional<double> rest(double /*now*/) { return std::nullopt; }
  virtual void gesture(const Gesture& gesture) = 0;
  virtual void preferences(const Preferences& preferences) = 0;
  // The screen lost the keyboard or the page went out of sight: let go of whatever a hand holds (a pressed button).
  virtual void let_go() {}
  // Grows by at least 1 with each change; the page compares it to know what to write anew.
  virtual uint64_t revision(Revision which) const = 0;
};

// Fonts, loaded by Host in this order; sizes given to AddText are CSS pixels whatever the dpr.
//   body()     Inter 15 px, the default        strong()  Inter semibold 15 px
//   large()    Inter 30 px, Latin, digits and units only: lettering of the board at high zoom, displays of instruments
// Letters with accents are rasterised once something is written with them (require), not at the start: they are half of all.
namespace fonts {
ImFont* body();
ImFont* strong();
ImFont* large();
inline constexpr float kBodySize = 15;   // [CSS px]
inline constexpr float kLargeSize = 30;  // [CSS px]
// Has it letters with accents?
bool accented(std::string_view words);
// What of the letters is rasterised in a context, how often it was done, and what has been asked for by now.
struct Letters {
  unsigned generation = 0;
  bool has_accents = false, want_accents = false;
};
// These words will be measured or written. What is not rasterised yet makes the Host build the frame a second time, with it.
void require(std::string_view words);
// Of the current context. Grows when all is rasterised anew: vertices made before point to other places of the texture.
unsigned generation();
}  // namespace fonts

enum class PointerKind : int { kMove = 0, kDown = 1, kUp = 2, kLeave = 3, kCancel = 4 };
enum class PointerSource : int { kMouse = 0, kTouch = 1, kPen = 2 };

// Bits of Host::want().
inline constexpr int kWantMouse = 1, kWantText = 2, kWantKeyboard = 4;
// Bits of `modifiers` in Host::key.
inline constexpr int kShift = 1, kControl = 2, kAlt = 4, kMeta = 8;

class Host {
 public:
  // `accents`: letters with accents will be written from the start.
  Host(Screen& screen, float width, float height, float dpr, bool accents = false);
  ~Host();
  Host(const Host&) = delete;
  Host& operator=(const Host&) = delete;

  void resize(float width, float height, float dpr);
  void pointer(PointerKind kind, PointerSource source, int button, float x, float y);  // button: 0 left, 1 right, 2 middle
  void wheel(float dx, float dy);                                                      // notches, fractions kept
  void gesture(const Gesture& gesture);
  void key(ImGuiKey key, bool down, int modifiers);
  void text(const char* utf8);
  void focus(bool on);
  void preferences(const Preferences& preferences);

  // Builds one frame, or lets time pass where the last one still holds. Returns kNextFrame, kSleep or seconds until the next
  // one.
  double frame(double now);
  // The frame just built; valid until the next one.
  ImDrawData* draw_data() const;
  // Whether the last call of frame has built one.
  bool built() const { return built_; }
  // True when the frame just built looks different from the one last asked about.
  bool picture_changed();
  // Forgets the last picture: after a resize, or when the drawing surface was lost.
  void forget_picture() {
    picture_.forget();
    woken();
  }
  // Which places of it are to be drawn again, and the triangles there; after picture_changed.
  Picture& picture() { return picture_; }
  ImDrawData* changes() { return picture_.changes(*draw_data()); }
  // True once after the font atlas was baked anew: its texture must be made again.
  bool take_fonts_changed();

  int want() const;
  ImGuiMouseCursor cursor() const;

 private:
  void bake_fonts();
  void woken();

  Screen& screen_;
  ImGuiContext* context_ = nullptr;
  FrameIn in_;
  double last_input_ = -1e9;  // [s]
  double last_frame_ = -1e9;  // [s]
  int frames_due_ = 3;        // frames to run whatever happens: ImGui settles sizes over two
  bool input_since_frame_ = true;
  bool built_ = false;  // the last call of frame has built one
  bool fonts_changed_ = true;
  fonts::Letters letters_;
  PointerSource source_ = PointerSource::kMouse;
  Picture picture_;
};

}  // namespace tiepoint
