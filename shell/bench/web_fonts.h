// The bench's fonts where the page brings them.
#pragma once

#include "shell/bench/font_files.h"

namespace tiepoint::fonts {

// Only before the bench starts: what file_of gave before is no longer valid.
void give(File file, std::span<const unsigned char> bytes);

}  // namespace tiepoint::fonts
