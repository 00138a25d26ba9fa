#pragma once
// The texts that the engine carries inside where there are no files, put in when it is built.
#include "nursery/library.hpp"

namespace strikebed::browser {

/// The shipped profiles; no files of the grower's own and no names of time zones.
[[nodiscard]] nursery::Library carried_library();

}  // namespace strikebed::browser
