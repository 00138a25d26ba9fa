#pragma once
// A daybook as one JSON document, with what is kept beside the entries: docs/daybook-format.md, "As one document".
// It is made part by part, because pictures may be more than fits into memory.
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "daybook/attachment.hpp"
#include "daybook/entry.hpp"

namespace strikebed::daybook {

inline constexpr int kDocumentVersion = 1;

/// The text of a document, as it grows: entries, then attachments, then its end.
class DocumentText {
 public:
  [[nodiscard]] std::string next(const Entry& entry);
  [[nodiscard]] std::string next(const Attachment& attachment);
  [[nodiscard]] std::string end();

 private:
  enum class Part { before, entries, attachments };
  [[nodiscard]] std::string begin(Part part);
  Part part_ = Part::before;
};

struct Document {
  std::vector<Entry> entries;
  std::vector<Attachment> attachments;
};

/// In any layout. Errors, each with its line, all of them at once up to a hundred: no such document, a later version,
/// an entry that cannot be read, an attachment that is not what its digest says.
[[nodiscard]] Result<Document> read_document(std::string_view json);

/// Whether a text is to be such a document, by its beginning, and not CSV.
[[nodiscard]] bool may_be_document(std::string_view text);

}  // namespace strikebed::daybook
