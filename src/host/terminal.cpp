#include "host/terminal.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

namespace strikebed::host {

std::optional<int> terminal_width() {
  winsize size{};
  if (::ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) != 0 || size.ws_col == 0) return std::nullopt;
  return size.ws_col;
}

}  // namespace strikebed::host
