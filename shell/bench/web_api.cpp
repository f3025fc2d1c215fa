// What web/host.js calls: plain numbers and strings. One module instance serves one canvas. Without WebGL the picture is rasterised in
// software and handed over as pixels.
#include <emscripten/emscripten.h>

#include <algorithm>
#include <memory>
#include <string>

#include "shell/bench/bench.h"
#include "shell/bench/dom_keys.h"
#include "shell/bench/host.h"
#include "shell/bench/page_api.h"
#include "shell/bench/page_marking.h"
#include "shell/bench/raster.h"
#include "shell/bench/web_fonts.h"
#include "shell/bench/web_gl.h"
#include "shell/bench/web_words.h"

// The context that web/host.js has opened on Module.canvas, made current. 0: there is no WebGL 2. No extension is used, and asking for all of
// them takes a while.
EM_JS(int, make_gl_context, (), {
  const handle = GL.createContext(Module["canvas"], {majorVersion : 2, minorVersion : 0, enableExtensionsByDefault : 0});
  return handle > 0 && GL.makeContextCurrent(handle) ? 1 : 0;
});

namespace tiepoint {
namespace {

struct App {
  Bench bench;
  Host host;
  bool gl = false;        // the canvas has a WebGL context, else it takes pixels
  WebGl drawing;          // ready while that is not lost
  bool pixels_fresh = false;
  Image pixels;
  double frames = 0, pictures = 0;  // counted for the tests: frames built, frames drawn
  double drawn_for = 0;             // [ms] spent on handing pictures over, for the benchmark
  std::string reply;

  App(float width, float height, float dpr, bool accents, const WebGl& begun) : host(bench, width, height, dpr, accents), drawing(begun) {}
};

// One canvas per module instance: JavaScript has no handle to pass.
std::unique_ptr<App> app;
bool words_have_accents = false;

// Once begun.
void start_gl() {
  app->host.take_fonts_changed();  // start brings them along
  app->drawing.start();
  app->host.forget_picture();
}

void draw_in_software(const ImDrawData& data) {
  app->pixels.resize(static_cast<int>(data.DisplaySize.x * data.FramebufferScale.x + 0.5f),
                     static_cast<int>(data.DisplaySize.y * data.FramebufferScale.y + 0.5f));
  app->pixels.clear(IM_COL32_BLACK);
  rasterise(data, atlas_coverage(), app->pixels);
  app->pixels_fresh = true;
}

}  // namespace
}  // namespace tiepoint

using namespace tiepoint;

