#include "host/store/portable.hpp"

#include <algorithm>
#include <utility>

#include "daybook/document.hpp"
#include "daybook/entry_csv.hpp"
#include "host/files.hpp"

namespace strikebed::host {
namespace {

constexpr std::size_t kLargestImport = 2048 * kMegabyte;

Result<std::vector<daybook::Entry>> in_order(DaybookStore& store) {
  auto entries = store.read_all();
  if (entries) std::ranges::sort(*entries, {}, &daybook::Entry::id);
  return entries;
}

/// With the name of the file that it came from.
Error in_file(Error error, const std::string& path) {
  error.file = path;
  for (Error& other : error.others) other.file = path;
  return error;
}

Result<daybook::Document> read(std::string_view text) {
  if (daybook::may_be_document(text)) return daybook::read_document(text);
  auto entries = daybook::read_entries_csv(text);
  if (!entries) return entries.error();
  return daybook::Document{std::move(*entries), {}};
}

}  // namespace

std::optional<Error> export_json(DaybookStore& store, const TakePart& take) {
  const auto entries = in_order(store);
  if (!entries) return entries.error();
  const auto digests = store.attachments();
  if (!digests) return digests.error();
  daybook::DocumentText text;
  for (const daybook::Entry& entry : *entries) {
    if (auto error = take(text.next(entry))) return error;
  }
  for (const daybook::Digest& digest : *digests) {
    auto bytes = store.attachment(digest);
    if (!bytes) return bytes.error();
    if (!*bytes) continue;
    if (auto error = take(text.next(daybook::Attachment{digest, std::move(**bytes)}))) return error;
  }
  return take(text.end());
}

Result<std::string> export_csv(DaybookStore& store) {
  const auto entries = in_order(store);
  if (!entries) return entries.error();
  return daybook::entries_csv(*entries);
}

Result<Added> import_file(DaybookStore& store, const std::string& path) {
  const auto text = read_file(path, kLargestImport);
  if (!text) return text.error();
  const auto document = read(*text);
  if (!document) return in_file(document.error(), path);
  return store.add(document->entries, document->attachments);
}

}  // namespace strikebed::host
