#pragma once
// What a plan chooses: when to sow, how often to hold sessions, and how long to let seedlings ripen.
#include <vector>

#include "base/steps.hpp"
#include "season/plan.hpp"
#include "season/sowing_sweep.hpp"
#include "season/study.hpp"

namespace strikebed::season {

/// Sows the study on the best days and holds its sessions in the best way; fills the sweep over sowing days and, where
/// the grower has not said on which days sessions are, what each rhythm would need. Says how much is done, 0 to 1.
///   range  not empty
[[nodiscard]] Steps<double> choose_days(Study& study, SowingRange range, SowingSweep& sweep,
                                        std::vector<RhythmPoint>& rhythms);

}  // namespace strikebed::season
