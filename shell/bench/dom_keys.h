// From the browser's names for keys to Dear ImGui's.
#pragma once

#include <string_view>

#include "imgui.h"

namespace tiepoint {

// `code` is the key's place ("KeyZ"), `key` what its cap says ("z"), both as in the W3C UI Events standard. Letters go by their cap, so
// that a shortcut is where the learner's own keyboard shows it; every other key goes by its place.
ImGuiKey key_from_dom(std::string_view code, std::string_view key);

}  // namespace tiepoint
