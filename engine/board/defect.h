// What is wrong with one part, other than where it sits: died of too much, or made so by a teacher to be searched for.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace tiepoint {

#define TIEPOINT_DEFECTS(X)                                                                   \
  X(kNone, "none")                                                                            \
  X(kOpen, "open")          /* nothing gets through lead `lead` any more */                   \
  X(kShorted, "shorted")    /* joined inside from lead `lead` to lead `other` */              \
  X(kWorn, "worn")          /* the clip grips lead `lead` badly: `amount` [ohm] of contact */ \
  X(kOffValue, "off-value") /* `amount` times the resistance that is printed on it */         \
  X(kRunDown, "run-down")   /* a battery with at most the share `amount` of its charge */     \
  X(kStuck, "stuck")        /* its first control stays at position `amount`, whatever a hand does */

struct Defect {
  enum class Kind : unsigned char {
#define X(id, key) id,
    TIEPOINT_DEFECTS(X)
#undef X
  };
  Kind kind = Kind::kNone;
  int lead = 0, other = 1;
  double amount = 0;
  bool hidden = false;  // it looks like a good one; only measuring tells
  // Of a part that died: what it bore, what it may bear, in one unit ("W", "A", "V"), and for how long [s]. 0: not known.
  double bore = 0, rating = 0, seconds = 0;
  char unit = 0;
  explicit operator bool() const { return kind != Kind::kNone; }
  bool operator==(const Defect&) const = default;
};
std::string_view key(Defect::Kind kind);
bool defect_of(std::string_view key, Defect::Kind& kind);  // false when there is none of that key

// How near to a real bench a board is. Parts get hot and die unless the board is spared.
struct Realism {
  bool spared = false;  // nothing dies, however hot it gets
  bool spread = false;  // values lie within their tolerance, contacts differ: drawn from the seed
  uint32_t seed = 1;
  bool operator==(const Realism&) const = default;
};

// What somebody did who looks for a fault, in the order it was done.
struct HuntEntry {
  enum class Kind : unsigned char { kGuess, kMeasurement, kRepair } kind = Kind::kGuess;
  std::string text;
  bool operator==(const HuntEntry&) const = default;
};
std::string_view key(HuntEntry::Kind kind);  // "guess", "measurement", "repair"
inline constexpr size_t kLongestHunt = 500;  // entries

}  // namespace tiepoint
