#include "tests/server/client.hpp"

#include <arpa/inet.h>
#include <fmt/format.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <sys/time.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstdlib>

#include "base/text.hpp"

namespace strikebed::server {
namespace {

constexpr int kPatience_s = 120;  // only against a server that hangs

}  // namespace

std::string Response::field(const std::string& name) const {
  const auto found = fields.find(name);
  return found == fields.end() ? "" : found->second;
}

Client::Client(std::uint16_t port) : port_(port), socket_(::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
  sockaddr_in there{};
  there.sin_family = AF_INET;
  there.sin_port = htons(port);
  there.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  const timeval patience{kPatience_s, 0};
  ::setsockopt(socket_, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
  ::setsockopt(socket_, SOL_SOCKET, SO_SNDTIMEO, &patience, sizeof patience);
  if (::connect(socket_, reinterpret_cast<const sockaddr*>(&there), sizeof there) == 0) return;
  ::close(socket_);
  socket_ = -1;
}

Client::~Client() {
  if (socket_ >= 0) ::close(socket_);
}

bool Client::send(std::string_view bytes) const {
  while (!bytes.empty()) {
    const ssize_t sent = ::send(socket_, bytes.data(), bytes.size(), MSG_NOSIGNAL);
    if (sent < 0 && errno == EINTR) continue;
    if (sent <= 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(sent));
  }
  return true;
}

bool Client::fill() {
  std::array<char, 65536> bytes{};
  while (true) {
    const ssize_t got = ::recv(socket_, bytes.data(), bytes.size(), 0);
    if (got < 0 && errno == EINTR) continue;
    if (got <= 0) return false;
    read_.append(bytes.data(), static_cast<std::size_t>(got));
    return true;
  }
}

std::optional<std::string> Client::read_line() {
  while (true) {
    const std::size_t end = read_.find('\n');
    if (end != std::string::npos) {
      std::string line(trimmed(std::string_view(read_).substr(0, end)));
      read_.erase(0, end + 1);
      return line;
    }
    if (!fill()) return std::nullopt;
  }
}

Response Client::read(bool of_head) {
  Response response;
  const auto first = read_line();
  if (!first || !first->starts_with("HTTP/1.")) return response;
  response.status = std::atoi(first->substr(std::string_view("HTTP/1.1 ").size()).c_str());
  while (true) {
    const auto line = read_line();
    if (!line) return {};
    if (line->empty()) break;
    const std::size_t colon = line->find(':');
    response.fields[lower(line->substr(0, colon))] = trimmed(std::string_view(*line).substr(colon + 1));
  }
  const std::size_t length = std::strtoull(response.field("content-length").c_str(), nullptr, 10);
  if (of_head || response.status < 200) return response;
  while (read_.size() < length) {
    if (!fill()) return {};
  }
  response.body = read_.substr(0, length);
  read_.erase(0, length);
  return response;
}

std::string Client::read_rest() {
  while (fill()) {
  }
  return read_;
}

std::string Client::request(std::string_view method, std::string_view target, std::string_view fields,
                            std::string_view body) const {
  const std::string length = body.empty() ? "" : fmt::format("Content-Length: {}\r\n", body.size());
  return fmt::format("{} {} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\n{}{}\r\n{}", method, target, port_, length, fields, body);
}

Response Client::ask(std::string_view method, std::string_view target, std::string_view fields, std::string_view body) {
  send(request(method, target, fields, body));
  return read(method == "HEAD");
}

}  // namespace strikebed::server
