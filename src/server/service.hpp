#pragma once
// The server as a whole: a page, a daybook, a port.
#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "server/limits.hpp"

namespace strikebed::server {

struct ServiceRequest {
  std::string page;                     ///< the folder of the built page
  std::string daybook;                  ///< a file or a connection string; begun where there is none
  std::uint16_t port = 0;               ///< 0: any that is free
  std::vector<std::string> names = {};  ///< that it is known by besides those of this machine, "tray.example"
  std::string version;                  ///< of the program
  Limits limits = {};
  /// What goes wrong with the daybook while the server runs; from several threads.
  std::function<void(const Error& error)> tell;
};

class Service {
 public:
  /// Reads the page, listens, and opens the daybook, in this order: what is refused has begun none. Errors: of
  /// Page::read, HttpServer::listen (of the field `port`) and DaybookStore::open.
  [[nodiscard]] static Result<std::unique_ptr<Service>> begin(ServiceRequest request);
  Service(const Service&) = delete;
  Service& operator=(const Service&) = delete;
  ~Service();

  [[nodiscard]] std::string address() const;         ///< "http://127.0.0.1:8417/"
  [[nodiscard]] const std::string& daybook() const;  ///< its name for messages
  [[nodiscard]] bool is_new() const;                 ///< whether the daybook held nothing when it was opened
  void stop_on_signals();                            ///< SIGINT and SIGTERM
  void run();                                        ///< answers until it is stopped
  void stop();                                       ///< from any thread

 private:
  struct Parts;
  explicit Service(std::unique_ptr<Parts> parts);
  std::unique_ptr<Parts> parts_;
};

}  // namespace strikebed::server
