#pragma once
// What this machine is called, what it was told, and its chance.
#include <cstdint>
#include <optional>
#include <string>

namespace strikebed::host {

/// As it calls itself on its network; "this machine" where it has no name.
[[nodiscard]] std::string machine_name();

/// A variable of the environment; nothing where it is not set, or empty.
[[nodiscard]] std::optional<std::string> environment(const char* name);

/// From the source of random numbers of the system.
[[nodiscard]] std::uint64_t random_bits();

}  // namespace strikebed::host
