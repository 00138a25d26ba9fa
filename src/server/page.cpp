#include "server/page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <system_error>
#include <utility>

#include "base/text.hpp"
#include "daybook/sha256.hpp"
#include "host/files.hpp"
#include "server/gzip.hpp"
#include "server/limits.hpp"

namespace strikebed::server {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kFilesAtMost = 2000;
constexpr std::size_t kBytesAtMost = 256 * kMegabyte;
constexpr std::string_view kIndex = "/index.html";
constexpr std::string_view kHashedNames = "/assets/";  // what is there never changes under its name

struct Type {
  std::string_view ending;
  std::string_view type;
  bool packs;  ///< is worth to be compressed
};
constexpr std::array kTypes{
    Type{".html", "text/html; charset=utf-8", true},
    Type{".js", "text/javascript; charset=utf-8", true},
    Type{".mjs", "text/javascript; charset=utf-8", true},
    Type{".css", "text/css; charset=utf-8", true},
    Type{".wasm", "application/wasm", true},
    Type{".json", "application/json", true},
    Type{".map", "application/json", true},
    Type{".webmanifest", "application/manifest+json", true},
    Type{".svg", "image/svg+xml", true},
    Type{".csv", "text/csv; charset=utf-8", true},
    Type{".toml", "application/toml", true},
    Type{".txt", "text/plain; charset=utf-8", true},
    Type{".ico", "image/x-icon", true},
    Type{".ttf", "font/ttf", true},
    Type{".png", "image/png", false},
    Type{".jpg", "image/jpeg", false},
    Type{".jpeg", "image/jpeg", false},
    Type{".webp", "image/webp", false},
    Type{".avif", "image/avif", false},
    Type{".woff2", "font/woff2", false},
};
constexpr Type kAnyType{"", "application/octet-stream", false};

const Type& type_of(std::string_view path) {
  const std::string small = lower(path);
  const auto found = std::ranges::find_if(kTypes, [&](const Type& type) { return small.ends_with(type.ending); });
  return found == kTypes.end() ? kAnyType : *found;
}

Error no_page(const std::string& folder, std::string problem) {
  return {
      .problem = std::move(problem), .allowed = "the folder of the built page, with its index.html", .file = folder};
}

Error unreadable(const std::string& folder, const std::error_code& failed) {
  return no_page(folder, failed == std::errc::no_such_file_or_directory ? "there is no such folder"
                         : failed == std::errc::not_a_directory         ? "this is no folder"
                                                                : "this folder cannot be read: " + failed.message());
}

}  // namespace

Page::File Page::make_file(std::string_view path, std::string bytes) {
  constexpr std::size_t kTagDigits = 32;  // 128 bits of the digest
  const Type& type = type_of(path);
  File file{.type = type.type,
            .caching = path.starts_with(kHashedNames) ? "public, max-age=31536000, immutable" : "no-cache",
            .plain = {},
            .tag = {},
            .packed = {},
            .packed_tag = {}};
  const std::string digest = daybook::to_text(daybook::sha256(bytes)).substr(0, kTagDigits);
  file.tag = fmt::format("\"{}\"", digest);
  if (type.packs) {
    std::string packed = gzipped(bytes);
    if (packed.size() < bytes.size()) {
      file.packed = text_of(std::move(packed));
      file.packed_tag = fmt::format("\"{}-gzip\"", digest);
    }
  }
  file.plain = text_of(std::move(bytes));
  return file;
}

Result<Page> Page::read(const std::string& folder) {
  std::error_code failed;
  if (!fs::is_directory(fs::status(folder, failed)) && !failed)
    failed = std::make_error_code(std::errc::not_a_directory);
  if (failed) return unreadable(folder, failed);
  if (!fs::exists(folder + std::string(kIndex), failed)) return no_page(folder, "this folder holds no index.html");
  Page page;
  std::size_t left = kBytesAtMost;
  for (fs::recursive_directory_iterator file(folder, failed), end; !failed && file != end; file.increment(failed)) {
    if (file->path().filename().string().starts_with('.')) {
      file.disable_recursion_pending();
      continue;
    }
    std::error_code gone;
    if (!file->is_regular_file(gone)) continue;
    if (page.files_.size() == kFilesAtMost) {
      return no_page(folder, fmt::format("this folder holds more than {} files", kFilesAtMost));
    }
    if (const auto size = file->file_size(gone); !gone && size > left) {
      return no_page(folder, fmt::format("this folder holds more than {} MB", kBytesAtMost / kMegabyte));
    }
    auto bytes = host::read_file(file->path().string(), left);
    if (!bytes) return bytes.error();
    left -= bytes->size();
    const std::string path = fmt::format("/{}", file->path().lexically_relative(folder).generic_string());
    page.files_.emplace(path, make_file(path, std::move(*bytes)));
  }
  if (failed) return unreadable(folder, failed);
  const auto index = page.files_.find(kIndex);
  if (index == page.files_.end()) return no_page(folder, "its index.html is no file");
  page.files_.emplace("/", index->second);
  return page;
}

Answer Page::answer(std::string_view path, const Head& head) const {
  const File& file = files_.find(path)->second;
  const bool packed = file.packed != nullptr && accepts_gzip(head.field("accept-encoding").value_or(""));
  const std::string& tag = packed ? file.packed_tag : file.tag;
  Answer answer{.status = 200, .fields = {{"ETag", tag}, {"Cache-Control", std::string(file.caching)}}};
  if (file.packed != nullptr) answer.fields.emplace_back("Vary", "Accept-Encoding");
  const auto known = head.field("if-none-match");
  if (known && matches(*known, tag)) {
    answer.status = 304;
    return answer;
  }
  answer.fields.emplace_back("Content-Type", file.type);
  if (packed) answer.fields.emplace_back("Content-Encoding", "gzip");
  answer.body = packed ? file.packed : file.plain;
  return answer;
}

bool matches(std::string_view if_none_match, std::string_view tag) {
  if (trimmed(if_none_match) == "*") return true;
  while (!if_none_match.empty()) {
    const std::size_t comma = if_none_match.find(',');  // the tags given here hold none
    std::string_view one = trimmed(if_none_match.substr(0, comma));
    if_none_match.remove_prefix(comma == std::string_view::npos ? if_none_match.size() : comma + 1);
    if (one.starts_with("W/")) one.remove_prefix(2);  // a proxy that compresses by itself weakens them
    if (one == tag) return true;
  }
  return false;
}

}  // namespace strikebed::server
