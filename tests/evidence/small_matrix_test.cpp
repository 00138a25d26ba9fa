// Linear algebra for a handful of unknowns: what defines each result.
#include "evidence/small_matrix.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/random.hpp"

namespace strikebed::evidence {
namespace {

SmallMatrix random_symmetric(std::size_t rows) {
  SmallMatrix m(rows);
  for (std::size_t i = 0; i < rows; ++i) {
    for (std::size_t j = 0; j <= i; ++j) m(i, j) = m(j, i) = random_normal(3, i, j);
  }
  return m;
}

TEST(SmallMatrix, EigenvectorsGiveTheMatrixBack) {
  for (const std::size_t rows : {1U, 2U, 5U, 16U}) {
    const SmallMatrix m = random_symmetric(rows);
    const SymmetricEigen eigen = eigen_of(m);
    const SmallMatrix back = eigen.function([](double value) { return value; });
    const SmallMatrix one = eigen.function([](double) { return 1.0; });
    for (std::size_t i = 0; i < rows; ++i) {
      for (std::size_t j = 0; j < rows; ++j) {
        ASSERT_NEAR(back(i, j), m(i, j), 1e-13);
        ASSERT_NEAR(one(i, j), i == j ? 1 : 0, 1e-13);
      }
    }
  }
}

TEST(SmallMatrix, CholeskySolves) {
  const SmallMatrix positive = eigen_of(random_symmetric(6)).function([](double value) { return 0.1 + value * value; });
  const auto factor = cholesky(positive);
  ASSERT_TRUE(factor.has_value());
  const std::vector<double> right{1, 2, 3, 4, 5, 6};
  const std::vector<double> again = positive.times(solved(*factor, right));
  for (std::size_t i = 0; i < right.size(); ++i) EXPECT_NEAR(again[i], right[i], 1e-11);
  EXPECT_FALSE(cholesky(random_symmetric(6)).has_value());  // has eigenvalues below 0
}

}  // namespace
}  // namespace strikebed::evidence
