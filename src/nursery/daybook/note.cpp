#include "nursery/daybook/note.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <tuple>
#include <variant>

#include "base/nearest.hpp"
#include "base/shown_text.hpp"
#include "base/text.hpp"
#include "daybook/entry_json.hpp"
#include "nursery/daybook/begin_batch.hpp"
#include "nursery/daybook/contradicts.hpp"
#include "nursery/daybook/names.hpp"
#include "nursery/daybook/phrase.hpp"
#include "nursery/daybook/picture.hpp"
#include "print/daybook/entry_words.hpp"
#include "print/daybook/field_words.hpp"

namespace strikebed::nursery {
namespace {

using namespace daybook;

constexpr std::size_t kShown = 40;
constexpr int kNoon = 12 * 60;

std::string typed_words(std::span<const std::string> words) { return fmt::format("{}", fmt::join(words, " ")); }

About about_of(const Body& body) {
  return std::visit(
      []<class B>(const B&) {
        if constexpr (ReadBody<B>) return B::kAbout;
        return About::other;
      },
      body);
}

Error unknown_form(std::string_view word) {
  std::vector<std::string_view> words;
  for (const NoteForm& form : note_forms()) words.push_back(form.word);
  return {.problem = fmt::format("there is no note {}{}", quoted(word, kShown), did_you_mean(word, words)),
          .allowed = fmt::format("{}", fmt::join(words, ", "))};
}

/// One note on its way into entries.
class NoteMaking {
 public:
  NoteMaking(const NoteRequest& request, const NoteMeans& means, Fold& fold)
      : request_(request), means_(means), names_(fold), phrase_{request.words} {}

  Result<Noted> make() {
    const std::string word = lower(phrase_.peek());
    const auto form = std::ranges::find(note_forms(), word, &NoteForm::word);
    if (form == note_forms().end()) return unknown_form(phrase_.peek());
    ++phrase_.next;
    body_ = form->body;
    if (auto wrong = read(*form)) return said_with_example(std::move(*wrong), *form);
    if (auto wrong = settle_when()) return *wrong;
    if (auto wrong = std::visit([&](auto& body) { return complete(body); }, body_)) return *wrong;
    add(std::move(body_), batch_);
    for (const Entry& entry : noted_.entries) {
      if (auto wrong = error_of(entry)) return said_with_example(in_typed_words(*wrong), *form);
    }
    if (!request_.anyway) {
      if (auto wrong = contradicts(names_.fold(), noted_.entries)) return *wrong;
    }
    return std::move(noted_);
  }

 private:
  /// The words into the body, and what it is about.
  std::optional<Error> read(const NoteForm& form) {
    if (form.word == "split" || form.word == "pool") return read_from(form.word == "split");
    if (form.word == "goal" || form.word == "photo") return read_file_of(form.word == "photo");
    if (form.word == "sell") std::get<HandedOver>(body_).how = HandedHow::sold;
    if (form.word == "strike") take_into_new();
    const bool may_begin = std::holds_alternative<Chilled>(body_) || std::holds_alternative<Sown>(body_);
    if (may_begin && lower(phrase_.peek()) == "lot") {
      if (auto wrong = begin_of_lot()) return wrong;
    } else if (auto wrong = read_subject()) {
      return wrong;
    }
    if (auto* remark = std::get_if<Remark>(&body_)) {
      remark->text = phrase_.rest();
      return std::nullopt;
    }
    return read_words(phrase_, form.main, today(), names_, body_);
  }

  std::optional<Error> read_subject() {
    const About about = about_of(body_);
    if (about == About::other || (about == About::maybe_batch && !names_.is_batch(phrase_.peek()))) return std::nullopt;
    if (phrase_.is_over()) return Error{.problem = "which batch is missing", .allowed = "its code"};
    auto found = names_.find(phrase_.peek(), Refers::batch);
    if (!found.ok()) return found.error();
    batch_ = *found;
    ++phrase_.next;
    return std::nullopt;
  }

  /// "sow lot NAME 200": the batch begins with it.
  std::optional<Error> begin_of_lot() {
    auto lot = names_.find(phrase_.peek(1), Refers::lot);
    if (!lot.ok()) return lot.error();
    phrase_.next += 2;
    BatchStarted begun;
    begun.lot = *lot;
    begun_ = std::move(begun);
    if (!phrase_.is_over() && std::holds_alternative<Chilled>(body_)) return read_number(begun_->number);
    return std::nullopt;
  }

  std::optional<Error> read_number(std::optional<int>& into) {
    Body number = Sown{};
    Phrase first{phrase_.words.subspan(0, phrase_.next + 1), phrase_.next};
    if (auto wrong = read_words(first, "number", today(), names_, number)) return wrong;
    phrase_.next = first.next;
    into = std::get<Sown>(number).number;
    return std::nullopt;
  }

