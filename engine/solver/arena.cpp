#include "engine/solver/arena.h"

#include <algorithm>

namespace tiepoint {

// Half as much again as there is, so that little is left over of a large circuit and a small one takes one block or two.
void Arena::grow(size_t bytes) {
  const size_t size = std::max({bytes, kFirstBlock, taken_ / 2});
  blocks_.emplace_back(new char[size]);
  taken_ += size;
  next_ = blocks_.back().get();
  end_ = next_ + size;
}

}  // namespace tiepoint
