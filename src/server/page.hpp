#pragma once
// The built page: a folder of files, read once.
#include <map>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "server/http.hpp"

namespace strikebed::server {

class Page {
 public:
  /// Reads every file of a folder and of those in it, but none whose name begins with a dot, and compresses what gets
  /// smaller by it. Errors: there is no such folder, it holds no index.html, a file cannot be read, there are more than
  /// 2,000 files or 256 MB.
  [[nodiscard]] static Result<Page> read(const std::string& folder);

  [[nodiscard]] bool has(std::string_view path) const { return files_.contains(path); }
  /// The file of a path, "/assets/app-3f0c.js"; "/" is index.html. 200, or 304 where the client has it already.
  /// The path is one that has() knows.
  [[nodiscard]] Answer answer(std::string_view path, const Head& head) const;

 private:
  struct File {
    std::string_view type;
    std::string_view caching;
    Text plain;
    std::string tag;  ///< a strong ETag
    Text packed;      ///< null: it would not be smaller
    std::string packed_tag;
  };
  static File make_file(std::string_view path, std::string bytes);
  std::map<std::string, File, std::less<>> files_;  ///< by their paths
};

/// Whether an If-None-Match names this ETag, or any.
[[nodiscard]] bool matches(std::string_view if_none_match, std::string_view tag);

}  // namespace strikebed::server
