#pragma once
// What becomes of the seeds of a plan, stage by stage.
#include <array>
#include <cstddef>

namespace strikebed::season {

/// In order; nobody reaches one without those before.
enum class Stage { sown, emerged, standing, offered, struck, rooted, weaned, wintered, good, counted };
inline constexpr std::array kStages{Stage::sown,   Stage::emerged, Stage::standing, Stage::offered, Stage::struck,
                                    Stage::rooted, Stage::weaned,  Stage::wintered, Stage::good,    Stage::counted};

/// How many are left at each stage.
class LeftAtStages {
 public:
  double& operator[](Stage stage) { return left_[static_cast<std::size_t>(stage)]; }
  double operator[](Stage stage) const { return left_[static_cast<std::size_t>(stage)]; }

 private:
  std::array<double, kStages.size()> left_{};
};

}  // namespace strikebed::season
