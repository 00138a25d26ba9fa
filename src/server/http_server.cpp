// The only file that includes Boost.Asio and Boost.Beast: a quarter of a minute and a gigabyte to compile.
//
// All connections run on the one thread that calls run(), so that nothing they share needs a lock. With g++ 12, no
// object is made within a co_await expression, but stands in a line of its own: such temporaries are destroyed twice.
#include "server/http_server.hpp"

#include <utility>  // Asio 1.18 forgets it
#ifdef __clang__
#define BOOST_ASIO_HAS_CO_AWAIT 1  // of clang it knows only the coroutines that came before those of C++20
#endif
//
#include <fmt/chrono.h>
#include <fmt/format.h>

#include <array>
#include <boost/asio/awaitable.hpp>
#include <boost/asio/co_spawn.hpp>
#include <boost/asio/detached.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/post.hpp>
#include <boost/asio/redirect_error.hpp>
#include <boost/asio/signal_set.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/use_awaitable.hpp>
#include <boost/asio/write.hpp>
#include <boost/beast/core/flat_buffer.hpp>
#include <boost/beast/core/tcp_stream.hpp>
#include <boost/beast/http.hpp>
#include <chrono>
#include <csignal>
#include <exception>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_set>
#include <variant>

#include "base/text.hpp"
#include "host/clock.hpp"

namespace strikebed::server {
namespace {

namespace asio = boost::asio;
namespace beast = boost::beast;
namespace http = boost::beast::http;
using asio::ip::tcp;
using beast::error_code;

constexpr std::size_t kBufferBytes = 64 * kKilobyte;
constexpr std::size_t kFirstBytes = 4 * kKilobyte;
constexpr unsigned kLatestVersion = 11;

using Parser = http::request_parser<http::string_body>;
using Response = http::response<http::span_body<const char>>;

beast::string_view beast_text(std::string_view text) { return {text.data(), text.size()}; }
std::string std_text(beast::string_view text) { return {text.data(), text.size()}; }

Method method_of(http::verb verb) {
  switch (verb) {
    case http::verb::get:
      return Method::get;
    case http::verb::head:
      return Method::head;
    case http::verb::post:
      return Method::post;
    case http::verb::put:
      return Method::put;
    default:
      return Method::other;
  }
}

Head head_of(const Parser& parser, const std::string& address) {
  Head head{.method = method_of(parser.get().method()), .target = std_text(parser.get().target()), .address = address};
  for (const auto& field : parser.get()) {
    const std::string name = std_text(field.name_string());
    head.fields.emplace(lower(name), std_text(field.value()));
  }
  return head;
}

/// As RFC 9110 wants it: "Sun, 18 Apr 2027 07:30:00 GMT".
std::string date_field() {
  constexpr std::int64_t kMsInSecond = 1000;
  return fmt::format("{:%a, %d %b %Y %H:%M:%S} GMT",
                     fmt::gmtime(static_cast<std::time_t>(host::now().ms / kMsInSecond)));
}

/// Everything of an answer but its body.
http::response_header<> header_of(const Answer& answer, unsigned version) {
  http::response_header<> header;
  header.version(version);
  header.result(static_cast<unsigned>(answer.status));
  header.set(http::field::date, date_field());
  for (const auto& [name, value] : answer.fields) header.insert(name, value);
  for (const auto& [name, value] : safety_fields()) header.insert(beast_text(name), beast_text(value));
  return header;
}

/// 204 and 304 have no body, and say nothing of its length.
bool tells_length(int status) { return status != 204 && status != 304; }

Response response_of(const Answer& answer, unsigned version, bool keep) {
  Response response(header_of(answer, version));
  if (answer.body) response.body() = {answer.body->data(), answer.body->size()};
  if (tells_length(answer.status)) response.content_length(answer.body ? answer.body->size() : 0);
  response.keep_alive(keep);
  return response;
}

/// What is said to who sent something that cannot be read; nothing where nobody is there to be told.
std::optional<Answer> answer_to(const error_code& failed) {
  if (failed == http::error::end_of_stream || failed == http::error::partial_message) return std::nullopt;
  if (failed == http::error::header_limit || failed == http::error::buffer_overflow) {
    return refusal(431, "the head of this request is too large");
  }
  if (failed == http::error::body_limit) return refusal(413, "the body of this request is too large");
  if (failed.category() != error_code(http::error::bad_method).category()) return std::nullopt;
  return refusal(400, "this is no request of HTTP/1.1: " + failed.message());
}

/// Where all that is on its way, in and out, is more than there should be in memory.
Answer no_room() {
  Answer answer = refusal(503, "too much is on its way here and from here at the same time");
  answer.fields.emplace_back("Retry-After", "2");
  return answer;
}

/// What is counted for as long as it is held.
class Share {
 public:
  explicit Share(std::size_t& of) : of_(of) {}
  Share(const Share&) = delete;
  Share& operator=(const Share&) = delete;
  ~Share() { of_ -= held_; }
  /// Returns whether all shares together are still within `most`.
  bool grow_to(std::size_t held, std::size_t most) {
    of_ += held - held_;
    held_ = held;
    return of_ <= most;
  }

