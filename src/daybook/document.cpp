#include "daybook/document.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>

#include "base/shown_text.hpp"
#include "daybook/base64.hpp"
#include "daybook/entry_json.hpp"

namespace strikebed::daybook {
namespace {

constexpr std::size_t kMostErrors = 100;
constexpr std::size_t kLongestShown = 60;
constexpr std::string_view kBlanks = " \t\r\n";

std::string_view without_mark(std::string_view text) {
  return text.starts_with("\xef\xbb\xbf") ? text.substr(3) : text;
}

/// Goes through the text of a JSON value. It finds where things begin and end, and leaves the rest to whom it hands
/// them.
class Scanner {
 public:
  explicit Scanner(std::string_view text) : text_(text) {}

  /// Of what comes next, from 1.
  [[nodiscard]] int line() {
    skip_blanks();
    line_ += static_cast<int>(std::ranges::count(text_.substr(counted_, at_ - counted_), '\n'));
    counted_ = at_;
    return line_;
  }
  [[nodiscard]] bool at_end() {
    skip_blanks();
    return at_ == text_.size();
  }
  bool skip(char c) {
    skip_blanks();
    if (at_ == text_.size() || text_[at_] != c) return false;
    ++at_;
    return true;
  }
  /// A text in quotation marks, as it stands between them.
  std::optional<std::string_view> string() {
    skip_blanks();
    const std::size_t begin = at_ + 1;
    if (!skip_string()) return std::nullopt;
    return text_.substr(begin, at_ - 1 - begin);
  }
  /// Any value, as it stands; empty where there is none, or where it does not end.
  std::string_view value() {
    skip_blanks();
    const std::size_t begin = at_;
    std::size_t depth = 0;
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if (c == '"') {
        if (!skip_string()) return {};
      } else if (c == '{' || c == '[') {
        ++depth;
        ++at_;
      } else if (depth > 0 && (c == '}' || c == ']')) {
        --depth;
        ++at_;
      } else if (depth == 0 && (c == ',' || c == '}' || c == ']' || kBlanks.find(c) != std::string_view::npos)) {
        break;
      } else {
        ++at_;
        continue;
      }
      if (depth == 0) break;
    }
    return depth == 0 ? text_.substr(begin, at_ - begin) : std::string_view();
  }

 private:
  void skip_blanks() { at_ = std::min(text_.find_first_not_of(kBlanks, at_), text_.size()); }
  bool skip_string() {
    if (at_ == text_.size() || text_[at_] != '"') return false;
    std::size_t end = at_ + 1;
    while ((end = text_.find_first_of("\"\\", end)) != std::string_view::npos && text_[end] == '\\') end += 2;
    if (end == std::string_view::npos) return false;
    at_ = end + 1;
    return true;
  }

  std::string_view text_;
  std::size_t at_ = 0;
  std::size_t counted_ = 0;  ///< so far its line ends are in `line_`
  int line_ = 1;
};

class DocumentReader {
 public:
  explicit DocumentReader(std::string_view text) : scan_(text) {}

  Result<Document> read() {
    const bool is_whole = members() && scan_.at_end();
    if (!is_whole && !wrong_) fail({.problem = "this is not JSON", .allowed = "a document of export"}, scan_.line());
    if (!wrong_ && !is_daybook_) {
      fail({.problem = "is missing", .allowed = "the version of the document", .field = "daybook"}, 1);
    }
    if (wrong_) return *wrong_;
    return std::move(document_);
  }

 private:
  void fail(Error error, int line) {
    if (errors_ >= kMostErrors) return;
    const std::vector<Error> others = std::exchange(error.others, {});
    error.line = line;
    ++errors_;
    wrong_ ? wrong_->add(error) : static_cast<void>(wrong_ = error);
    for (const Error& other : others) fail(other, line);
  }

  /// False where the text is not JSON.
  bool members() {
    if (!scan_.skip('{')) return false;
    if (scan_.skip('}')) return true;
    do {
      const int line = scan_.line();
      const auto key = scan_.string();
      if (!key || !scan_.skip(':')) return false;
      if (!member(*key, line)) return false;
    } while (scan_.skip(','));
    return scan_.skip('}');
  }

