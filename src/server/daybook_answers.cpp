#include "server/daybook_answers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <utility>

#include "daybook/exchange.hpp"
#include "server/page.hpp"

namespace strikebed::server {
namespace {

Answer store_failed(const Error& error, const Tell& tell) {
  tell(error);
  Answer answer = refusal(503, "the daybook cannot be used at the moment; whoever runs the server is told why");
  answer.fields.emplace_back("Retry-After", "10");
  return answer;
}

/// Whether it is for what was sent that the store would not take it: another entry under the same id.
bool is_contradicted(host::DaybookStore& store, const std::vector<daybook::Entry>& entries) {
  return std::ranges::any_of(entries, [&](const daybook::Entry& entry) {
    const auto here = store.find(entry.id);
    return here && *here && **here != entry;
  });
}

Answer exchange_failed(host::DaybookStore& store, const daybook::Message& message, const Error& error,
                       const Tell& tell) {
  return is_contradicted(store, message.entries) ? refusal(409, error.problem + "; nothing of this was taken in")
                                                 : store_failed(error, tell);
}

Answer of_the_moment(int status, std::string_view type, std::string text) {
  Answer answer = answer_of(status, type, text_of(std::move(text)));
  answer.fields.emplace_back("Cache-Control", "no-store");
  return answer;
}

Answer nothing(int status) { return {.status = status, .fields = {{"Cache-Control", "no-store"}}}; }

/// By its first bytes. What else it may be is not shown as a picture: it could be anything.
std::string_view type_of_picture(std::string_view bytes) {
  using namespace std::string_view_literals;
  if (bytes.starts_with("\xff\xd8\xff"sv)) return "image/jpeg";
  if (bytes.starts_with("\x89PNG\r\n\x1a\n"sv)) return "image/png";
  if (bytes.starts_with("RIFF"sv) && bytes.substr(0, 12).ends_with("WEBP"sv)) return "image/webp";
  if (bytes.substr(0, 12).ends_with("ftypavif"sv)) return "image/avif";
  if (bytes.substr(0, 12).ends_with("ftypheic"sv)) return "image/heic";
  return "application/octet-stream";
}

}  // namespace

Answered answer_exchange(host::DaybookStore& store, std::string_view message, const Tell& tell) {
  const auto read = daybook::read_message(message);
  if (!read) return {refusal(400, "this message cannot be read: " + read.error().message())};
  const bool may_have_grown = !read->entries.empty();
  const auto next = store.answer(*read);
  if (!next) return {exchange_failed(store, *read, next.error(), tell), may_have_grown};
  if (next->is_empty()) return {nothing(204), may_have_grown};
  return {of_the_moment(200, "text/plain; charset=utf-8", daybook::message_text(*next)), may_have_grown};
}

Answer answer_picture(host::DaybookStore& store, const daybook::Digest& digest, const Head& head, const Tell& tell) {
  auto bytes = store.attachment(digest);
  if (!bytes) return store_failed(bytes.error(), tell);
  if (!*bytes) return refusal(404, "there is no picture with this digest");
  const std::string tag = fmt::format("\"{}\"", daybook::to_text(digest));
  const auto known = head.field("if-none-match");
  const bool is_known = known && matches(*known, tag);
  // Whoever has it has it for ever: other bytes have another digest.
  Answer answer{.status = is_known ? 304 : 200,
                .fields = {{"ETag", tag}, {"Cache-Control", "private, max-age=31536000, immutable"}}};
  if (is_known) return answer;
  answer.fields.emplace_back("Content-Type", type_of_picture(**bytes));
  answer.body = text_of(std::move(**bytes));
  return answer;
}

Answer take_picture(host::DaybookStore& store, const daybook::Digest& digest, std::string bytes, const Tell& tell) {
  if (bytes.empty()) return refusal(422, "the picture is empty");
  if (daybook::sha256(bytes) != digest) {
    return refusal(
        422, "the picture is not what its digest says; allowed: bytes whose SHA-256 is the name they are put under");
  }
  const auto added = store.add({}, {{digest, std::move(bytes)}});
  if (!added) return store_failed(added.error(), tell);
  return nothing(added->attachments == 0 ? 204 : 201);
}

Answer answer_about(host::DaybookStore& store, std::string_view version, const Tell& tell) {
  const auto entries = store.number_of_entries();
  if (!entries) return store_failed(entries.error(), tell);
  const nlohmann::ordered_json json{{"program", "strikebed"}, {"version", version}, {"entries", *entries}};
  return of_the_moment(200, "application/json", json.dump() + '\n');
}

}  // namespace strikebed::server
