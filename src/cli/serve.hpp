#pragma once
// The command that gives the page to a browser.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cli/daybook.hpp"

namespace strikebed::cli {

inline constexpr int kUsualPort = 8417;

struct ServeArguments {
  DaybookArguments daybook;
  int port = kUsualPort;            ///< 0: any that is free
  std::optional<std::string> page;  ///< a folder; nothing: as the environment says, or the program's own
  std::vector<std::string> names;   ///< that it is reached by through a proxy
};
/// Prints its address and answers until it is stopped by SIGINT or SIGTERM.
int answer_serve(const ServeArguments& arguments);

/// Letters, digits, hyphens and dots: no port, no scheme.
[[nodiscard]] bool is_host_name(std::string_view text);

}  // namespace strikebed::cli
