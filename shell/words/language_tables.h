// The tables that words.cmake makes, one for each catalogue. A new language is its file, a row here and a name in words.cmake.
#pragma once

#include "shell/words/table.h"

#define TIEPOINT_LANGUAGES(X) X(en) X(es) X(de) X(he)

namespace tiepoint {

#define X(language) std::span<const WordsEntry> words_table_##language();
TIEPOINT_LANGUAGES(X)
#undef X

}  // namespace tiepoint
