// The files that the bench's letters are drawn from. Natively they are baked in (shell/tools/make_fonts.py); in the page it brings them, since its own
// words are set in the same ones (web_fonts.cpp).
#pragma once

#include <span>

namespace tiepoint::fonts {

enum class File { kRegular, kStrong, kMore };  // kMore: a script that the other two do not have

// OpenType or TrueType; empty when there is none. Valid to the end.
std::span<const unsigned char> file_of(File file);

}  // namespace tiepoint::fonts