  /// "split K427T 40" and "pool K427T K4289": from the batches that are named.
  std::optional<Error> read_from(bool split) {
    auto& begun = std::get<BatchStarted>(body_);
    while (!phrase_.is_over() && (split ? begun.from.empty() : names_.is_batch(phrase_.peek()))) {
      auto found = names_.find(phrase_.peek(), Refers::batch);
      if (!found.ok()) return found.error();
      ++phrase_.next;
      begun.from.push_back({*found, 0});
    }
    if (begun.from.size() < (split ? 1U : 2U)) {
      return Error{.problem = split ? "which batch is missing" : "which batches is missing",
                   .allowed = split ? "its code" : "two codes or more"};
    }
    if (auto wrong = read_words(phrase_, split ? "number" : "", today(), names_, body_)) return wrong;
    return split ? split_off(begun) : pooled(names_.state(), begun);
  }

  static std::optional<Error> split_off(BatchStarted& begun) {
    if (!begun.number) return Error{.problem = "how many is missing", .allowed = "a whole number"};
    begun.from.front().number = *begun.number;
    begun.number.reset();
    return std::nullopt;
  }

  /// The file that a goal or a picture is read from.
  std::optional<Error> read_file_of(bool picture) {
    if (picture) {
      if (auto wrong = read_subject()) return wrong;
    }
    if (phrase_.is_over()) return Error{.problem = "which file is missing", .allowed = "its name"};
    const std::string path(phrase_.peek());
    ++phrase_.next;
    auto bytes = means_.read_file(path);
    if (!bytes.ok()) return bytes.error();
    if (picture) {
      auto attached = picture_of(std::move(*bytes), path);
      if (!attached.ok()) return attached.error();
      body_ = attached->entry;
      noted_.attachments.push_back(std::move(attached->attachment));
      return phrase_.is_over() ? std::nullopt : read_words(phrase_, "", today(), names_, body_);
    }
    auto& goal = std::get<GoalSet>(body_);
    goal.goal_toml = std::move(*bytes);
    goal.name = phrase_.is_over() ? std::string(file_name(path)) : phrase_.rest();
    return std::nullopt;
  }

  /// "into new" is no batch.
  void take_into_new() {
    for (std::size_t i = phrase_.next; i + 1 < phrase_.words.size(); ++i) {
      if (lower(phrase_.words[i]) != "into" || lower(phrase_.words[i + 1]) != "new") continue;
      words_.assign(phrase_.words.begin(), phrase_.words.end());
      words_.erase(words_.begin() + static_cast<std::ptrdiff_t>(i),
                   words_.begin() + static_cast<std::ptrdiff_t>(i) + 2);
      phrase_.words = words_;
      into_new_ = true;
      return;
    }
  }

  [[nodiscard]] Date today() const { return local_day(means_.now); }

  /// When it happened, from what was said of it.
  std::optional<Error> settle_when() {
    const std::optional<Date> on = request_.on ? request_.on : phrase_.on;
    const std::optional<int> at = request_.at_minute ? request_.at_minute : phrase_.at_minute;
    happened_ = means_.now;
    if (at || (on && *on != today())) happened_ = means_.wall_clock(on.value_or(today()), at.value_or(kNoon));
    if (happened_.ms <= means_.now.ms) return std::nullopt;
    return Error{.problem = fmt::format("{} is in the future", to_iso(happened_).substr(0, 16)),
                 .allowed = fmt::format("up to now, {}", to_iso(means_.now).substr(0, 16))};
  }

  // What a kind of note needs beside its words.

  std::optional<Error> complete(auto& /*body*/) {
    if (!begun_) return std::nullopt;
    begin(std::move(*begun_));
    return std::nullopt;
  }
  std::optional<Error> complete(Sown& body) {
    if (!begun_) return std::nullopt;
    begun_->number = body.number;
    begin(std::move(*begun_));
    return std::nullopt;
  }
  std::optional<Error> complete(BatchStarted& body) {
    body.code = new_code(names_.fold(), request_.device, means_.random_bits());
    if (!body.from.empty()) body.holds = names_.state().batches.at(body.from.front().batch).holds;
    return std::nullopt;
  }
  std::optional<Error> complete(Struck& body) {
    if (body.into != EntryId{}) return std::nullopt;
    if (!into_new_) {
      if (const auto open = cuttings_of_today(names_.fold(), *batch_, request_.device, local_day(happened_))) {
        body.into = *open;
        return std::nullopt;
      }
    }
    BatchStarted begun;
    begun.holds = Holds::cuttings;
    begun.from.push_back({*batch_, 0});
    const EntryId seedlings = *batch_;
    begin(std::move(begun));
    body.into = *batch_;
    batch_ = seedlings;
    return std::nullopt;
  }
  /// "41 of 50" of a batch of 200 is a sample.
  std::optional<Error> complete(Counted& body) {
    if (!body.of || body.sample || body.destructive) return std::nullopt;
    const auto found = names_.state().batches.find(*batch_);
    if (found == names_.state().batches.end()) return std::nullopt;
    const auto whole = body.emerged ? found->second.begun_with : found->second.left;
    body.sample = whole && *body.of < *whole;
    return std::nullopt;
  }

