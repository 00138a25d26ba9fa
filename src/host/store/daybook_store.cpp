#include "host/store/daybook_store.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <utility>
#include <variant>

#include "daybook/entry_json.hpp"
#include "daybook/kept_json.hpp"
#include "host/store/backup.hpp"
#include "host/store/database.hpp"
#include "host/store/keys.hpp"
#include "host/store/schema.hpp"

namespace strikebed::host {
namespace {

using daybook::Attachment;
using daybook::Digest;
using daybook::Entry;
using daybook::EntryId;

constexpr std::string_view kInsertEntry =
    "INSERT INTO daybook_entry (id, json) VALUES ($1, $2) ON CONFLICT (id) DO NOTHING";
constexpr std::string_view kSameEntry = "SELECT id FROM daybook_entry WHERE id = $1 AND json = $2";
constexpr std::string_view kFindEntry = "SELECT id, json FROM daybook_entry WHERE id = $1";
constexpr std::string_view kAllEntries = "SELECT id, json FROM daybook_entry";
constexpr std::string_view kAllIds = "SELECT id FROM daybook_entry ORDER BY id";
constexpr std::string_view kNumberOfEntries = "SELECT COUNT(*) FROM daybook_entry";
constexpr std::string_view kPhotoEntries = "SELECT id, json FROM daybook_entry WHERE json LIKE $1";
constexpr std::string_view kInsertAttachment =
    "INSERT INTO daybook_attachment (sha256, bytes) VALUES ($1, $2) ON CONFLICT (sha256) DO NOTHING";
constexpr std::string_view kAllDigests = "SELECT sha256 FROM daybook_attachment ORDER BY sha256";
constexpr std::string_view kFindAttachment = "SELECT bytes FROM daybook_attachment WHERE sha256 = $1";

/// An entry as it stands in its row.
struct Kept {
  std::string id;
  std::string json;
  [[nodiscard]] Values values() const { return {Bytes{id}, std::string_view(json)}; }
};

/// Errors: the row is no entry, or that of another id.
Result<Entry> read_row(const Row& row, const std::string& name) {
  const auto id = id_of(row.bytes(0));
  auto entry = daybook::read_kept_entry(row.bytes(1));
  if (id && entry && entry->id == *id) return entry;
  Error error{.problem = fmt::format("the entry {} cannot be read", id ? to_text(*id) : "without an id"),
              .allowed = "a backup of the daybook",
              .file = name};
  if (!entry) error.problem += ": " + entry.error().message();
  return error;
}

/// Reads the entries that a query finds. The first that cannot be read ends it.
std::optional<Error> see_entries(Database& database, std::string_view sql, const Values& values,
                                 const std::function<void(Entry)>& visit) {
  std::optional<Error> wrong;
  const auto ran = database.run(sql, values, [&](const Row& row) {
    if (wrong) return;
    auto entry = read_row(row, database.name());
    entry ? visit(std::move(*entry)) : static_cast<void>(wrong = entry.error());
  });
  return ran ? wrong : std::optional(ran.error());
}

/// In the order of ids, so that two that add the same do not wait for each other in a ring.
Result<std::vector<Kept>> kept_in_order(const std::vector<Entry>& entries) {
  std::vector<Kept> all;
  all.reserve(entries.size());
  for (const Entry& entry : entries) {
    all.push_back({key_of(entry.id), daybook::entry_json(entry)});
    // It is never to be found that what was taken in cannot be read again.
    if (const auto read = daybook::read_kept_entry(all.back().json); read && *read == entry) continue;
    if (auto wrong = daybook::error_of(entry)) return *wrong;
  }
  std::ranges::sort(all, {}, &Kept::id);
  return all;
}

/// Those that are there already must be there as they are.
std::optional<Error> refuse_others(Database& database, const std::vector<const Kept*>& kept) {
  std::vector<Values> all;
  for (const Kept* one : kept) all.push_back(one->values());
  const auto same = database.run_each(kSameEntry, all);
  if (!same) return same.error();
  for (std::size_t i = 0; i < kept.size(); ++i) {
    if ((*same)[i] != 0) continue;
    // Another text may say the same: an entry that an earlier version could not read yet.
    bool is_other = true;
    auto error = see_entries(database, kFindEntry, {Bytes{kept[i]->id}},
                             [&](const Entry& here) { is_other = daybook::read_entry(kept[i]->json).value() != here; });
    if (error) return error;
    if (!is_other) continue;
    return Error{.problem = fmt::format("another entry is there already under the id {}", to_text(*id_of(kept[i]->id))),
                 .allowed = "entries as they were written: a mistake is withdrawn, not changed",
                 .file = database.name()};
  }
  return std::nullopt;
}

std::optional<Error> wrong_with(const Attachment& attachment, const std::string& name) {
  const std::string problem = fmt::format("the attachment {}", daybook::to_text(attachment.sha256));
  if (attachment.bytes.empty() || attachment.bytes.size() > daybook::kLargestAttachment) {
    return Error{.problem = fmt::format("{} has {} bytes", problem, attachment.bytes.size()),
                 .allowed = fmt::format("from 1 to {}", daybook::kLargestAttachment),
                 .file = name};
  }
  if (daybook::sha256(attachment.bytes) == attachment.sha256) return std::nullopt;
  return Error{.problem = problem + " is not what its digest says", .allowed = "its own SHA-256", .file = name};
}

Result<std::size_t> insert_entries(Database& database, const std::vector<Kept>& all) {
  std::vector<Values> rows;
  rows.reserve(all.size());
  for (const Kept& one : all) rows.push_back(one.values());
  const auto inserted = database.run_each(kInsertEntry, rows);
  if (!inserted) return inserted.error();
  std::vector<const Kept*> there;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if ((*inserted)[i] == 0) there.push_back(&all[i]);
  }
  if (auto error = refuse_others(database, there)) return *error;
  return all.size() - there.size();
}

Result<std::size_t> insert_attachments(Database& database, const std::vector<Attachment>& all) {
  std::size_t number = 0;
  for (const Attachment& one : all) {
    const std::string key = key_of(one.sha256);
    const auto inserted = database.run(kInsertAttachment, {Bytes{key}, Bytes{one.bytes}});
    if (!inserted) return inserted.error();
    number += static_cast<std::size_t>(*inserted);
  }
  return number;
}

}  // namespace

