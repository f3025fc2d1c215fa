// The bench's fonts in the page: given by it once, before the bench starts. Takes the place of the file that make_fonts.py generates.
#include "shell/bench/web_fonts.h"

#include <array>
#include <vector>

namespace tiepoint::fonts {
namespace {

std::array<std::vector<unsigned char>, 3> files;

}  // namespace

void give(File file, std::span<const unsigned char> bytes) { files[static_cast<size_t>(file)].assign(bytes.begin(), bytes.end()); }

std::span<const unsigned char> file_of(File file) { return files[static_cast<size_t>(file)]; }

}  // namespace tiepoint::fonts
