#include "nursery/daybook/batches.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <tuple>
#include <utility>
#include <vector>

#include "base/lines.hpp"
#include "nursery/daybook/names.hpp"
#include "print/daybook/batch_text.hpp"
#include "print/daybook/batches_json.hpp"
#include "print/daybook/entry_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::nursery {
namespace {

using namespace daybook;

/// The batches that entries are about, or begin, or go into; those that withdrawn entries were about. The oldest first.
std::vector<EntryId> batches_of(const Noted& noted, Fold& fold) {
  std::set<EntryId> found;
  const auto add = [&](const Entry& entry) {
    if (fold.state().batches.contains(entry.id)) found.insert(entry.id);
    each_reference(entry, [&](const EntryId& id, Refers) {
      if (fold.state().batches.contains(id)) found.insert(id);
    });
  };
  for (const Entry& entry : noted.entries) {
    add(entry);
    const auto* withdrawn = std::get_if<Withdrawn>(&entry.body);
    if (const Entry* target = withdrawn ? fold.find(withdrawn->target) : nullptr) add(*target);
  }
  std::vector<EntryId> in_order(found.begin(), found.end());
  std::ranges::stable_sort(in_order, {}, [&](const EntryId& id) {
    return std::tuple(fold.state().batches.at(id).began.ms, fold.find(id)->written.ms);
  });
  return in_order;
}

/// What an entry says; of a withdrawal, what it takes back.
std::string told(const Entry& entry, Fold& fold) {
  const State& state = fold.state();
  const auto* withdrawn = std::get_if<Withdrawn>(&entry.body);
  const Entry* target = withdrawn ? fold.find(withdrawn->target) : nullptr;
  const Entry& about = target ? *target : entry;
  return fmt::format("{}{}{} ({}, {})", target ? "Withdrawn: " : "",
                     about.batch ? print::name_of(*about.batch, state) + " " : "", print::entry_words(about, state),
                     print::moment_words(about.happened), print::short_id(about.id));
}

}  // namespace

Result<std::string> batches_words(Fold& fold, std::string_view code, int width) {
  const auto columns = static_cast<std::size_t>(width);
  if (code.empty()) return print::plain_spaces(print::batches_text(fold, columns));
  const auto id = Names(fold).find(code, Refers::batch);
  if (!id.ok()) return id.error();
  return print::plain_spaces(print::batch_text(fold, *id, columns));
}

Result<std::string> batches_json(Fold& fold, std::string_view code) {
  if (code.empty()) return print::document(print::batches_json(fold, {}));
  const auto id = Names(fold).find(code, Refers::batch);
  if (!id.ok()) return id.error();
  return print::document(print::batches_json(fold, *id));
}

std::string words_of(const Noted& noted, Fold& fold, int width) {
  std::string text;
  const auto columns = static_cast<std::size_t>(width);
  for (const Entry& entry : noted.entries) text += paragraph(told(entry, fold), columns, "");
  text += '\n';
  for (const EntryId& id : batches_of(noted, fold)) {
    text += paragraph(print::batch_line(fold.state().batches.at(id), fold.state()), columns, "  ");
  }
  return print::plain_spaces(std::move(text));
}

std::string json_of(const Noted& noted, Fold& fold) {
  print::Json out;
  out["entries"] = print::Json::array();
  for (const Entry& entry : noted.entries) out["entries"].push_back(print::entry_told(entry, fold.state()));
  out["batches"] = print::Json::array();
  for (const EntryId& id : batches_of(noted, fold)) {
    out["batches"].push_back(print::batch_json(fold.state().batches.at(id), fold.state()));
  }
  return print::document(out);
}

}  // namespace strikebed::nursery