DaybookStore::DaybookStore(std::unique_ptr<Database> database) : database_(std::move(database)) {}
DaybookStore::DaybookStore(DaybookStore&&) noexcept = default;
DaybookStore& DaybookStore::operator=(DaybookStore&&) noexcept = default;
DaybookStore::~DaybookStore() = default;

Result<DaybookStore> DaybookStore::open(const std::string& where, Access access) {
  auto database = is_postgres_address(where) ? open_postgres(where, access) : open_sqlite(where, access);
  if (!database) return database.error();
  if (auto error = bring_to_this_version(**database, access)) return *error;
  return DaybookStore(std::move(*database));
}

const std::string& DaybookStore::name() const { return database_->name(); }

Result<Added> DaybookStore::add(const std::vector<Entry>& entries, const std::vector<Attachment>& attachments) {
  const auto kept = kept_in_order(entries);
  if (!kept) return kept.error();
  for (const Attachment& one : attachments) {
    if (auto wrong = wrong_with(one, name())) return *wrong;
  }
  Added added;
  const auto error = in_transaction(*database_, Transaction::writing, [&]() -> std::optional<Error> {
    const auto new_entries = insert_entries(*database_, *kept);
    if (!new_entries) return new_entries.error();
    const auto new_attachments = insert_attachments(*database_, attachments);
    if (!new_attachments) return new_attachments.error();
    added = {*new_entries, *new_attachments};
    return std::nullopt;
  });
  if (error) return *error;
  return added;
}

