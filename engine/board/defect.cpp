#include "engine/board/defect.h"

#include <iterator>

namespace tiepoint {
namespace {

constexpr std::string_view kKeys[] = {
#define X(id, key) key,
    TIEPOINT_DEFECTS(X)
#undef X
};
constexpr std::string_view kHunt[] = {"guess", "measurement", "repair"};

}  // namespace

std::string_view key(Defect::Kind kind) { return kKeys[size_t(kind)]; }
std::string_view key(HuntEntry::Kind kind) { return kHunt[size_t(kind)]; }

bool defect_of(std::string_view word, Defect::Kind& kind) {
  for (size_t k = 0; k < std::size(kKeys); ++k)
    if (kKeys[k] == word) return kind = Defect::Kind(k), true;
  return false;
}

}  // namespace tiepoint
