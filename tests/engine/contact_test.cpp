#include "engine/devices/contact.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "engine/devices/model.h"

namespace tiepoint {
namespace {

const Model& contact() { return model(ElementKind::kContact); }

std::vector<double> parameters(bool closed, double operated, uint32_t seed) { return {closed ? 1.0 : 0.0, 1, 1e9, 5e-3, 6, operated, double(seed)}; }

bool is_closed(const std::vector<double>& p, double time) {
  const double x[] = {1, 0};
  double f[2] = {}, q[2] = {}, df[4] = {}, dq[4] = {};
  contact().evaluate(p, x, {.time = time, .since = time}, {f, q, df, dq});
  return f[0] > 0.5;
}

std::vector<double> corners(const std::vector<double>& p) {
  std::vector<double> all;
  for (double t = p[kContactOperated] - 1; (t = contact().next_corner(p, t)) < 1e300;) all.push_back(t);
  return all;
}

TEST(Contact, AtRestItHasNoCorner) {
  for (const bool closed : {true, false}) {
    const std::vector<double> p = parameters(closed, kLongAgo, 3);
    EXPECT_TRUE(std::isinf(contact().next_corner(p, 0)));
    EXPECT_EQ(is_closed(p, 0), closed);
  }
}

// Every burst: in order, within its time, an even number of swings, ends where it should; some bounce and some do not.
TEST(Contact, BurstsStayWithinTheirTimeAndEndInTheNewPosition) {
  int quiet = 0, most = 0;
  for (uint32_t seed = 0; seed < 2000; ++seed) {
    const double t0 = seed % 2 ? 0.0 : 3600.0;
    const std::vector<double> p = parameters(seed % 3 != 0, t0, seed * 2654435761u);
    const std::vector<double> at = corners(p);
    ASSERT_EQ(at.size() % 2, 1u);
    EXPECT_EQ(at.front(), t0);
    EXPECT_LE(at.back(), t0 + 5e-3);
    quiet += at.size() == 1, most = std::max(most, int(at.size() / 2));
    const bool closed = p[0] != 0;
    EXPECT_EQ(is_closed(p, t0 - 1e-3), !closed);
    for (size_t k = 0; k < at.size(); ++k) {
      if (k > 0) EXPECT_GT(at[k], at[k - 1]);
      EXPECT_EQ(is_closed(p, at[k]), (k % 2 == 0) == closed);
    }
    EXPECT_EQ(is_closed(p, at.back() + 1), closed);
  }
  EXPECT_EQ(most, 6);
  EXPECT_NEAR(quiet / 2000.0, 1 / 7.0, 0.03);
}

// Whole-number sums alone decide, so the very same numbers come out of every build.
TEST(Contact, TheSameSeedBouncesTheSameInEveryBuild) {
  EXPECT_EQ(corners(parameters(true, 0, 12345)), (std::vector<double>{0, 0x1.2d35b053bc31ap-11, 0x1.0d63ad3e34bccp-9}));
}

}  // namespace
}  // namespace tiepoint
