// Any bytes as entries, one a line, as a message of an exchange and as a document. What is read is written and read
// again without change, and the fold of it holds what the whole rests on.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>
#include <vector>

#include "daybook/document.hpp"
#include "daybook/entry_json.hpp"
#include "daybook/exchange.hpp"
#include "daybook/fold.hpp"
#include "daybook/kept_json.hpp"

namespace {

using namespace strikebed::daybook;

void must(bool holds) {
  if (!holds) std::abort();
}

/// In one order and in the other, and asked after each in the second.
void must_fold_alike(const std::vector<Entry>& entries) {
  Fold at_once;
  at_once.add(entries);
  Fold by_and_by;
  for (auto entry = entries.rbegin(); entry != entries.rend(); ++entry) {
    by_and_by.add(*entry);
    static_cast<void>(by_and_by.state());
  }
  must(at_once.state() == by_and_by.state());
  must(at_once.contradictions() == by_and_by.contradictions());
  must(at_once.possible_doubles() == by_and_by.possible_doubles());
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  std::string_view text(reinterpret_cast<const char*>(data), size);
  if (const auto message = read_message(text)) must(*read_message(message_text(*message)) == *message);
  if (const auto document = read_document(text)) {
    DocumentText written;
    std::string all;
    for (const Entry& one : document->entries) all += written.next(one);
    for (const Attachment& one : document->attachments) all += written.next(one);
    all += written.end();
    const auto again = read_document(all);
    must(again && again->entries == document->entries && again->attachments == document->attachments);
  }
  std::vector<Entry> entries;
  while (!text.empty() && entries.size() < 200) {
    const std::size_t end = text.find('\n');
    const auto entry = read_entry(text.substr(0, end));
    const auto quick = read_kept_entry(text.substr(0, end));
    must(quick.ok() == entry.ok() && (!entry || *quick == *entry));
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    if (!entry) {
      must(!entry.error().message().empty());
      continue;
    }
    must(!error_of(*entry));
    must(entry_json(*read_entry(entry_json(*entry))) == entry_json(*entry));
    entries.push_back(*entry);
  }
  must_fold_alike(entries);
  return 0;
}
