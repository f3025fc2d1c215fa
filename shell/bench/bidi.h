// Lines with Hebrew letters, in the order in which they are drawn from left to right. ImGui draws letters in the order of their bytes.
//
// A part of the Unicode bidirectional algorithm (UAX 9), enough for the bench's short lines: one direction a line (from right to left as
// soon as one Hebrew letter is in it), names and numbers such as "e12" and "4.7 kΩ" stay as they are, brackets are mirrored. Hebrew needs
// no joined letters; the bench writes no vowel points.
#pragma once

#include <string>
#include <string_view>

namespace tiepoint {

bool has_hebrew(std::string_view words);
std::string visual_order(std::string_view words);

}  // namespace tiepoint
