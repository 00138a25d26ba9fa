#include "server/http.hpp"

#include <nlohmann/json.hpp>

namespace strikebed::server {

std::optional<std::string_view> Head::field(std::string_view name) const {
  const auto found = fields.lower_bound(name);
  if (found == fields.end() || found->first != name) return std::nullopt;
  return found->second;
}

Text text_of(std::string text) { return std::make_shared<const std::string>(std::move(text)); }

Answer answer_of(int status, std::string_view type, Text body) {
  return {.status = status, .fields = {{"Content-Type", std::string(type)}}, .body = std::move(body)};
}

Answer refusal(int status, std::string_view message) {
  const nlohmann::ordered_json json{{"error", {{"message", message}}}};
  // What was sent may be quoted in the message, and may be no UTF-8.
  std::string text = json.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + '\n';
  Answer answer = answer_of(status, "application/json", text_of(std::move(text)));
  answer.fields.emplace_back("Cache-Control", "no-store");
  return answer;
}

const std::vector<std::pair<std::string_view, std::string_view>>& safety_fields() {
  static const std::vector<std::pair<std::string_view, std::string_view>> all{
      {"Content-Security-Policy",
       "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' blob: data:; "
       "connect-src 'self'; worker-src 'self'; manifest-src 'self'; font-src 'self'; frame-src blob: 'self'; "
       "base-uri 'none'; form-action 'none'; frame-ancestors 'self'"},
      {"X-Content-Type-Options", "nosniff"},
      {"Referrer-Policy", "no-referrer"},
      {"Cross-Origin-Opener-Policy", "same-origin"},
      {"Cross-Origin-Resource-Policy", "same-origin"},
      {"Permissions-Policy", "camera=(self), screen-wake-lock=(self)"},
  };
  return all;
}

}  // namespace strikebed::server
