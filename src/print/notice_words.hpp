#pragma once
// What was found while a weather file was read, in words.
#include <string>

#include "base/field_names.hpp"
#include "climate/notice.hpp"

namespace strikebed::print {

/// One sentence, without a full stop and without its line. `names`: what the reader's controls are called.
[[nodiscard]] std::string notice_words(const climate::Notice& notice, const FieldNames& names);
/// The same for all of a kind and column: "impossible values of rain".
[[nodiscard]] std::string notice_kind_words(const climate::Notice& notice);

}  // namespace strikebed::print
