#include "daybook/entry_json.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <utility>

#include "base/shown_text.hpp"
#include "daybook/entry_envelope.hpp"
#include "daybook/read_fields.hpp"
#include "daybook/write_fields.hpp"

namespace strikebed::daybook {
namespace {

template <class B>
void write_entry(const Entry& entry, const B& body, std::string& out) {
  out += fmt::format("{{\"v\":{}", kFormatVersion);
  envelope(entry, B::kAbout, WriteFields{out});
  out += fmt::format(",\"kind\":\"{}\",\"body\":", B::kKind);
  write_object(body, out);
  out += '}';
}

/// The text of one JSON object without the blanks outside its strings.
std::string in_one_line(std::string_view json) {
  std::string line;
  bool in_string = false;
  for (std::size_t i = 0; i < json.size(); ++i) {
    const char c = json[i];
    if (in_string && c == '\\') {
      line += c;
      line += json[++i];
      continue;
    }
    if (c == '"') in_string = !in_string;
    if (in_string || (c != ' ' && c != '\t' && c != '\n' && c != '\r')) line += c;
  }
  return line;
}

Result<Entry> read_later_version(const Json& json, std::string_view text) {
  Entry entry;
  Reading reading{json, ""};
  ReadFields read{reading};
  read(reference("id", Refers::any), entry.id);
  if (reading.wrong) return *reading.wrong;
  Reading moments{json, ""};
  ReadFields maybe{moments};
  maybe(plain("happened"), entry.happened);
  maybe(plain("written"), entry.written);
  entry.body = Unread{in_one_line(text)};
  return entry;
}

/// The kinds' names, for messages.
std::vector<std::string_view> kinds() {
  std::vector<std::string_view> names;
  each_kind([&]<class B>() { names.push_back(B::kKind); });
  return names;
}

Error unknown_kind(std::string_view kind) {
  return {.problem = "found " + quoted(kind, kLongestShown) + did_you_mean(kind, kinds()),
          .allowed = fmt::format("{}", fmt::join(kinds(), ", ")),
          .field = "kind"};
}

template <class B>
void read_entry_of(const Json& json, Reading& reading, Entry& entry) {
  reading.known = {"v", "kind", "body"};
  envelope(entry, B::kAbout, ReadFields{reading});
  if (B::kAbout == About::batch && !entry.batch && !reading.json.contains("batch")) {
    reading.missing("batch", "the id of the entry that started the batch");
  }
  reading.refuse_unknown();
  if (const auto body = json.find("body"); body == json.end()) {
    reading.missing("body", "an object");
  } else {
    B read;
    read_object(*body, "body", read, reading.wrong);
    entry.body = std::move(read);
  }
}

}  // namespace

std::string entry_json(const Entry& entry) {
  std::string out;
  std::visit(
      [&](const auto& body) {
        if constexpr (ReadBody<std::decay_t<decltype(body)>>) {
          write_entry(entry, body, out);
        } else {
          out = body.json;
        }
      },
      entry.body);
  return out;
}

Result<Entry> read_entry(std::string_view text) {
  const auto json = parse_object(text);
  if (!json) return json.error();
  const auto version = json->find("v");
  if (version == json->end() || !version->is_number_unsigned() || version->get<std::uint64_t>() == 0) {
    return Error{.problem = version == json->end() ? "is missing" : "found " + shown(*version),
                 .allowed = "the version of the format, a whole number from 1",
                 .field = "v"};
  }
  if (version->get<std::uint64_t>() > kFormatVersion) return read_later_version(*json, text);
  const auto kind = json->find("kind");
  if (kind == json->end() || !kind->is_string()) {
    return Error{.problem = kind == json->end() ? "is missing" : "found " + shown(*kind),
                 .allowed = fmt::format("{}", fmt::join(kinds(), ", ")),
                 .field = "kind"};
  }
  Entry entry;
  Reading reading{*json, ""};
  bool known = false;
  each_kind([&]<class B>() {
    if (B::kKind != kind->get_ref<const std::string&>()) return;
    known = true;
    read_entry_of<B>(*json, reading, entry);
  });
  if (!known) return unknown_kind(kind->get_ref<const std::string&>());
  if (reading.wrong) return *reading.wrong;
  return entry;
}

std::string body_json(const Body& body) {
  std::string out;
  std::visit(
      [&](const auto& one) {
        if constexpr (ReadBody<std::decay_t<decltype(one)>>) write_object(one, out);
      },
      body);
  return out;
}

Result<Body> read_body(std::string_view kind, std::string_view text) {
  const auto json = parse_object(text);
  if (!json) return json.error();
  std::optional<Result<Body>> result;
  each_kind([&]<class B>() {
    if (B::kKind != kind) return;
    B read;
    std::optional<Error> wrong;
    read_object(*json, "", read, wrong);
    result = wrong ? Result<Body>(*wrong) : Result<Body>(Body(std::move(read)));
  });
  return result ? std::move(*result) : Result<Body>(unknown_kind(kind));
}

std::optional<Error> error_of(const Entry& entry) {
  const auto read = read_entry(entry_json(entry));
  if (!read) return read.error();
  if (*read == entry) return std::nullopt;
  return Error{.problem = "holds what JSON cannot", .allowed = "UTF-8, and a batch only where the kind has one"};
}

}  // namespace strikebed::daybook
