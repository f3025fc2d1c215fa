// The order of a contact's parameters, for those who operate it (engine/devices/contact.cpp), and where those stand that make a relay
// (relay.cpp) or a reed (reed.cpp) bounce.
#pragma once

#include <cstdint>
#include <limits>
#include <string_view>

namespace tiepoint {

enum ContactParameter { kContactClosed, kContactClosedResistance, kContactOpenResistance, kContactBounceTime, kContactBounces,
                        kContactOperated, kContactSeed };

enum RelayParameter { kRelayBounces = 9, kRelayReturnBounces = 11 };
enum ReedParameter { kReedBounces = 6 };

inline constexpr int kMostBounces = 32;
inline constexpr double kLongAgo = -std::numeric_limits<double>::infinity();  // [s] operated so long ago that it is at rest

}  // namespace tiepoint
