#include "shell/words/languages.h"

#include <algorithm>
#include <iterator>

#include "shell/words/language_tables.h"
#include "shell/words/table.h"

namespace tiepoint {
namespace {

constexpr std::string_view kNames[] = {
#define X(language) #language,
    TIEPOINT_LANGUAGES(X)
#undef X
};

using Table = std::span<const WordsEntry> (*)();
constexpr Table kTables[] = {
#define X(language) words_table_##language,
    TIEPOINT_LANGUAGES(X)
#undef X
};

Table spoken = words_table_en;

}  // namespace

std::span<const std::string_view> languages() { return kNames; }

bool use_language(std::string_view language) {
  const auto at = std::find(std::begin(kNames), std::end(kNames), language);
  if (at == std::end(kNames)) return false;
  spoken = kTables[at - std::begin(kNames)];
  return true;
}

std::span<const WordsEntry> words_table() { return spoken(); }

}  // namespace tiepoint
