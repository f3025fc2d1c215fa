#include "engine/explain/finding.h"

#include <array>
#include <cmath>
#include <utility>

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

Finding make_finding(FindingKind kind) {
  Finding finding;
  finding.kind = kind;
  finding.severity = severity(kind);
  finding.misconception = misconception(kind);
  return finding;
}

void tell(Finding& finding, std::string_view name, std::string text) { finding.arguments.push_back({.name = name, .text = std::move(text)}); }

void tell(Finding& finding, std::string_view name, double value, std::string_view unit) {
  if (!std::isnan(value)) finding.arguments.push_back({.name = name, .value = value, .unit = unit});
}

}  // namespace tiepoint