  /// A batch, of which the note is then.
  void begin(BatchStarted begun) {
    begun.code = new_code(names_.fold(), request_.device, means_.random_bits());
    add(std::move(begun), {});
    batch_ = noted_.entries.back().id;
  }

  void add(Body body, std::optional<EntryId> batch) {
    Entry entry = new_entry(request_, means_, happened_, std::move(body));
    entry.written.ms += static_cast<std::int64_t>(noted_.entries.size());  // so that they have an order
    entry.batch = about_of(entry.body) == About::other ? std::nullopt : batch;
    entry.typed = typed_words(request_.words);
    noted_.entries.push_back(std::move(entry));
  }

  static Error in_typed_words(Error error) {
    const std::size_t dot = error.field.rfind('.');
    error.field = print::spoken_field(dot == std::string::npos ? error.field : error.field.substr(dot + 1));
    return error;
  }
  static Error said_with_example(Error error, const NoteForm& form) {
    error.allowed += fmt::format("{}as in: note {}", error.allowed.empty() ? "" : "; ", form.example);
    return error;
  }

  const NoteRequest& request_;
  const NoteMeans& means_;
  Names names_;
  Phrase phrase_;
  std::vector<std::string> words_;  ///< of the phrase, where they are not the request's
  Body body_;
  std::optional<EntryId> batch_;
  std::optional<BatchStarted> begun_;  ///< with the note
  bool into_new_ = false;
  Moment happened_;
  Noted noted_;
};

/// The entries of the last note that was written on a device and stands.
std::vector<EntryId> last_note(Fold& fold, const std::string& device) {
  std::vector<const Entry*> notes;
  for (const EntryId& id : fold.ids()) {
    const Entry* entry = fold.find(id);
    if (entry->device != device || std::holds_alternative<Withdrawn>(entry->body) || !fold.stands(id)) continue;
    notes.push_back(entry);
  }
  std::ranges::sort(notes, {}, [](const Entry* entry) { return std::tie(entry->written.ms, entry->id); });
  std::vector<EntryId> last;
  for (std::size_t i = notes.size(); i-- > 0;) {
    if (!last.empty()) {
      const Entry& later = *notes[i + 1];
      if (notes[i]->typed != later.typed || later.written.ms - notes[i]->written.ms > 1) break;
    }
    last.push_back(notes[i]->id);
  }
  return last;
}

/// What is to be withdrawn.
Result<std::vector<EntryId>> named_or_last(const NoteRequest& request, Fold& fold) {
  if (request.words.empty()) {
    std::vector<EntryId> last = last_note(fold, request.device);
    if (!last.empty()) return last;
    return Error{.problem = fmt::format("nothing that was noted on {} stands", quoted(request.device, kShown)),
                 .allowed = "an entry by its id, such as #3f0c9f6c"};
  }
  const auto found = Names(fold).find(request.words.front(), Refers::any);
  if (!found.ok()) return found.error();
  if (!fold.stands(*found)) {
    return Error{.problem = fmt::format("{} is withdrawn already", print::short_id(*found)),
                 .allowed = "an entry that stands"};
  }
  return std::vector{*found};
}

}  // namespace

Entry new_entry(const NoteRequest& request, const NoteMeans& means, const Moment& happened, Body body) {
  Entry entry;
  entry.id = {means.random_bits(), means.random_bits()};
  entry.happened = happened;
  entry.written = means.written;
  entry.who = request.who;
  entry.device = request.device;
  entry.body = std::move(body);
  return entry;
}

Result<Noted> note(const NoteRequest& request, const NoteMeans& means, Fold& fold) {
  return NoteMaking(request, means, fold).make();
}

Result<Noted> undo(const NoteRequest& request, const NoteMeans& means, Fold& fold) {
  const auto targets = named_or_last(request, fold);
  if (!targets.ok()) return targets.error();
  Noted noted;
  for (const EntryId& target : *targets) {
    noted.entries.push_back(new_entry(request, means, means.now, Withdrawn{target, {}}));
  }
  return noted;
}

}  // namespace strikebed::nursery
