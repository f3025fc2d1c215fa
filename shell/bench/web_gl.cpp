#include "shell/bench/web_gl.h"

#include <GLES3/gl3.h>

#include <cstddef>

namespace tiepoint {
namespace {

constexpr const char* kVertexShader = R"(#version 300 es
precision highp float;
layout(location = 0) in vec2 place;
layout(location = 1) in vec2 spot;
layout(location = 2) in vec4 colour;
uniform vec4 to_clip;  // scale, shift
out vec2 texel;
out vec4 ink;
void main() {
  texel = spot;
  ink = colour;
  gl_Position = vec4(place * to_clip.xy + to_clip.zw, 0.0, 1.0);
})";

constexpr const char* kPixelShader = R"(#version 300 es
precision mediump float;
in vec2 texel;
in vec4 ink;
uniform sampler2D atlas;
out vec4 result;
void main() { result = vec4(ink.rgb, ink.a * texture(atlas, texel).r); })";

unsigned compiled(GLenum kind, const char* text) {
  const unsigned shader = glCreateShader(kind);
  glShaderSource(shader, 1, &text, nullptr);
  glCompileShader(shader);
  return shader;
}

}  // namespace

void WebGl::begin() {
  program_ = glCreateProgram();
  for (const auto& [kind, text] :
       {std::pair{GLenum(GL_VERTEX_SHADER), kVertexShader}, std::pair{GLenum(GL_FRAGMENT_SHADER), kPixelShader}}) {
    const unsigned shader = compiled(kind, text);
    glAttachShader(program_, shader);
    glDeleteShader(shader);
  }
  glLinkProgram(program_);
  glFlush();  // or the other process would hear of it when it is asked
}

bool WebGl::start() {
  int linked = 0;
  glGetProgramiv(program_, GL_LINK_STATUS, &linked);
  if (linked == 0) {
    program_ = 0;
    return false;
  }
  to_clip_ = glGetUniformLocation(program_, "to_clip");
  glUseProgram(program_);
  glUniform1i(glGetUniformLocation(program_, "atlas"), 0);

  glGenVertexArrays(1, &layout_);
  glGenBuffers(1, &vertices_);
  glGenBuffers(1, &indices_);
  glBindVertexArray(layout_);
  glBindBuffer(GL_ARRAY_BUFFER, vertices_);
  glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, indices_);
  const auto place = [](size_t offset) { return reinterpret_cast<const void*>(offset); };
  glEnableVertexAttribArray(0), glEnableVertexAttribArray(1), glEnableVertexAttribArray(2);
  glVertexAttribPointer(0, 2, GL_FLOAT, GL_FALSE, sizeof(ImDrawVert), place(offsetof(ImDrawVert, pos)));
  glVertexAttribPointer(1, 2, GL_FLOAT, GL_FALSE, sizeof(ImDrawVert), place(offsetof(ImDrawVert, uv)));
  glVertexAttribPointer(2, 4, GL_UNSIGNED_BYTE, GL_TRUE, sizeof(ImDrawVert), place(offsetof(ImDrawVert, col)));

  glEnable(GL_BLEND);
  glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
  glClearColor(0, 0, 0, 0);
  glActiveTexture(GL_TEXTURE0);
  glGenTextures(1, &texture_);
  put_fonts();
  started_ = true;
  return true;
}

// The atlas is white; what counts is how much of a texel is covered.
void WebGl::put_fonts() {
  unsigned char* pixels = nullptr;
  int width = 0, height = 0;
  ImGui::GetIO().Fonts->GetTexDataAsAlpha8(&pixels, &width, &height);
  glBindTexture(GL_TEXTURE_2D, texture_);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
  glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
  glTexImage2D(GL_TEXTURE_2D, 0, GL_R8, width, height, 0, GL_RED, GL_UNSIGNED_BYTE, pixels);
}

void WebGl::draw(const ImDrawData& data, const std::vector<Area>& areas) {
  const ImVec2 scale = data.FramebufferScale, size = data.DisplaySize;
  const int width = int(size.x * scale.x + 0.5f), height = int(size.y * scale.y + 0.5f), floor_height = int(size.y * scale.y);
  glViewport(0, 0, width, height);
  glDisable(GL_SCISSOR_TEST);
  if (areas.empty()) glClear(GL_COLOR_BUFFER_BIT);
  glEnable(GL_SCISSOR_TEST);
  for (const Area& area : areas) {
    glScissor(area.left, floor_height - area.bottom, area.right - area.left, area.bottom - area.top);
    glClear(GL_COLOR_BUFFER_BIT);
  }
  const ImDrawList& list = *data.CmdLists[0];
  if (list.IdxBuffer.Size == 0) return;
  glUniform4f(to_clip_, 2 / size.x, -2 / size.y, -1 - 2 * data.DisplayPos.x / size.x, 1 + 2 * data.DisplayPos.y / size.y);
  glBufferData(GL_ARRAY_BUFFER, list.VtxBuffer.size_in_bytes(), list.VtxBuffer.Data, GL_STREAM_DRAW);
  glBufferData(GL_ELEMENT_ARRAY_BUFFER, list.IdxBuffer.size_in_bytes(), list.IdxBuffer.Data, GL_STREAM_DRAW);
  for (const ImDrawCmd& command : list.CmdBuffer) {
    const Area clip = clip_pixels(command.ClipRect, size, scale);
    if (clip.empty()) continue;
    glScissor(clip.left, floor_height - clip.bottom, clip.right - clip.left, clip.bottom - clip.top);
    glDrawElements(GL_TRIANGLES, int(command.ElemCount), GL_UNSIGNED_INT,
                   reinterpret_cast<const void*>(size_t(command.IdxOffset) * sizeof(ImDrawIdx)));
  }
}

}  // namespace tiepoint
