// The order of a contact's parameters, for those who operate it: engine/devices/contact.cpp.
#pragma once

#include <cstdint>
#include <limits>
#include <string_view>

namespace tiepoint {

enum ContactParameter { kContactClosed, kContactClosedResistance, kContactOpenResistance, kContactBounceTime, kContactBounces,
                        kContactOperated, kContactSeed };

inline constexpr int kMostBounces = 32;
inline constexpr double kLongAgo = -std::numeric_limits<double>::infinity();  // [s] operated so long ago that it is at rest

}  // namespace tiepoint
