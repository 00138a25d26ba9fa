#pragma once
// What the tests of this floor are lent: the shipped profiles and the data of the published checks. Its .cpp reads them
// from disk; a home without one brings another .cpp.
#include "nursery/checks/run_checks.hpp"
#include "nursery/library.hpp"

namespace strikebed::nursery {

/// The shipped library, without files of the grower's own.
[[nodiscard]] const Library& shipped_library();

[[nodiscard]] const CheckFiles& published_checks();

}  // namespace strikebed::nursery
