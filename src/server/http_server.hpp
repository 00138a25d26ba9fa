#pragma once
// HTTP/1.1 on one socket: connections, their limits, and news to those who listen. The only place that knows how bytes
// become requests; TLS, when it comes, is another stream in http_server.cpp, and nothing else changes.
#include <cstdint>
#include <memory>
#include <string>

#include "base/result.hpp"
#include "server/http.hpp"
#include "server/limits.hpp"

namespace strikebed::server {

class HttpServer {
 public:
  /// Listens on 127.0.0.1. Connections are taken from now on and answered once it runs.
  ///   port  0: any that is free
  /// Errors, of the field `port`: it is taken, it may not be had.
  [[nodiscard]] static Result<std::unique_ptr<HttpServer>> listen(std::uint16_t port, const Limits& limits);
  HttpServer(const HttpServer&) = delete;
  HttpServer& operator=(const HttpServer&) = delete;
  ~HttpServer();

  [[nodiscard]] std::uint16_t port() const;

  /// Answers until it is stopped; on this thread. What has not been answered by limits.ending is dropped.
  void run(Handler& handler);

  // From any thread:
  void stop();
  /// Says something to all who listen, and to each who comes later. What was said before is forgotten.
  void publish(const std::string& event, const std::string& data);

  /// Stops on SIGINT and SIGTERM, which from now on do nothing else.
  void stop_on_signals();

  struct Inside;  ///< known to http_server.cpp alone

 private:
  explicit HttpServer(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace strikebed::server
