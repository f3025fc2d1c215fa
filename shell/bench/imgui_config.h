// Compile-time settings of Dear ImGui, named by IMGUI_USER_CONFIG.
#pragma once

// A crowded board passes 65 536 vertices, and OpenGL ES 3 has no vertex offset in its draw call.
#define ImDrawIdx unsigned int

#define IMGUI_DISABLE_OBSOLETE_FUNCTIONS
#define IMGUI_DISABLE_OBSOLETE_KEYIO
#define IMGUI_DISABLE_DEMO_WINDOWS
#define IMGUI_DISABLE_DEBUG_TOOLS
#define IMGUI_DISABLE_FILE_FUNCTIONS
#define IMGUI_DISABLE_DEFAULT_SHELL_FUNCTIONS
#define IMGUI_DEFINE_MATH_OPERATORS
