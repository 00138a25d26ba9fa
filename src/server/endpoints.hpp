#pragma once
// Who may ask what: docs/http.md as code.
#include <chrono>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "daybook/sha256.hpp"
#include "server/daybook_answers.hpp"
#include "server/http.hpp"
#include "server/limits.hpp"
#include "server/page.hpp"
#include "server/rate_limit.hpp"
#include "server/store_thread.hpp"

namespace strikebed::server {

struct Manner {
  std::uint16_t port = 0;
  std::vector<std::string> names;  ///< that the server goes by besides those of this machine
  std::string version;             ///< of the program
  Limits limits;
};

class Endpoints : public Handler {
 public:
  /// The store's thread and what is told to outlive it.
  Endpoints(Page page, StoreThread& store, Manner manner, Tell tell);

  [[nodiscard]] std::variant<Answer, std::size_t> judge(const Head& head) override;
  void answer(const Head& head, std::string body, Reply reply) override;

  /// What a path leads to. A file of the page that has the name of one of the others is not found.
  enum class Place { file, exchange, picture, news, about, nowhere };
  struct Found {
    Place place = Place::nowhere;
    daybook::Digest digest{};  ///< of a picture
  };

 private:
  [[nodiscard]] Answered ask_store(host::DaybookStore& store, const Found& found, const Head& head,
                                   std::string& body) const;
  [[nodiscard]] std::optional<Answer> refused(const Head& head);
  [[nodiscard]] std::optional<Answer> refused_to_write(const Head& head) const;

  Page page_;
  StoreThread& store_;
  Manner manner_;
  Tell tell_;
  RateLimit rate_;
};

}  // namespace strikebed::server
