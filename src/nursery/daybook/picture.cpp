#include "nursery/daybook/picture.hpp"

#include <fmt/format.h>

#include "daybook/sha256.hpp"

namespace strikebed::nursery {
namespace {

/// By the signatures that the formats' own standards give; empty: none of them.
std::string_view media_type(std::string_view bytes) {
  if (bytes.starts_with("\xff\xd8\xff")) return "image/jpeg";
  if (bytes.starts_with("\x89PNG\r\n\x1a\n")) return "image/png";
  if (bytes.starts_with("RIFF") && bytes.substr(0, 12).ends_with("WEBP")) return "image/webp";
  if (bytes.size() > 12 && bytes.substr(4, 4) == "ftyp") {  // ISO base media file
    const std::string_view brand = bytes.substr(8, 4);
    if (brand == "avif") return "image/avif";
    if (brand == "heic" || brand == "heix" || brand == "mif1") return "image/heic";
  }
  return "";
}

}  // namespace

Result<Picture> picture_of(std::string bytes, std::string_view file) {
  const std::string_view type = media_type(bytes);
  if (type.empty()) {
    return Error{
        .problem = "this is no picture", .allowed = "JPEG, PNG, WebP, AVIF or HEIC", .file = std::string(file)};
  }
  if (bytes.size() > daybook::kLargestAttachment) {
    return Error{.problem = fmt::format("the picture has {} bytes", bytes.size()),
                 .allowed = fmt::format("{}", daybook::kLargestAttachment),
                 .file = std::string(file)};
  }
  Picture picture;
  picture.entry.media_type = type;
  picture.entry.size_bytes = static_cast<int>(bytes.size());
  picture.attachment = {daybook::sha256(bytes), std::move(bytes)};
  picture.entry.sha256 = daybook::to_text(picture.attachment.sha256);
  return picture;
}

}  // namespace strikebed::nursery
