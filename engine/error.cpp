#include "engine/error.h"

#include <array>

namespace tiepoint {
namespace {

struct Entry {
  std::string_view key;
  std::string_view sentence;
};

constexpr std::array kEntries = {
#define X(id, key, sentence) Entry{key, sentence},
    TIEPOINT_ERRORS(X)
#undef X
};

std::string_view field(const Error& error, std::string_view name) {
  if (name == "part") return error.part;
  if (name == "lead") return error.lead;
  if (name == "hole") return error.hole;
  if (name == "found") return error.found;
  if (name == "expected") return error.expected;
  return {};
}

}  // namespace

std::string_view key(Code code) { return kEntries[static_cast<size_t>(code)].key; }
std::string_view sentence_template(Code code) { return kEntries[static_cast<size_t>(code)].sentence; }

std::string text(const Error& error) {
  std::string out;
  if (error.line > 0) {
    out += "line " + std::to_string(error.line);
    if (error.column > 0) out += ", column " + std::to_string(error.column);
    out += ": ";
  } else if (!error.pointer.empty()) {
    out += error.pointer + ": ";
  }
  const std::string_view sentence = sentence_template(error.code);
  for (size_t i = 0; i < sentence.size();) {
    const size_t close = sentence[i] == '{' ? sentence.find('}', i) : std::string_view::npos;
    if (close == std::string_view::npos) {
      out += sentence[i++];
      continue;
    }
    out += field(error, sentence.substr(i + 1, close - i - 1));
    i = close + 1;
  }
  return out;
}

}  // namespace tiepoint
