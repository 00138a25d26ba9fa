#include "nursery/daybook/typed_words.hpp"

namespace strikebed::nursery {

Result<std::vector<std::string>> typed_words(std::string_view line) {
  std::vector<std::string> words;
  bool inside = false;  // a word
  char mark = 0;        // that quotes
  for (const char c : line) {
    const bool blank = c == ' ' || c == '\t' || c == '\n' || c == '\r';
    if (mark != 0 ? c == mark : c == '"' || (c == '\'' && !inside)) {  // an apostrophe within a word is one
      if (mark == 0 && !inside) words.emplace_back();
      inside = true;
      mark = mark != 0 ? '\0' : c;
    } else if (mark == 0 && blank) {
      inside = false;
    } else {
      if (!inside) words.emplace_back();
      inside = true;
      words.back() += c;
    }
  }
  if (mark != 0) {
    return Error{.problem = "a quotation mark is opened and not closed",
                 .allowed = "\"two of them around some words\""};
  }
  return words;
}

}  // namespace strikebed::nursery
