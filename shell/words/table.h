// The table that words.cmake generates from en.json, sorted by key.
#pragma once

#include <span>
#include <string_view>

namespace tiepoint {

struct WordsEntry {
  std::string_view key;
  std::string_view message;
};

std::span<const WordsEntry> words_table();

}  // namespace tiepoint
