#pragma once
// What is asked over HTTP and what is answered, without the library that carries it (http_server.cpp).
#include <cstddef>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace strikebed::server {

enum class Method { get, head, post, put, other };

/// A request without its body.
struct Head {
  Method method = Method::other;
  std::string target;  ///< as it was sent: path and query
  /// Values by names in small letters, in the order in which they came.
  std::multimap<std::string, std::string, std::less<>> fields = {};
  std::string address = {};  ///< of the machine that asks, without its port

  /// The value of the first of this name; nothing where there is none.
  [[nodiscard]] std::optional<std::string_view> field(std::string_view name) const;
};

using Text = std::shared_ptr<const std::string>;
[[nodiscard]] Text text_of(std::string text);

struct Answer {
  int status = 200;
  std::vector<std::pair<std::string, std::string>> fields = {};
  Text body = nullptr;       ///< null: there is none
  bool news_follow = false;  ///< in place of a body: what HttpServer::publish is given, as it comes
};

/// A whole text under its type.
[[nodiscard]] Answer answer_of(int status, std::string_view type, Text body);
/// An error as the house says it: {"error": {"message": "..."}}.
[[nodiscard]] Answer refusal(int status, std::string_view message);

/// What stands on every answer, whatever it is: only the page's own files run, only it may frame or read them.
[[nodiscard]] const std::vector<std::pair<std::string_view, std::string_view>>& safety_fields();

/// Takes an answer, once, on any thread.
using Reply = std::function<void(Answer answer)>;

/// What answers. All is called on the thread of the connections, so that nothing here may take long.
class Handler {
 public:
  Handler() = default;
  Handler(const Handler&) = delete;
  Handler& operator=(const Handler&) = delete;
  virtual ~Handler() = default;

  /// From the head alone: an answer (then a body is not read), or how many bytes the body may have.
  [[nodiscard]] virtual std::variant<Answer, std::size_t> judge(const Head& head) = 0;
  /// Answers a request that judge() let pass, now or later.
  virtual void answer(const Head& head, std::string body, Reply reply) = 0;
};

}  // namespace strikebed::server
