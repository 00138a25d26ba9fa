#include "nursery/text_file.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <fstream>

namespace strikebed::nursery {
namespace {

std::string in_words(std::size_t bytes) {
  if (bytes >= 1'000'000) return fmt::format("{:.3g} MB", static_cast<double>(bytes) / 1e6);
  return fmt::format("{:.3g} kB", static_cast<double>(bytes) / 1e3);
}

}  // namespace

Result<std::string> read_text_file(const std::string& path, std::size_t at_most_bytes) {
  std::error_code failed;
  const std::filesystem::file_status status = std::filesystem::status(path, failed);
  if (!std::filesystem::exists(status)) return Error{.problem = "there is no such file", .file = path};
  if (std::filesystem::is_directory(status)) {
    return Error{.problem = "this is a folder", .allowed = "a text file", .file = path};
  }
  std::ifstream file(path, std::ios::binary);
  if (!file) return Error{.problem = "the file cannot be read", .file = path};
  std::string text;
  std::string block(std::size_t{1} << 16, '\0');
  while (file && text.size() <= at_most_bytes) {
    file.read(block.data(), static_cast<std::streamsize>(block.size()));
    text.append(block, 0, static_cast<std::size_t>(file.gcount()));
  }
  if (file.bad()) return Error{.problem = "the file cannot be read", .file = path};
  if (text.size() > at_most_bytes) {
    return Error{.problem = "the file is too large", .allowed = "at most " + in_words(at_most_bytes), .file = path};
  }
  return text;
}

}  // namespace strikebed::nursery
