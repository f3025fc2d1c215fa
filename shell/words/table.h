// The tables that words.cmake generates from en.json and parts.json, sorted by key.
#pragma once

#include <algorithm>
#include <span>
#include <string_view>

namespace tiepoint {

struct WordsEntry {
  std::string_view key;
  std::string_view message;
};

std::span<const WordsEntry> words_table();
std::span<const WordsEntry> part_facts_table();

// Null when the table has no such key.
inline const WordsEntry* find_entry(std::span<const WordsEntry> table, std::string_view key) {
  const auto at = std::lower_bound(table.begin(), table.end(), key,
                                   [](const WordsEntry& entry, std::string_view wanted) { return entry.key < wanted; });
  return at != table.end() && at->key == key ? &*at : nullptr;
}

}  // namespace tiepoint
