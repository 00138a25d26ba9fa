#include "nursery/library.hpp"

namespace strikebed::nursery {

Result<Text> Library::own(const std::string& path) const {
  if (own_file) return own_file(path);
  return Error{.problem = "files cannot be read here", .file = path};
}

std::vector<std::string_view> ids_of(const Texts& texts) {
  std::vector<std::string_view> ids;
  ids.reserve(texts.size());
  for (const auto& [id, text] : texts) ids.push_back(id);
  return ids;
}

std::string id_of_file(std::string_view path) {
  path.remove_prefix(path.rfind('/') + 1);  // npos + 1 is 0
  return std::string(path.substr(0, path.rfind('.')));
}

}  // namespace strikebed::nursery
