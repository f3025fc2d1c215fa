// The bench's words in the page: given by it once, before the bench starts, so that the module carries none and serves every
// language. Takes the place of the table that words.cmake generates.
#include "shell/bench/web_words.h"

#include <string>
#include <vector>

#include "shell/words/table.h"

namespace tiepoint {
namespace {

std::string text;
std::vector<WordsEntry> entries;

std::string_view line_at(size_t& at) {
  const size_t end = std::min(text.find('\n', at), text.size());
  const std::string_view line = std::string_view(text).substr(at, end - at);
  at = std::min(end + 1, text.size());
  return line;
}

}  // namespace

void give_words(std::string_view lines) {
  text = lines;
  entries.clear();
  for (size_t at = 0; at < text.size();) {
    const std::string_view key = line_at(at);
    entries.push_back({key, line_at(at)});
  }
  std::sort(entries.begin(), entries.end(), [](const WordsEntry& a, const WordsEntry& b) { return a.key < b.key; });
}

std::span<const WordsEntry> words_table() { return entries; }

}  // namespace tiepoint
