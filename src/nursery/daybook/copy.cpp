#include "nursery/daybook/copy.hpp"

#include <utility>

#include "daybook/document.hpp"
#include "daybook/entry_json.hpp"
#include "daybook/exchange.hpp"
#include "daybook/kept_json.hpp"

namespace strikebed::nursery {

std::vector<std::string> DaybookCopy::add(std::vector<daybook::Entry> entries) {
  std::vector<std::string> fresh;
  for (const daybook::Entry& entry : entries) {
    if (!fold_.find(entry.id)) fresh.push_back(daybook::entry_json(entry));
  }
  fold_.add(std::move(entries));
  return fresh;
}

Result<std::vector<std::string>> DaybookCopy::take(std::string_view document) {
  auto read = daybook::read_document(document);
  if (!read) return read.error();
  return add(std::move(read->entries));
}

Result<std::size_t> DaybookCopy::take(const std::vector<std::string>& entries) {
  std::vector<daybook::Entry> all;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    auto entry = daybook::read_kept_entry(entries[i]);
    if (!entry) {
      Error wrong = entry.error();
      wrong.line = static_cast<int>(i) + 1;
      return wrong;
    }
    all.push_back(std::move(*entry));
  }
  const std::size_t before = fold_.size();
  fold_.add(std::move(all));
  return fold_.size() - before;
}

Result<DaybookCopy::Exchanged> DaybookCopy::exchange(std::string_view message) {
  if (message.empty()) return Exchanged{daybook::message_text(daybook::opening(fold_.ids())), {}};
  auto read = daybook::read_message(message);
  if (!read) return read.error();
  Exchanged exchanged{.message = {}, .added = add(read->entries)};
  const auto find = [&](const daybook::EntryId& id) -> std::optional<daybook::Entry> {
    const daybook::Entry* entry = fold_.find(id);
    return entry ? std::optional(*entry) : std::nullopt;
  };
  const daybook::Message answer = daybook::answer(fold_.ids(), *read, find);
  if (!answer.is_empty()) exchanged.message = daybook::message_text(answer);
  return exchanged;
}

std::optional<NoteMeans> means_at(std::string_view now, std::function<std::uint64_t()> random_bits,
                                  std::function<Result<std::string>(const std::string& path)> read_file) {
  const auto moment = daybook::parse_iso_moment(now);
  if (!moment) return std::nullopt;
  return NoteMeans{.now = *moment,
                   .written = *moment,
                   .wall_clock = [offset = moment->offset_min](
                                     Date day, int minute) { return daybook::at_wall_clock(day, minute, offset); },
                   .random_bits = std::move(random_bits),
                   .read_file = std::move(read_file)};
}

}  // namespace strikebed::nursery
