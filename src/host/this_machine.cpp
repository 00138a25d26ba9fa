#include "host/this_machine.hpp"

#include <unistd.h>

#include <array>
#include <cstdlib>
#include <random>

namespace strikebed::host {

std::string machine_name() {
  std::array<char, 256> name{};
  if (::gethostname(name.data(), name.size() - 1) != 0 || name.front() == '\0') return "this machine";
  return name.data();
}

std::optional<std::string> environment(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr || *value == '\0' ? std::nullopt : std::optional<std::string>(value);
}

std::uint64_t random_bits() {
  static std::random_device device;
  const std::uint64_t high = device();
  return high << 32 | device();
}

}  // namespace strikebed::host