 private:
  std::size_t& of_;
  std::size_t held_ = 0;
};

class Connection;

/// What is said to those who listen, as it stands on the wire.
struct News {
  std::string text;
  std::uint64_t number = 0;
};

}  // namespace

struct HttpServer::Inside {
  explicit Inside(const Limits& given) : limits(given) {}

  void accept_from_now_on();
  void begin_to_end();
  void say(std::string text);
  void has_gone(Connection* connection);

  Limits limits;
  std::uint16_t port = 0;
  Handler* handler = nullptr;
  std::unordered_set<Connection*> connections = {};
  std::size_t body_bytes = 0;
  std::size_t listeners = 0;
  News news = {};
  bool ending = false;

  asio::io_context context{1};  // before what uses it, behind what connections use until it is gone
  tcp::acceptor acceptor{context};
  asio::signal_set signals{context};
  asio::steady_timer end{context};

 private:
  asio::awaitable<void> accept();
};

namespace {

using Inside = HttpServer::Inside;

/// One client. It lives for as long as something of it runs.
class Connection : public std::enable_shared_from_this<Connection> {
 public:
  Connection(Inside& server, tcp::socket socket) : server_(server), stream_(std::move(socket)), wake_(server.context) {
    error_code failed;
    address_ = stream_.socket().remote_endpoint(failed).address().to_string();
    (void)stream_.socket().set_option(tcp::no_delay(true), failed);
    server_.connections.insert(this);
  }
  Connection(const Connection&) = delete;
  Connection& operator=(const Connection&) = delete;
  ~Connection() { server_.has_gone(this); }

  void begin() { asio::co_spawn(server_.context, converse(shared_from_this()), asio::detached); }

  /// Ends it now.
  void drop() {
    is_dropped_ = true;
    stream_.close();
    wake_.cancel();
  }
  /// Ends it when the answer in hand is given.
  void end() {
    if (!is_busy_) drop();
  }
  void hear_news() {
    if (listens_) wake_.cancel();
  }

 private:
  static asio::awaitable<void> converse(std::shared_ptr<Connection> self) {
    bool goes_on = true;
    while (goes_on && !self->server_.ending) {
      goes_on = co_await self->await_request();
      if (goes_on) goes_on = co_await self->answer_request();
    }
    self->stream_.close();
  }

  /// Until there is a first byte; false: none will come.
  asio::awaitable<bool> await_request() {
    is_busy_ = false;
    if (buffer_.size() > 0) co_return true;
    error_code failed;
    stream_.expires_after(server_.limits.idle);
    const auto room = buffer_.prepare(kFirstBytes);
    const std::size_t got = co_await stream_.async_read_some(room, asio::redirect_error(asio::use_awaitable, failed));
    buffer_.commit(got);
    co_return !failed;
  }