std::optional<Error> DaybookStore::each_entry(const std::function<void(Entry)>& visit) {
  return see_entries(*database_, kAllEntries, {}, visit);
}

Result<std::vector<Entry>> DaybookStore::read_all() {
  std::vector<Entry> all;
  if (auto error = each_entry([&](Entry entry) { all.push_back(std::move(entry)); })) return *error;
  return all;
}

Result<std::optional<Entry>> DaybookStore::find(const EntryId& id) {
  std::optional<Entry> found;
  const std::string key = key_of(id);
  if (auto error = see_entries(*database_, kFindEntry, {Bytes{key}}, [&](Entry entry) { found = std::move(entry); })) {
    return *error;
  }
  return found;
}

Result<std::vector<EntryId>> DaybookStore::ids() {
  std::vector<EntryId> all;
  const auto ran =
      database_->run(kAllIds, {}, [&](const Row& row) { all.push_back(id_of(row.bytes(0)).value_or(EntryId{})); });
  if (!ran) return ran.error();
  return all;
}

Result<std::size_t> DaybookStore::number_of_entries() {
  std::size_t number = 0;
  const auto ran =
      database_->run(kNumberOfEntries, {}, [&](const Row& row) { number = static_cast<std::size_t>(row.number(0)); });
  if (!ran) return ran.error();
  return number;
}

Result<daybook::Message> DaybookStore::answer(const daybook::Message& message) {
  if (!message.entries.empty()) {
    if (const auto added = add(message.entries); !added) return added.error();
  }
  const auto all = ids();
  if (!all) return all.error();
  std::optional<Error> wrong;
  daybook::Message answer = daybook::answer(*all, message, [&](const EntryId& id) -> std::optional<Entry> {
    auto found = find(id);
    if (found) return *found;
    wrong = found.error();
    return std::nullopt;
  });
  if (wrong) return *wrong;
  return answer;
}

Result<std::vector<Digest>> DaybookStore::attachments() {
  std::vector<Digest> all;
  const auto ran = database_->run(kAllDigests, {}, [&](const Row& row) {
    if (const auto digest = digest_of(row.bytes(0))) all.push_back(*digest);
  });
  if (!ran) return ran.error();
  return all;
}

Result<std::vector<Digest>> DaybookStore::missing_attachments() {
  std::vector<Digest> named;
  const auto look = [&](const Entry& entry) {
    const auto* photo = std::get_if<daybook::PhotoAttached>(&entry.body);
    if (const auto digest = photo ? daybook::parse_digest(photo->sha256) : std::nullopt) named.push_back(*digest);
  };
  const std::string like = fmt::format("%\"kind\":\"{}\"%", daybook::PhotoAttached::kKind);
  if (auto error = see_entries(*database_, kPhotoEntries, {std::string_view(like)}, look)) return *error;
  const auto here = attachments();
  if (!here) return here.error();
  std::ranges::sort(named);
  named.erase(std::ranges::unique(named).begin(), named.end());
  std::vector<Digest> missing;
  std::ranges::set_difference(named, *here, std::back_inserter(missing));
  return missing;
}

Result<std::optional<std::string>> DaybookStore::attachment(const Digest& sha256) {
  std::optional<std::string> bytes;
  const std::string key = key_of(sha256);
  const auto ran = database_->run(kFindAttachment, {Bytes{key}}, [&](const Row& row) { bytes = row.bytes(0); });
  if (!ran) return ran.error();
  if (!bytes || daybook::sha256(*bytes) == sha256) return bytes;
  return Error{.problem = fmt::format("the attachment {} is damaged", daybook::to_text(sha256)),
               .allowed = "a backup of the daybook",
               .file = name()};
}

std::optional<Error> DaybookStore::backup(const std::string& path) { return back_up(*database_, path); }

}  // namespace strikebed::host
