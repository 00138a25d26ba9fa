#include "daybook/entry.hpp"

namespace strikebed::daybook {

std::string_view kind_of(const Body& body) {
  return std::visit(
      [](const auto& one) -> std::string_view {
        using B = std::decay_t<decltype(one)>;
        if constexpr (ReadBody<B>) {
          return B::kKind;
        } else {
          return {};
        }
      },
      body);
}

}  // namespace strikebed::daybook