  /// Returns whether another request may follow.
  asio::awaitable<bool> answer_request() {
    is_busy_ = true;
    Parser parser;
    parser.header_limit(static_cast<std::uint32_t>(server_.limits.head_bytes));
    parser.body_limit(std::numeric_limits<std::uint64_t>::max());  // until it is known what is asked
    error_code failed;
    stream_.expires_after(server_.limits.head);
    co_await http::async_read_header(stream_, buffer_, parser, asio::redirect_error(asio::use_awaitable, failed));
    if (failed) {
      co_await refuse(failed, parser);
      co_return false;
    }
    const Head head = head_of(parser, address_);
    auto judged = server_.handler->judge(head);
    if (auto* answer = std::get_if<Answer>(&judged)) {
      if (answer->news_follow) co_return co_await tell_news(*answer, parser);
      co_return co_await give(*answer, parser);
    }
    const bool is_whole = co_await read_body(parser, std::get<std::size_t>(judged));
    if (!is_whole) co_return false;
    Share share(server_.body_bytes);
    share.grow_to(parser.get().body().size(), server_.limits.all_bodies_bytes);
    const bool is_answered = co_await await_answer(head, parser.get().body());
    if (!is_answered) co_return false;
    Answer answer = std::move(*answer_);
    const std::size_t bytes = answer.body ? answer.body->size() : 0;
    if (!share.grow_to(bytes, server_.limits.all_bodies_bytes)) answer = no_room();
    co_return co_await give(answer, parser);
  }

  /// False: it did not come, or was too large, and that has been said.
  asio::awaitable<bool> read_body(Parser& parser, std::size_t most) {
    const auto length = parser.content_length();
    if (!parser.is_done() && (most == 0 || (length && *length > most))) {
      const error_code too_large(http::error::body_limit);
      co_await refuse(too_large, parser);
      co_return false;
    }
    parser.body_limit(most);
    error_code failed;
    stream_.expires_after(server_.limits.body);
    if (!parser.is_done() && parser.get()[http::field::expect] == "100-continue") {
      const std::string_view go_on = "HTTP/1.1 100 Continue\r\n\r\n";
      const auto bytes = asio::buffer(go_on);
      co_await asio::async_write(stream_, bytes, asio::redirect_error(asio::use_awaitable, failed));
    }
    Share share(server_.body_bytes);
    while (!failed && !parser.is_done()) {
      co_await http::async_read_some(stream_, buffer_, parser, asio::redirect_error(asio::use_awaitable, failed));
      if (share.grow_to(parser.get().body().size(), server_.limits.all_bodies_bytes)) continue;
      const Answer full = no_room();
      co_await give(full, parser);
      co_return false;
    }
    if (!failed) co_return true;
    co_await refuse(failed, parser);
    co_return false;
  }

  /// Hands the body to the handler and waits for its answer; false: the connection was dropped meanwhile.
  asio::awaitable<bool> await_answer(const Head& head, std::string& body) {
    answer_.reset();
    server_.handler->answer(head, std::move(body),
                            [weak = weak_from_this(), &context = server_.context](Answer answer) {
                              asio::post(context, [weak, answer = std::move(answer)]() mutable {
                                if (const auto self = weak.lock()) self->take(std::move(answer));
                              });
                            });
    while (!answer_ && !is_dropped_) {
      wake_.expires_at(asio::steady_timer::time_point::max());
      error_code cancelled;
      co_await wake_.async_wait(asio::redirect_error(asio::use_awaitable, cancelled));
    }
    co_return answer_ && !is_dropped_;
  }
  void take(Answer answer) {
    answer_ = std::move(answer);
    wake_.cancel();
  }

  /// Says why something could not be read, if anybody is there.
  asio::awaitable<void> refuse(error_code failed, Parser& parser) {
    const auto answer = answer_to(failed);
    if (answer) {
      const bool keep = false;
      const bool is_written = co_await write(*answer, parser, keep);
      if (is_written) co_await part();
    }
  }

  /// Returns whether another request may follow: not where a body was left unread, nor where there were too many.
  asio::awaitable<bool> give(const Answer& answer, Parser& parser) {
    constexpr int kTooMany = 429;
    const bool keep = parser.keep_alive() && parser.is_done() && answer.status != kTooMany && !server_.ending;
    const bool is_written = co_await write(answer, parser, keep);
    if (is_written && !keep) co_await part();
    co_return is_written&& keep;
  }

