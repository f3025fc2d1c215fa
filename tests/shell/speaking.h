// Speaks a language for as long as it lives.
#pragma once

#include <gtest/gtest.h>

#include <string_view>

#include "shell/words/languages.h"

namespace tiepoint {

struct Speaking {
  explicit Speaking(std::string_view language) { EXPECT_TRUE(use_language(language)); }
  ~Speaking() { use_language("en"); }
};

}  // namespace tiepoint
