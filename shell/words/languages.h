// The languages of the terminal program: a table for each catalogue beside this file. The page brings the one it needs instead.
#pragma once

#include <span>
#include <string_view>

namespace tiepoint {

std::span<const std::string_view> languages();  // "en", "es", …: the names of the catalogues
// What say() speaks from here on; false, and nothing changes, when there is no such catalogue. What it gave before stays valid.
bool use_language(std::string_view language);

}  // namespace tiepoint
