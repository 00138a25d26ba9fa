#pragma once
// A plan that was chosen, as the daybook keeps it.
#include <vector>

#include "daybook/fold.hpp"
#include "nursery/daybook/note.hpp"
#include "nursery/library.hpp"
#include "nursery/make_plan.hpp"

namespace strikebed::nursery {

/// The plan, unless it is the last one of its goal, and before it the goal, unless the daybook has one of this name
/// with the same text.
///   goal      its text; it goes by the name of its file
///   happened  when it was chosen
[[nodiscard]] std::vector<daybook::Entry> entries_of_plan(const Text& goal, const PlanAnswer& answer,
                                                          const NoteRequest& by, const NoteMeans& means,
                                                          const daybook::Moment& happened, daybook::Fold& fold);

}  // namespace strikebed::nursery
