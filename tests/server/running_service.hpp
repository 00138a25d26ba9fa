#pragma once
// A server that runs for as long as a test does: a small page, a new daybook, any port.
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <utility>
#include <vector>

#include "daybook/exchange.hpp"
#include "host/store/daybook_store.hpp"
#include "server/service.hpp"
#include "tests/daybook/making.hpp"
#include "tests/host/temporary_folder.hpp"
#include "tests/server/client.hpp"

namespace strikebed::server {

inline void write(const std::string& path, const std::string& text) {
  std::filesystem::create_directories(std::filesystem::path(path).parent_path());
  std::ofstream(path, std::ios::binary) << text;
}

inline const std::string kIndex = "<!doctype html><title>Pines</title>" + std::string(500, ' ');
inline const std::string kScript = "export const pines = [" + std::string(5000, '1') + "];\n";

/// The folder of a page.
inline std::string make_page(const host::TemporaryFolder& folder) {
  const std::string page = folder.path("page");
  write(page + "/index.html", kIndex);
  write(page + "/worker.js", "self.onfetch = null;\n");
  write(page + "/assets/app-3f0c.mjs", kScript);
  write(page + "/assets/engine-77.wasm", std::string("\0asm", 4) + std::string(3000, '\0'));
  write(page + "/pines.webmanifest", "{}");
  write(page + "/a b.txt", "blank");
  write(page + "/.secret", "hidden");
  write(page + "/.git/config", "hidden");
  write(folder.path("beside.txt"), "outside");
  return page;
}

/// Limits that no test of something else runs into.
inline Limits patient() {
  Limits limits;
  limits.rate = {.each_second = 1e6, .at_once = 1e6};
  limits.look_every = std::chrono::milliseconds(20);
  return limits;
}

class RunningService {
 public:
  explicit RunningService(const Limits& limits = patient(), std::vector<std::string> names = {}) {
    auto begun = Service::begin({.page = make_page(folder_),
                                 .daybook = daybook(),
                                 .port = 0,
                                 .names = std::move(names),
                                 .version = "1.2.3",
                                 .limits = limits,
                                 .tell = [this](const Error& error) { hear(error); }});
    if (!begun) {
      ADD_FAILURE() << begun.error().message();
      std::abort();
    }
    service_ = std::move(*begun);
    thread_ = std::thread([this] { service_->run(); });
  }
  RunningService(const RunningService&) = delete;
  RunningService& operator=(const RunningService&) = delete;
  ~RunningService() { stop(); }
  void stop() {
    service_->stop();
    if (thread_.joinable()) thread_.join();
  }

  [[nodiscard]] std::uint16_t port() const {
    const std::string address = service_->address();
    return static_cast<std::uint16_t>(std::atoi(address.substr(address.rfind(':') + 1).c_str()));
  }
  [[nodiscard]] std::string daybook() const { return folder_.path("pines.daybook"); }
  [[nodiscard]] const Service& service() const { return *service_; }
  [[nodiscard]] host::DaybookStore store() const {
    auto store = host::DaybookStore::open(daybook(), host::Access::write);
    if (store) return std::move(*store);
    ADD_FAILURE() << store.error().message();
    std::abort();
  }

  /// One request on a connection of its own.
  [[nodiscard]] Response ask(std::string_view method, std::string_view target, std::string_view fields = "",
                             std::string_view body = "") const {
    return Client(port()).ask(method, target, fields, body);
  }
  /// What it answers to these bytes before it closes.
  [[nodiscard]] Response answer_to(std::string_view bytes) const {
    Client client(port());
    client.send(bytes);
    return client.read();
  }
  [[nodiscard]] std::vector<std::string> heard() {
    const std::lock_guard lock(guards_heard_);
    return heard_;
  }

 private:
  void hear(const Error& error) {
    const std::lock_guard lock(guards_heard_);
    heard_.push_back(error.message());
  }

  host::TemporaryFolder folder_;
  std::mutex guards_heard_;
  std::vector<std::string> heard_;
  std::unique_ptr<Service> service_;
  std::thread thread_;
};

/// A message that only brings entries.
inline std::string bringing(std::vector<daybook::Entry> entries) {
  return daybook::message_text({.ranges = {}, .wanted = {}, .entries = std::move(entries)});
}
inline daybook::Entry remark(std::uint64_t number, const std::string& text = "seen") {
  return daybook::entry(number, 0, daybook::Remark{text, {}});
}

}  // namespace strikebed::server
