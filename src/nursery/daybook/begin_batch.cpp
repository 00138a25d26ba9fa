#include "nursery/daybook/begin_batch.hpp"

#include <fmt/format.h>

#include <vector>

#include "daybook/batch_code.hpp"

namespace strikebed::nursery {

using namespace daybook;

std::string new_code(Fold& fold, const std::string& device, std::uint64_t random_bits) {
  std::optional<int> mark;
  std::vector<int> taken;
  for (const auto& [id, batch] : fold.state().batches) {
    const auto code = read_batch_code(batch.code);
    if (!code.ok()) continue;
    taken.push_back(code->device_mark);
    if (fold.find(id)->device == device) mark = code->device_mark;
  }
  if (!mark) mark = free_device_mark(taken, random_bits);
  return to_text(BatchCode{*mark, fold.last_counter(*mark).value_or(-1) + 1});
}

std::optional<EntryId> cuttings_of_today(Fold& fold, const EntryId& seedlings, const std::string& device, Date day) {
  const State& state = fold.state();
  std::optional<EntryId> latest;
  for (const Link& link : state.batches.at(seedlings).into) {
    const auto found = state.batches.find(link.batch);
    if (found == state.batches.end() || found->second.holds != Holds::cuttings) continue;
    if (local_day(found->second.began) != day || fold.find(link.batch)->device != device) continue;
    if (!latest || state.batches.at(*latest).began.ms <= found->second.began.ms) latest = link.batch;
  }
  return latest;
}

std::optional<Error> pooled(const State& state, BatchStarted& begun) {
  for (FromBatch& from : begun.from) {
    const Batch& batch = state.batches.at(from.batch);
    if (!batch.left || *batch.left <= 0) {
      return Error{.problem = batch.left ? fmt::format("nothing is left of {}", batch.code)
                                         : fmt::format("it is not known how many are left of {}", batch.code),
                   .allowed = "batches that were counted and are not empty"};
    }
    from.number = static_cast<int>(*batch.left);
  }
  return std::nullopt;
}

}  // namespace strikebed::nursery