  bool member(std::string_view key, int line) {
    if (key == "entries") return items([this](std::string_view item, int at) { read_one_entry(item, at); });
    if (key == "attachments") return items([this](std::string_view item, int at) { read_attachment(item, at); });
    const std::string_view value = scan_.value();
    if (value.empty()) return false;
    is_daybook_ = is_daybook_ || key == "daybook";
    if (key != "daybook") {
      fail({.problem = "there is no such key",
            .allowed = "daybook, entries, attachments",
            .field = shortened(safe_text(key), kLongestShown)},
           line);
    } else if (value != std::to_string(kDocumentVersion)) {
      fail({.problem = "found " + shortened(safe_text(value), kLongestShown),
            .allowed = fmt::format("version {} of the document", kDocumentVersion),
            .field = "daybook"},
           line);
    }
    return true;
  }

  template <class Take>
  bool items(const Take& take) {
    if (!scan_.skip('[')) return false;
    if (scan_.skip(']')) return true;
    do {
      const int line = scan_.line();
      const std::string_view item = scan_.value();
      if (item.empty()) return false;
      take(item, line);
    } while (scan_.skip(','));
    return scan_.skip(']');
  }

  void read_one_entry(std::string_view item, int line) {
    auto entry = read_entry(item);
    entry ? document_.entries.push_back(std::move(*entry)) : fail(entry.error(), line);
  }

  /// Its text is too long for the reader of entries, and has nothing but two plain strings.
  void read_attachment(std::string_view item, int line) {
    Scanner scan(item);
    std::optional<Digest> sha256;
    std::optional<std::string> bytes;
    bool is_sound = scan.skip('{');
    do {
      const auto key = scan.string();
      const auto value = key && scan.skip(':') ? scan.string() : std::nullopt;
      is_sound = is_sound && value && (key == "sha256" || key == "bytes");
      if (is_sound && key == "sha256") sha256 = parse_digest(*value);
      if (is_sound && key == "bytes") bytes = from_base64(*value);
    } while (is_sound && scan.skip(','));
    if (!is_sound || !scan.skip('}') || !scan.at_end() || !sha256 || !bytes) {
      fail({.problem = "this attachment cannot be read",
            .allowed = "sha256, 64 digits of base 16, and bytes, in base 64"},
           line);
    } else if (strikebed::daybook::sha256(*bytes) != *sha256) {
      fail({.problem = fmt::format("the attachment {} is not what its digest says", to_text(*sha256)),
            .allowed = "its own SHA-256"},
           line);
    } else {
      document_.attachments.push_back({*sha256, std::move(*bytes)});
    }
  }

  Scanner scan_;
  Document document_;
  std::optional<Error> wrong_;
  std::size_t errors_ = 0;
  bool is_daybook_ = false;
};

}  // namespace

std::string DocumentText::begin(Part part) {
  std::string text = part == part_ ? ",\n" : "";
  if (part_ == Part::before) text += fmt::format("{{\"daybook\":{},\n\"entries\":[\n", kDocumentVersion);
  if (part == Part::attachments && part_ != Part::attachments) {
    text += part_ == Part::entries ? "\n],\n\"attachments\":[\n" : "],\n\"attachments\":[\n";
  }
  part_ = part;
  return text;
}

std::string DocumentText::next(const Entry& entry) { return begin(Part::entries) + entry_json(entry); }

std::string DocumentText::next(const Attachment& attachment) {
  return begin(Part::attachments) +
         fmt::format(R"({{"sha256":"{}","bytes":"{}"}})", to_text(attachment.sha256), to_base64(attachment.bytes));
}

std::string DocumentText::end() {
  if (part_ == Part::before) return begin(Part::entries) + "]}\n";
  return "\n]}\n";
}

Result<Document> read_document(std::string_view json) { return DocumentReader(without_mark(json)).read(); }

bool may_be_document(std::string_view text) {
  const std::string_view plain = without_mark(text);
  const std::size_t first = plain.find_first_not_of(kBlanks);
  return first != std::string_view::npos && plain[first] == '{';
}

}  // namespace strikebed::daybook
