#include "nursery/daybook/names.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "base/nearest.hpp"
#include "base/shown_text.hpp"
#include "base/text.hpp"
#include "daybook/batch_code.hpp"
#include "print/daybook/entry_words.hpp"

namespace strikebed::nursery {
namespace {

using daybook::EntryId;
using daybook::Refers;
using daybook::StockKind;

constexpr std::size_t kShown = 40;
constexpr std::size_t kNamed = 5;  // of what there is
constexpr std::size_t kFewestDigits = 4;

std::string_view what_words(Refers what) {
  switch (what) {
    case Refers::batch:
      return "batch";
    case Refers::lot:
      return "lot";
    case Refers::bottle:
      return "bottle";
    case Refers::stock:
      return "lot or bottle";
    case Refers::goal:
      return "goal";
    case Refers::any:
      return "entry";
  }
  return "";
}

bool is_stock(const daybook::Stock& stock, Refers what) {
  if (what == Refers::lot) return stock.kind == StockKind::lot;
  if (what == Refers::bottle) return stock.kind != StockKind::lot;
  return what == Refers::stock || what == Refers::any;
}

/// As it is kept, where it could be a code.
std::string as_kept(std::string_view typed) {
  const auto code = daybook::read_batch_code(typed);
  return code.ok() ? to_text(*code) : std::string(typed);
}

}  // namespace

std::vector<Names::Named> Names::all(Refers what) const {
  std::vector<Named> found;
  if (what == Refers::batch || what == Refers::any) {
    for (const auto& [id, batch] : state_.batches) found.push_back({id, batch.code});
  }
  for (const auto& [id, stock] : state_.stocks) {
    if (is_stock(stock, what)) found.push_back({id, stock.name});
  }
  if (what == Refers::goal || what == Refers::any) {
    for (const auto& [id, goal] : state_.goals) found.push_back({id, goal.name});
  }
  return found;
}

Result<EntryId> Names::by_id(std::string_view digits) const {
  std::vector<EntryId> found;
  for (const EntryId& id : fold_.ids()) {
    if (digits.size() >= kFewestDigits && to_text(id).starts_with(digits)) found.push_back(id);
  }
  if (found.size() == 1) return found.front();
  return Error{.problem = fmt::format("{} entries have an id that begins with {}", found.empty() ? "no" : "several",
                                      quoted(digits, kShown)),
               .allowed = fmt::format("{} digits of an id or more, so many that it is one", kFewestDigits)};
}

std::vector<EntryId> Names::labelled(std::string_view typed) const {
  std::vector<EntryId> found;
  for (const auto& [id, batch] : state_.batches) {
    if (!batch.label.empty() && lower(batch.label) == lower(typed)) found.push_back(id);
  }
  return found;
}

Result<EntryId> Names::find(std::string_view typed, Refers what) const {
  const std::vector<Named> known = all(what);
  if (typed.starts_with('#')) {
    const auto id = by_id(lower(typed.substr(1)));
    if (!id.ok() || what == Refers::any || std::ranges::find(known, *id, &Named::id) != known.end()) return id;
    return Error{.problem = fmt::format("{} is no {} that stands", quoted(typed, kShown), what_words(what)),
                 .allowed = fmt::format("the id of a {}", what_words(what))};
  }
  const std::string wanted = lower(what == Refers::batch ? as_kept(typed) : std::string(typed));
  std::vector<EntryId> found;
  for (const Named& one : known) {
    if (lower(one.name) == wanted) found.push_back(one.id);
  }
  if (found.empty() && what == Refers::batch) found = labelled(typed);
  if (found.size() == 1) return found.front();
  if (found.size() > 1) {
    std::vector<std::string> ids;
    for (const EntryId& id : found) ids.push_back(print::short_id(id));
    return Error{.problem = fmt::format("{} is the name of {} things", quoted(typed, kShown), found.size()),
                 .allowed = fmt::format("which of them: {}", fmt::join(ids, ", "))};
  }
  std::vector<std::string> names;
  for (const Named& one : known) names.push_back(one.name);
  std::ranges::sort(names);
  names.erase(std::unique(names.begin(), names.end()), names.end());
  const std::vector<std::string_view> views(names.begin(), names.end());
  const std::string problem =
      fmt::format("there is no {} {}{}", what_words(what), quoted(typed, kShown), did_you_mean(typed, views));
  if (names.empty()) return Error{.problem = problem, .allowed = fmt::format("a {} noted before", what_words(what))};
  const std::string more = names.size() > kNamed ? ", ..." : "";
  if (names.size() > kNamed) names.resize(kNamed);
  return Error{.problem = problem, .allowed = fmt::format("{}{}", fmt::join(names, ", "), more)};
}

bool Names::is_batch(std::string_view typed) const {
  if (typed.starts_with('#')) {
    const auto id = by_id(lower(typed.substr(1)));
    return id.ok() && state_.batches.contains(*id);
  }
  const std::string code = as_kept(typed);
  const auto has_it = [&](const auto& one) { return one.second.code == code; };
  return std::ranges::any_of(state_.batches, has_it) || !labelled(typed).empty();
}

}  // namespace strikebed::nursery