  asio::awaitable<bool> write(const Answer& answer, Parser& parser, bool keep) {
    const unsigned version = parser.is_header_done() ? parser.get().version() : kLatestVersion;
    Response response = response_of(answer, version, keep);
    http::response_serializer<http::span_body<const char>> serializer(response);
    error_code failed;
    stream_.expires_after(server_.limits.writing);
    if (parser.get().method() == http::verb::head) {
      co_await http::async_write_header(stream_, serializer, asio::redirect_error(asio::use_awaitable, failed));
    } else {
      co_await http::async_write(stream_, serializer, asio::redirect_error(asio::use_awaitable, failed));
    }
    co_return !failed;
  }

  /// Closed at once while the other still sends, the system would take back what was said last.
  asio::awaitable<void> part() {
    error_code failed;
    (void)stream_.socket().shutdown(tcp::socket::shutdown_send, failed);
    stream_.expires_after(server_.limits.parting);
    std::array<char, kFirstBytes> scrap{};
    const auto room = asio::buffer(scrap);
    // The stream's own limit is for who is silent: where there is always something to be read, it never comes to it.
    const auto end = std::chrono::steady_clock::now() + server_.limits.parting;
    while (!failed && std::chrono::steady_clock::now() < end) {
      co_await stream_.async_read_some(room, asio::redirect_error(asio::use_awaitable, failed));
    }
  }

  /// Says what is new until the other goes, or the server ends.
  asio::awaitable<bool> tell_news(const Answer& answer, Parser& parser) {
    Share share(server_.listeners);
    if (!share.grow_to(1, server_.limits.listeners)) {
      Answer full = refusal(503, "too many listen already");
      full.fields.emplace_back("Retry-After", "60");
      co_return co_await give(full, parser);
    }
    http::response<http::empty_body> response(header_of(answer, parser.get().version()));
    response.keep_alive(false);  // it ends when the connection does
    error_code failed;
    stream_.expires_after(server_.limits.writing);
    co_await http::async_write(stream_, response, asio::redirect_error(asio::use_awaitable, failed));
    is_busy_ = false;
    listens_ = true;
    asio::co_spawn(server_.context, watch(shared_from_this()), asio::detached);
    std::uint64_t heard = 0;
    while (!failed && !is_dropped_ && !server_.ending) {
      if (heard == server_.news.number) {
        wake_.expires_after(server_.limits.keep_alive);
        error_code woken;
        co_await wake_.async_wait(asio::redirect_error(asio::use_awaitable, woken));
        if (woken) continue;
      }
      const std::string text = heard == server_.news.number ? std::string(":\n\n") : server_.news.text;
      heard = server_.news.number;
      const auto bytes = asio::buffer(text);
      stream_.expires_after(server_.limits.writing);
      co_await asio::async_write(stream_, bytes, asio::redirect_error(asio::use_awaitable, failed));
    }
    listens_ = false;
    co_return false;
  }

  /// Notices when who listens has gone, or says anything more; past the stream, whose time limits are those of writing.
  static asio::awaitable<void> watch(std::shared_ptr<Connection> self) {
    std::array<char, kKilobyte> scrap{};
    const auto room = asio::buffer(scrap);
    error_code failed;
    co_await self->stream_.socket().async_read_some(room, asio::redirect_error(asio::use_awaitable, failed));
    self->drop();
  }

