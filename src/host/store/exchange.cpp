// Two stores become one set.
#include <utility>

#include "host/store/daybook_store.hpp"

namespace strikebed::host {
namespace {

void count(const Added& more, Added& all) {
  all.entries += more.entries;
  all.attachments += more.attachments;
}

/// What one has and the other's entries name.
std::optional<Error> carry_attachments(DaybookStore& from, DaybookStore& to, Added& given) {
  const auto missing = to.missing_attachments();
  if (!missing) return missing.error();
  for (const daybook::Digest& digest : *missing) {
    auto bytes = from.attachment(digest);
    if (!bytes) return bytes.error();
    if (!*bytes) continue;
    const auto added = to.add({}, {{digest, std::move(**bytes)}});
    if (!added) return added.error();
    count(*added, given);
  }
  return std::nullopt;
}

}  // namespace

Result<Exchanged> exchange(DaybookStore& here, DaybookStore& there) {
  Exchanged exchanged;
  const auto ids = here.ids();
  if (!ids) return ids.error();
  daybook::Message message = daybook::opening(*ids);
  for (bool to_there = true; !message.is_empty(); to_there = !to_there) {
    DaybookStore& receiver = to_there ? there : here;
    const auto added = receiver.add(message.entries);
    if (!added) return added.error();
    count(*added, to_there ? exchanged.there : exchanged.here);
    message.entries.clear();
    auto answer = receiver.answer(message);
    if (!answer) return answer.error();
    message = std::move(*answer);
  }
  auto error = carry_attachments(here, there, exchanged.there);
  if (!error) error = carry_attachments(there, here, exchanged.here);
  if (error) return *error;
  return exchanged;
}

}  // namespace strikebed::host