extern "C" {

// Before ui_init: what the bench says (web_words.h).
EMSCRIPTEN_KEEPALIVE void tp_words(const char* lines) {
  give_words(lines);
  words_have_accents = fonts::accented(lines);
}

// Before ui_init: the fonts, by the number of fonts::File.
EMSCRIPTEN_KEEPALIVE void tp_font(int which, const uint8_t* bytes, int size) { fonts::give(static_cast<fonts::File>(which), {bytes, static_cast<size_t>(size)}); }

// 1: draws with WebGL; 0: the caller shows ui_pixels.
EMSCRIPTEN_KEEPALIVE int ui_init(float width, float height, float dpr) {
  const bool gl = make_gl_context() == 1;
  WebGl drawing;
  if (gl) drawing.begin();  // another process compiles while fonts, board and notebook are made here: the first frame waits for it
  app = std::make_unique<App>(width, height, dpr, words_have_accents, drawing);
  app->bench.set_clock([] { return emscripten_get_now() / 1000; });
  app->gl = gl;
  return app->gl ? 1 : 0;
}

EMSCRIPTEN_KEEPALIVE void ui_resize(float width, float height, float dpr) { app->host.resize(width, height, dpr); }

EMSCRIPTEN_KEEPALIVE void ui_pointer(int kind, int source, int button, float x, float y) {
  app->host.pointer(static_cast<PointerKind>(kind), static_cast<PointerSource>(source), button, x, y);
}

EMSCRIPTEN_KEEPALIVE void ui_wheel(float dx, float dy) { app->host.wheel(dx, dy); }

EMSCRIPTEN_KEEPALIVE void ui_gesture(float x, float y, float scale, float pan_x, float pan_y) {
  app->host.gesture({.x = x, .y = y, .scale = scale, .pan_x = pan_x, .pan_y = pan_y});
}

EMSCRIPTEN_KEEPALIVE void ui_key(const char* code, const char* key, int down, int modifiers) {
  app->host.key(key_from_dom(code, key), down != 0, modifiers);
}

EMSCRIPTEN_KEEPALIVE void ui_text(const char* utf8) { app->host.text(utf8); }

EMSCRIPTEN_KEEPALIVE void ui_focus(int on) { app->host.focus(on != 0); }

EMSCRIPTEN_KEEPALIVE void ui_prefs(int reduced_motion, int more_contrast, int dark) {
  app->host.preferences({.reduced_motion = reduced_motion != 0, .more_contrast = more_contrast != 0, .dark = dark != 0});
}

// Milliseconds until the next frame: 0 at the next display refresh, -1 when only input can change anything.
EMSCRIPTEN_KEEPALIVE double ui_frame(double now_ms) {
  if (app->drawing.waits()) start_gl();
  const double wake = app->host.frame(now_ms / 1000);
  if (app->drawing.ready() && app->host.take_fonts_changed()) app->drawing.put_fonts();
  app->frames += 1;
  const bool can_draw = app->drawing.ready() || !app->gl;
  if (can_draw && app->host.picture_changed()) {
    const double begun = emscripten_get_now();
    if (app->gl) app->drawing.draw(*app->host.changes(), app->host.picture().changed());
    else draw_in_software(*app->host.draw_data());
    app->drawn_for += emscripten_get_now() - begun;
    app->pictures += 1;
  }
  return wake > 0 ? std::max(wake * 1000, 1.0) : wake;
}

// Without WebGL: RGBA pixels of a picture not yet fetched, canvas width times height of them; null when there is none.
EMSCRIPTEN_KEEPALIVE const uint8_t* ui_pixels() {
  if (!app->pixels_fresh) return nullptr;
  app->pixels_fresh = false;
  return app->pixels.rgba.data();
}

EMSCRIPTEN_KEEPALIVE int ui_want() { return app->host.want(); }
EMSCRIPTEN_KEEPALIVE int ui_cursor() { return app->host.cursor(); }

EMSCRIPTEN_KEEPALIVE void ui_context_lost() { app->drawing.forget(); }
EMSCRIPTEN_KEEPALIVE void ui_context_restored() {
  if (app->drawing.ready() || app->drawing.waits()) return;
  app->drawing.begin();
}

// For the tests and the benchmark, since the start: 0 frames built, 1 frames drawn; milliseconds spent 2 on the simulation, 3 on handing
// pictures to WebGL (or rasterising them).
EMSCRIPTEN_KEEPALIVE double ui_count(int which) {
  switch (which) {
    case 0: return app->frames;
    case 1: return app->pictures;
    case 2: return app->bench.simulation_cost() * 1000;
    default: return app->drawn_for;
  }
}

EMSCRIPTEN_KEEPALIVE double tp_revision(int which) { return static_cast<double>(app->bench.revision(static_cast<Revision>(which))); }

// The reply is valid until the next call.
EMSCRIPTEN_KEEPALIVE const char* tp_call(const char* json) {
  app->reply = call(app->bench, json);
  return app->reply.c_str();
}

// The page of marking has no canvas and no bench. The reply is valid until the next call.
EMSCRIPTEN_KEEPALIVE const char* tp_mark(const char* json) {
  static Marking marking;
  static std::string reply;
  reply = marking.call(json);
  return reply.c_str();
}

}  // extern "C"

int main() { return 0; }
