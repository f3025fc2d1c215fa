// Memory of one simulation: rows of numbers that are made once for a circuit's structure, live as long as it and are given back
// together. Taking some is an addition; a circuit of some twenty nodes has hundreds of rows.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <new>
#include <type_traits>
#include <utility>
#include <vector>

namespace tiepoint {

class Arena {
 public:
  Arena() = default;
  Arena(const Arena&) = delete;
  Arena& operator=(const Arena&) = delete;

  void* take(size_t bytes) {
    bytes = (bytes + kAlignment - 1) / kAlignment * kAlignment;
    if (bytes > size_t(end_ - next_)) grow(bytes);
    return std::exchange(next_, next_ + bytes);
  }

  // While one of these lives, rows that are made belong to its arena.
  class Use {
   public:
    explicit Use(Arena& arena) : before_(current) { current = &arena; }
    ~Use() { current = before_; }
    Use(const Use&) = delete;
    Use& operator=(const Use&) = delete;

   private:
    Arena* before_;
  };
  static Arena* in_use() { return current; }

 private:
  static constexpr size_t kAlignment = 16, kFirstBlock = 8192;
  void grow(size_t bytes);

  inline static thread_local Arena* current = nullptr;
  char *next_ = nullptr, *end_ = nullptr;
  size_t taken_ = 0;
  std::vector<std::unique_ptr<char[]>> blocks_;
};

// Allocator of the rows; where no arena is in use it takes from the heap.
template <class T>
struct FromArena {
  using value_type = T;
  using propagate_on_container_move_assignment = std::true_type;
  using propagate_on_container_swap = std::true_type;

  FromArena(Arena* of = Arena::in_use()) : arena(of) {}
  template <class U>
  FromArena(const FromArena<U>& other) : arena(other.arena) {}

  T* allocate(size_t count) {
    const size_t bytes = count * sizeof(T);
    return static_cast<T*>(arena ? arena->take(bytes) : ::operator new(bytes));
  }
  void deallocate(T* at, size_t) {
    if (!arena) ::operator delete(at);
  }
  // A copy is made for a while, and an arena gives nothing back before its end.
  FromArena select_on_container_copy_construction() const { return nullptr; }
  bool operator==(const FromArena&) const = default;

  Arena* arena;
};

template <class T>
using Row = std::vector<T, FromArena<T>>;

// to[count] = from[count]. A loop: std::copy calls the C library, which takes longer over the few numbers of a row.
inline void copy_row(const double* from, std::size_t count, double* to) {
  for (std::size_t i = 0; i < count; ++i) to[i] = from[i];
}
inline void copy_row(const Row<double>& from, Row<double>& to) {
  to.resize(from.size());
  copy_row(from.data(), from.size(), to.data());
}

}  // namespace tiepoint
