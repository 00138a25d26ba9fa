#include "host/standard_streams.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <initializer_list>

namespace strikebed::host {

void fill_closed_streams() {
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
    if (::fcntl(stream, F_GETFD) != -1) continue;
    // The lowest free number is taken, which is this one; opened the wrong way round, so that using it fails.
    (void)::open("/dev/null", stream == STDIN_FILENO ? O_WRONLY : O_RDONLY);
  }
}

}  // namespace strikebed::host
