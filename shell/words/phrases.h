// The search behind said_in_language() (words.h), apart from it: English needs none of it, and a page fetches it later.
#pragma once

#include <string>
#include <string_view>

namespace tiepoint {

std::string look_up_phrase(std::string_view english);

}  // namespace tiepoint
