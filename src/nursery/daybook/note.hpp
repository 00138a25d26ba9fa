#pragma once
// Notes as they are typed at the bench, turned into entries of the daybook: "count K427T emerged 41 of 50".
#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/date.hpp"
#include "base/result.hpp"
#include "daybook/attachment.hpp"
#include "daybook/entry.hpp"
#include "daybook/fold.hpp"

namespace strikebed::nursery {

struct NoteRequest {
  std::vector<std::string> words;  ///< "count", "K427T", "emerged", "41", "of", "50"
  std::string who;
  std::string device;            ///< not empty
  std::optional<Date> on;        ///< said beside the words
  std::optional<int> at_minute;  ///< the same: after midnight
  bool anyway = false;           ///< also where it contradicts what the daybook says
};

/// What a machine gives to it.
struct NoteMeans {
  daybook::Moment now;                                          ///< or what is to be taken for it
  daybook::Moment written;                                      ///< by the clock, in any case
  std::function<daybook::Moment(Date, int minute)> wall_clock;  ///< a local day, minutes after midnight
  std::function<std::uint64_t()> random_bits;
  std::function<Result<std::string>(const std::string& path)> read_file;
};

struct Noted {
  std::vector<daybook::Entry> entries;  ///< one, or more where a batch begins with it
  std::vector<daybook::Attachment> attachments;
};

/// Nothing is added to the fold, which is that of the whole daybook.
/// Errors: words that are no note; a name that nothing has (with the nearest); a day or a time in the future; what
/// cannot be true beside the daybook, unless `anyway`.
[[nodiscard]] Result<Noted> note(const NoteRequest& request, const NoteMeans& means, daybook::Fold& fold);

/// An entry of whoever asks, about no batch.
[[nodiscard]] daybook::Entry new_entry(const NoteRequest& request, const NoteMeans& means,
                                       const daybook::Moment& happened, daybook::Body body);

/// Withdraws the last note that was written on the device; or, with "#3f0c9f6c" for its words, that entry.
/// Errors: there is none; it is withdrawn already.
[[nodiscard]] Result<Noted> undo(const NoteRequest& request, const NoteMeans& means, daybook::Fold& fold);

/// How a kind of note is typed.
struct NoteForm {
  std::string_view word;
  daybook::Body body;        ///< empty
  std::string_view main;     ///< the field that a number alone is for
  std::string_view says;     ///< what it notes
  std::string_view example;  ///< behind "strikebed note"
};
[[nodiscard]] std::span<const NoteForm> note_forms();

}  // namespace strikebed::nursery
