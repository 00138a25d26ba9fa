// Messages of an exchange as text.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <string>

#include "daybook/entry_json.hpp"
#include "daybook/exchange.hpp"
#include "daybook/read_fields.hpp"
#include "daybook/write_fields.hpp"

namespace strikebed::daybook {
namespace {

constexpr std::size_t kWantedAtMost = kRangesAtMost * kListedAtMost;

void write_ids(std::string_view name, const std::vector<EntryId>& ids, std::string& out) {
  out += fmt::format("\"{}\":[", name);
  for (const EntryId& id : ids) {
    if (out.back() != '[') out += ',';
    write_value(id, out);
  }
  out += ']';
}

void write_range(const IdRange& range, std::string& out) {
  out += fmt::format(R"({{"from":"{}","to":"{}",)", to_text(range.from), to_text(range.to));
  if (const auto* digest = std::get_if<Digest>(&range.holds)) {
    out += fmt::format(R"("digest":"{}")", to_text(*digest));
  } else {
    write_ids("ids", std::get<std::vector<EntryId>>(range.holds), out);
  }
  out += '}';
}

/// Reads the parts of a message; the first thing that is wrong is kept.
class MessageReader {
 public:
  Message message;
  std::size_t entries = 0;
  std::optional<Error> wrong;

  void read(const Json& json) {
    const auto version = json.find("v");
    if (version == json.end() || *version != kExchangeVersion) {
      fail("v", version == json.end() ? "is missing" : "found " + shown(*version),
           fmt::format("version {} of the exchange", kExchangeVersion));
      return;
    }
    for (const auto& [key, value] : json.items()) {
      if (key == "ranges") {
        read_ranges(value);
      } else if (key == "wanted") {
        message.wanted = ids(value, "wanted", kWantedAtMost);
      } else if (key == "entries" && value.is_number_unsigned()) {
        entries = value.get<std::size_t>();
      } else if (key != "v") {
        fail(key, "found " + shown(value), "v, ranges, wanted, and the number of entries");
      }
    }
  }

 private:
  void fail(std::string_view field, std::string problem, std::string allowed) {
    if (!wrong)
      wrong = Error{.problem = std::move(problem), .allowed = std::move(allowed), .field = std::string(field)};
  }

  EntryId id(const Json& json, std::string_view field) {
    EntryId read;
    const Field any = reference(field, Refers::any);
    if (!take(json, any, read)) fail(field, "found " + shown(json), allowed(any, read));
    return read;
  }

  std::vector<EntryId> ids(const Json& json, std::string_view field, std::size_t most) {
    std::vector<EntryId> all;
    if (!json.is_array() || json.size() > most) {
      fail(field, "found " + shown(json), fmt::format("a list of at most {} ids", most));
      return all;
    }
    for (const Json& one : json) all.push_back(id(one, field));
    return all;
  }

  void read_ranges(const Json& json) {
    if (!json.is_array() || json.size() > kRangesAtMost) {
      fail("ranges", "found " + shown(json), fmt::format("a list of at most {} ranges", kRangesAtMost));
      return;
    }
    for (const Json& one : json) read_range(one);
  }

  void read_range(const Json& json) {
    const bool listed = json.is_object() && json.contains("ids");
    if (!json.is_object() || json.size() != 3 || !json.contains("from") || !json.contains("to") ||
        (!listed && !json.contains("digest"))) {
      fail("ranges", "found " + shown(json), "objects of from, to, and digest or ids");
      return;
    }
    IdRange range{id(json["from"], "from"), id(json["to"], "to"), Digest{}};
    if (range.to < range.from || (!message.ranges.empty() && range.from <= message.ranges.back().to)) {
      fail("ranges", "found a range from " + to_text(range.from) + " to " + to_text(range.to),
           "ranges in order, none reaching into the next");
    }
    if (listed) {
      range.holds = listed_ids(json["ids"], range);
    } else {
      range.holds = digest(json["digest"]);
    }
    message.ranges.push_back(std::move(range));
  }

  std::vector<EntryId> listed_ids(const Json& json, const IdRange& range) {
    std::vector<EntryId> all = ids(json, "ids", kListedAtMost);
    const bool in_order = std::ranges::adjacent_find(all, std::ranges::greater_equal{}) == all.end();
    if (!in_order || (!all.empty() && (all.front() < range.from || range.to < all.back()))) {
      fail("ids", "found ids out of order or out of their range", "the ids of the range, in order");
    }
    return all;
  }

  Digest digest(const Json& json) {
    const auto read = json.is_string() ? parse_digest(json.get_ref<const std::string&>()) : std::nullopt;
    if (!read) fail("digest", "found " + shown(json), "64 digits of base 16, small letters");
    return read.value_or(Digest{});
  }
};

/// The next line of a text, which is shortened by it.
std::string_view next_line(std::string_view& text) {
  const std::size_t end = text.find('\n');
  const std::string_view line = text.substr(0, end);
  text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  return line;
}

}  // namespace

std::string message_text(const Message& message) {
  std::string out = fmt::format(R"({{"v":{},"ranges":[)", kExchangeVersion);
  for (const IdRange& range : message.ranges) {
    if (out.back() != '[') out += ',';
    write_range(range, out);
  }
  out += "],";
  write_ids("wanted", message.wanted, out);
  out += fmt::format(",\"entries\":{}}}\n", message.entries.size());
  for (const Entry& entry : message.entries) out += entry_json(entry) + '\n';
  return out;
}

Result<Message> read_message(std::string_view text) {
  const auto head = parse_object(next_line(text));
  if (!head) return head.error();
  MessageReader reader;
  reader.read(*head);
  if (reader.wrong) return *reader.wrong;
  int line = 1;
  while (!text.empty()) {
    auto entry = read_entry(next_line(text));
    ++line;
    if (!entry) {
      Error error = entry.error();
      error.line = line;
      return error;
    }
    reader.message.entries.push_back(std::move(*entry));
  }
  if (reader.message.entries.size() == reader.entries) return std::move(reader.message);
  return Error{.problem = fmt::format("{} entries follow", reader.message.entries.size()),
               .allowed = fmt::format("{}, as the first line says", reader.entries),
               .field = "entries"};
}

}  // namespace strikebed::daybook
