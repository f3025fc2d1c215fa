// The areas in which a frame is drawn again: few, apart from each other, and not much larger than what has changed.
#include <algorithm>

#include "shell/bench/picture.h"

namespace tiepoint {
namespace {

constexpr size_t kMostAreas = 24;
constexpr int kMostRounds = 400;
constexpr float kLoose = 1.2f;      // of what has changed: so much may be drawn again for being one area
constexpr float kMostShare = 0.5f;  // of the canvas; above it all is drawn again

float pixels_of(const Area& a) { return float(a.right - a.left) * float(a.bottom - a.top); }

}  // namespace

// Areas that overlap are joined, or, where that would cover much that has not changed (two long ones that cross), the second
// one gives up what the first one has.
void Picture::settle_areas() {
  if (whole_) return changed_.clear();
  waiting_.swap(changed_);
  changed_.clear();
  for (int rounds = 0; !waiting_.empty(); ++rounds) {
    if (rounds == kMostRounds || changed_.size() > kMostAreas) {
      waiting_.clear();
      return changed_.clear();
    }
    const Area next = waiting_.back();
    waiting_.pop_back();
    const auto old = std::find_if(changed_.begin(), changed_.end(), [&](const Area& area) { return meet(area, next); });
    if (old == changed_.end()) {
      changed_.push_back(next);
      continue;
    }
    const Area all = both(*old, next), in = common(*old, next);
    if (pixels_of(all) <= kLoose * (pixels_of(*old) + pixels_of(next) - pixels_of(in))) {
      changed_.erase(old);
      waiting_.push_back(all);
      continue;
    }
    for (const Area& rest : {Area{next.left, next.top, next.right, in.top}, Area{next.left, in.bottom, next.right, next.bottom},
                             Area{next.left, in.top, in.left, in.bottom}, Area{in.right, in.top, next.right, in.bottom}})
      if (!rest.empty()) waiting_.push_back(rest);
  }
  float sum = 0;
  for (const Area& area : changed_) sum += pixels_of(area);
  if (changed_.size() > kMostAreas || sum > kMostShare * size_.x * scale_.x * size_.y * scale_.y) changed_.clear();
}

}  // namespace tiepoint