  Inside& server_;
  beast::tcp_stream stream_;
  beast::flat_buffer buffer_{kBufferBytes};
  asio::steady_timer wake_;  ///< never by itself: cancelled when there is something to go on with
  std::string address_;
  std::optional<Answer> answer_;
  bool is_busy_ = false;  ///< with a request
  bool listens_ = false;  ///< to news
  bool is_dropped_ = false;
};

void rethrow(std::exception_ptr thrown) {
  if (thrown) std::rethrow_exception(std::move(thrown));
}

Error no_port(std::uint16_t port, const error_code& failed) {
  if (failed == asio::error::address_in_use) {
    return {.problem = fmt::format("port {} is taken by another program", port),
            .allowed = "another one, or 0 for any that is free",
            .field = "port"};
  }
  if (failed == asio::error::access_denied) {
    return {.problem = fmt::format("port {} may not be had (permission denied)", port),
            .allowed = "1024 or more, or 0 for any that is free",
            .field = "port"};
  }
  return {.problem = fmt::format("port {} cannot be listened at: {}", port, failed.message()), .field = "port"};
}

}  // namespace

void HttpServer::Inside::accept_from_now_on() { asio::co_spawn(context, accept(), rethrow); }

asio::awaitable<void> HttpServer::Inside::accept() {
  constexpr std::chrono::milliseconds kPause{100};  // when there are no more files to be had
  while (!ending) {
    error_code failed;
    tcp::socket socket(context);
    co_await acceptor.async_accept(socket, asio::redirect_error(asio::use_awaitable, failed));
    if (ending) break;
    if (failed) {
      asio::steady_timer pause(context, kPause);
      co_await pause.async_wait(asio::redirect_error(asio::use_awaitable, failed));
      continue;
    }
    if (connections.size() < limits.connections) std::make_shared<Connection>(*this, std::move(socket))->begin();
  }
}

void HttpServer::Inside::begin_to_end() {
  if (std::exchange(ending, true)) return;
  error_code ignored;
  (void)acceptor.close(ignored);
  (void)signals.cancel(ignored);
  for (Connection* connection : connections) connection->end();
  if (connections.empty()) return;
  end.expires_after(limits.ending);
  end.async_wait([this](const error_code& all_have_gone) {
    if (all_have_gone) return;
    for (Connection* connection : connections) connection->drop();
  });
}

void HttpServer::Inside::has_gone(Connection* connection) {
  connections.erase(connection);
  error_code ignored;
  if (ending && connections.empty()) end.cancel(ignored);
}

void HttpServer::Inside::say(std::string text) {
  news = {std::move(text), news.number + 1};
  for (Connection* connection : connections) connection->hear_news();
}

HttpServer::HttpServer(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
HttpServer::~HttpServer() = default;

Result<std::unique_ptr<HttpServer>> HttpServer::listen(std::uint16_t port, const Limits& limits) {
  auto inside = std::make_unique<Inside>(limits);
  const tcp::endpoint here(asio::ip::address_v4::loopback(), port);
  tcp::acceptor& acceptor = inside->acceptor;
  error_code failed;
  (void)acceptor.open(here.protocol(), failed);
  if (!failed) (void)acceptor.set_option(tcp::acceptor::reuse_address(true), failed);
  if (!failed) (void)acceptor.bind(here, failed);
  if (!failed) (void)acceptor.listen(tcp::acceptor::max_listen_connections, failed);
  if (!failed) inside->port = acceptor.local_endpoint(failed).port();
  if (failed) return no_port(port, failed);
  return std::unique_ptr<HttpServer>(new HttpServer(std::move(inside)));
}

std::uint16_t HttpServer::port() const { return inside_->port; }

void HttpServer::run(Handler& handler) {
  inside_->handler = &handler;
  inside_->accept_from_now_on();
  inside_->context.run();
}

void HttpServer::stop() {
  asio::post(inside_->context, [inside = inside_.get()] { inside->begin_to_end(); });
}

void HttpServer::publish(const std::string& event, const std::string& data) {
  asio::post(inside_->context,
             [inside = inside_.get(), text = fmt::format("event: {}\ndata: {}\n\n", event, data)]() mutable {
               inside->say(std::move(text));
             });
}

void HttpServer::stop_on_signals() {
  error_code failed;
  (void)inside_->signals.add(SIGINT, failed);
  (void)inside_->signals.add(SIGTERM, failed);
  inside_->signals.async_wait([inside = inside_.get()](const error_code& cancelled, int) {
    if (!cancelled) inside->begin_to_end();
  });
}

}  // namespace strikebed::server
