#pragma once
// A client of HTTP/1.1 that can also be rude: it sends what it is told to, byte for byte.
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>

namespace strikebed::server {

struct Response {
  int status = 0;                                  ///< 0: the other closed instead
  std::map<std::string, std::string> fields = {};  ///< names in small letters
  std::string body = {};

  /// Empty where there is none.
  [[nodiscard]] std::string field(const std::string& name) const;
};

class Client {
 public:
  explicit Client(std::uint16_t port);
  Client(const Client&) = delete;
  Client& operator=(const Client&) = delete;
  ~Client();

  /// False: the other has closed.
  bool send(std::string_view bytes) const;
  /// Reads one answer; of a HEAD only its head.
  Response read(bool of_head = false);
  /// A line of what never ends; nothing where it has ended.
  std::optional<std::string> read_line();
  /// Reads what still comes; returns it when the other has closed.
  std::string read_rest();

  /// Sends a request with the usual Host and reads its answer.
  ///   fields  whole lines, each with its end: "Origin: null\r\n"
  Response ask(std::string_view method, std::string_view target, std::string_view fields = "",
               std::string_view body = "");
  /// The request as text.
  [[nodiscard]] std::string request(std::string_view method, std::string_view target, std::string_view fields = "",
                                    std::string_view body = "") const;
  [[nodiscard]] bool is_connected() const { return socket_ >= 0; }

 private:
  bool fill();  ///< false: the other has closed
  std::uint16_t port_;
  int socket_ = -1;
  std::string read_;
};

}  // namespace strikebed::server
