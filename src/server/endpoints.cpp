#include "server/endpoints.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <new>
#include <utility>

#include "base/text.hpp"
#include "server/address_rules.hpp"
#include "server/target.hpp"

namespace strikebed::server {
namespace {

constexpr std::string_view kPictures = "/pictures/";

using Place = Endpoints::Place;
using Found = Endpoints::Found;

Found find(std::string_view path, const Page& page) {
  if (path == "/exchange") return {Place::exchange};
  if (path == "/news") return {Place::news};
  if (path == "/about") return {Place::about};
  if (path.starts_with(kPictures)) {
    const auto digest = daybook::parse_digest(path.substr(kPictures.size()));
    return digest ? Found{Place::picture, *digest} : Found{};
  }
  return {page.has(path) ? Place::file : Place::nowhere};
}

/// As an Allow says them.
std::string_view methods_of(Place place) {
  switch (place) {
    case Place::exchange:
      return "POST";
    case Place::picture:
      return "GET, HEAD, PUT";
    case Place::news:
      return "GET";
    case Place::file:
    case Place::about:
      return "GET, HEAD";
    case Place::nowhere:
      break;
  }
  return "";
}

bool takes(Place place, Method method) {
  switch (method) {
    case Method::get:
      return place != Place::exchange && place != Place::nowhere;
    case Method::head:
      return place == Place::file || place == Place::picture || place == Place::about;
    case Method::post:
      return place == Place::exchange;
    case Method::put:
      return place == Place::picture;
    case Method::other:
      break;
  }
  return false;
}

bool writes(Method method) { return method != Method::get && method != Method::head; }

bool is_number(std::string_view text) {
  return !text.empty() && std::ranges::all_of(text, [](char c) { return c >= '0' && c <= '9'; });
}

/// A body that two readers could take for two different ones, or that nobody here unpacks.
std::optional<Answer> refused_body(const Head& head) {
  const auto length = head.field("content-length");
  if (head.fields.count("content-length") > 1 || (length && !is_number(*length))) {
    return refusal(400, "Content-Length is no number, or there are several");
  }
  const auto transfer = head.field("transfer-encoding");
  if (transfer && (length || head.fields.count("transfer-encoding") > 1 || lower(*transfer) != "chunked")) {
    return refusal(400, "Transfer-Encoding is not understood; allowed: chunked, and then no Content-Length");
  }
  const auto encoding = head.field("content-encoding");
  if (encoding && lower(*encoding) != "identity") {
    return refusal(415, fmt::format("Content-Encoding {} is not taken; allowed: the bytes as they are", *encoding));
  }
  return std::nullopt;
}

}  // namespace

Endpoints::Endpoints(Page page, StoreThread& store, Manner manner, Tell tell)
    : page_(std::move(page)),
      store_(store),
      manner_(std::move(manner)),
      tell_(std::move(tell)),
      rate_(manner_.limits.rate) {}

/// What holds for every request, wherever it leads.
std::optional<Answer> Endpoints::refused(const Head& head) {
  if (!rate_.allows(head.address, std::chrono::steady_clock::now())) {
    Answer answer =
        refusal(429, fmt::format("too many requests; allowed: {} a second", manner_.limits.rate.each_second));
    answer.fields.emplace_back("Retry-After", "1");
    return answer;
  }
  if (head.fields.count("host") != 1) return refusal(400, "Host is missing, or there are several");
  if (!is_own_host(*head.field("host"), manner_.port, manner_.names)) {
    return refusal(421,
                   fmt::format("this server is not {}; allowed: 127.0.0.1:{}, or a name it was started with (--host)",
                               *head.field("host"), manner_.port));
  }
  return refused_body(head);
}

std::optional<Answer> Endpoints::refused_to_write(const Head& head) const {
  const auto origin = head.field("origin");
  if (head.fields.count("origin") > 1 || (origin && !is_same_origin(*origin, *head.field("host")))) {
    return refusal(403, "a page from elsewhere may not write here");
  }
  return std::nullopt;
}

std::variant<Answer, std::size_t> Endpoints::judge(const Head& head) {
  if (auto answer = refused(head)) return std::move(*answer);
  const auto path = path_of(head.target);
  if (!path)
    return refusal(
        400,
        "the path cannot be read; allowed: one that begins with a slash, percent signs with two digits of base 16");
  const Found found = find(*path, page_);
  if (found.place == Place::nowhere) return refusal(404, "there is nothing here");
  if (!takes(found.place, head.method)) {
    Answer answer = refusal(405, fmt::format("this cannot be done here; allowed: {}", methods_of(found.place)));
    answer.fields.emplace_back("Allow", methods_of(found.place));
    return answer;
  }
  if (writes(head.method)) {
    if (auto answer = refused_to_write(head)) return std::move(*answer);
  }
  if (found.place == Place::file) return page_.answer(*path, head);
  if (found.place == Place::news) {
    return Answer{.status = 200,
                  .fields = {{"Content-Type", "text/event-stream; charset=utf-8"}, {"Cache-Control", "no-store"}},
                  .body = nullptr,
                  .news_follow = true};
  }
  if (!writes(head.method)) return std::size_t{0};
  return found.place == Place::exchange ? manner_.limits.exchange_bytes : manner_.limits.picture_bytes;
}

Answered Endpoints::ask_store(host::DaybookStore& store, const Found& found, const Head& head,
                              std::string& body) const {
  if (found.place == Place::exchange) return answer_exchange(store, body, tell_);
  if (found.place == Place::about) return {answer_about(store, manner_.version, tell_)};
  if (head.method == Method::put) return {take_picture(store, found.digest, std::move(body), tell_)};
  return {answer_picture(store, found.digest, head, tell_)};
}

void Endpoints::answer(const Head& head, std::string body, Reply reply) {
  const Found found = find(path_of(head.target).value_or(""), page_);
  // A job may be copied: what is large is shared by the copies.
  const auto bytes = std::make_shared<std::string>(std::move(body));
  store_.ask([this, found, head, bytes, reply = std::move(reply)](host::DaybookStore& store) {
    Answered answered{.answer = {}, .may_have_grown = true};
    try {
      answered = ask_store(store, found, head, *bytes);
    } catch (const std::bad_alloc&) {
      answered.answer = refusal(503, "there is not enough memory for this");
    }
    reply(std::move(answered.answer));
    return answered.may_have_grown;
  });
}

}  // namespace strikebed::server
