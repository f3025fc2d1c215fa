#include "engine/solver/arena.h"

#include <algorithm>

namespace tiepoint {

// A quarter of what there is besides, so that little is left over of a large circuit and a small one takes one block or two.
void Arena::grow(size_t bytes) {
  const size_t size = std::max({bytes, kFirstBlock, taken_ / 4});
  blocks_.emplace_back(new char[size]);
  taken_ += size;
  next_ = blocks_.back().get();
  end_ = next_ + size;
}

}  // namespace tiepoint
