#pragma once
// Linear algebra for a handful of unknowns. A general library does all of this, but brings its machinery for large
// matrices into the module that a page loads (some 50 kB of it); for sixteen rows at most nothing here needs that.
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace strikebed::evidence {

/// Square, of a few rows; zero at first.
class SmallMatrix {
 public:
  explicit SmallMatrix(std::size_t rows) : rows_(rows), entries_(rows * rows) {}

  [[nodiscard]] std::size_t rows() const { return rows_; }
  [[nodiscard]] double& operator()(std::size_t row, std::size_t column) { return entries_[row * rows_ + column]; }
  [[nodiscard]] double operator()(std::size_t row, std::size_t column) const { return entries_[row * rows_ + column]; }
  [[nodiscard]] const std::vector<double>& entries() const { return entries_; }  ///< row by row
  [[nodiscard]] std::vector<double> times(std::span<const double> vector) const;
  [[nodiscard]] bool all_finite() const;

 private:
  std::size_t rows_;
  std::vector<double> entries_;
};

struct SymmetricEigen {
  std::vector<double> values;
  SmallMatrix vectors;  ///< in columns, in the order of the values, orthonormal

  /// vectors diag(of each value) transposed vectors
  template <class F>
  [[nodiscard]] SmallMatrix function(const F& of_value) const {
    const std::size_t n = values.size();
    SmallMatrix result(n);
    for (std::size_t k = 0; k < n; ++k) {
      const double value = of_value(values[k]);
      for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = 0; j < n; ++j) result(i, j) += value * vectors(i, k) * vectors(j, k);
      }
    }
    return result;
  }
};
/// Of a symmetric matrix, to the last digits; values in no order.
/// Source: cyclic Jacobi rotations, Golub & Van Loan 2013, Matrix Computations, 4th ed., 8.5.
[[nodiscard]] SymmetricEigen eigen_of(SmallMatrix symmetric);

/// The lower triangle L with L L' = the matrix, of which the lower triangle is read; nothing: it is not positive
/// definite.
[[nodiscard]] std::optional<SmallMatrix> cholesky(const SmallMatrix& symmetric);
/// x with L L' x = right.
[[nodiscard]] std::vector<double> solved(const SmallMatrix& factor, std::span<const double> right);

}  // namespace strikebed::evidence
