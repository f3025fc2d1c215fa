#include "engine/explain/finding.h"

#include <array>

namespace tiepoint {
namespace {

struct Row {
  std::string_view key;
  Severity severity;
  std::string_view tag;
};

constexpr std::array<Row, static_cast<size_t>(FindingKind::kCount)> kRows = {{
#define X(id, key, severity, tag) {key, Severity::severity, tag},
    TIEPOINT_FINDINGS(X)
#undef X
}};

}  // namespace

std::string_view key(Severity severity) {
  return severity == Severity::kFault ? "fault" : severity == Severity::kWarning ? "warning" : "note";
}
std::string_view key(FindingKind kind) { return kRows[static_cast<size_t>(kind)].key; }
Severity severity(FindingKind kind) { return kRows[static_cast<size_t>(kind)].severity; }
std::string_view misconception(FindingKind kind) { return kRows[static_cast<size_t>(kind)].tag; }

}  // namespace tiepoint
