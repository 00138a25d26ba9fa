#pragma once
// A picture on its way into the daybook.
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "daybook/attachment.hpp"
#include "daybook/bodies.hpp"

namespace strikebed::nursery {

struct Picture {
  daybook::PhotoAttached entry;
  daybook::Attachment attachment;
};

/// Errors, with the file: the bytes are no picture of a kind that pages show (JPEG, PNG, WebP, AVIF or HEIC), told by
/// their beginning; they are too many.
[[nodiscard]] Result<Picture> picture_of(std::string bytes, std::string_view file);

}  // namespace strikebed::nursery
