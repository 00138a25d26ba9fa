// What cannot be true together within one entry.
#include "daybook/bodies.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "daybook/batch_code.hpp"

namespace strikebed::daybook {
namespace {

/// The error of a number that is more than another of the same entry.
std::optional<Error> more_than(std::string_view field, int number, std::string_view whole_field, int whole) {
  if (number <= whole) return std::nullopt;
  return Error{.problem = fmt::format("found {}", number),
               .allowed = fmt::format("at most {}, which is {}", whole, whole_field),
               .field = std::string(field)};
}

Error missing(std::string_view field, std::string allowed) {
  return {.problem = "is missing", .allowed = std::move(allowed), .field = std::string(field)};
}

}  // namespace

std::optional<Error> ForecastGiven::disagreement() const {
  const std::array<double, 5> points{plants_p05, plants_p25, plants_p50, plants_p75, plants_p95};
  if (std::ranges::is_sorted(points)) return std::nullopt;
  return Error{.problem = "found points of a range that do not rise",
               .allowed = "plants_p05 to plants_p95, none less than the one before",
               .field = "plants_p05"};
}

std::optional<Error> LotTested::disagreement() const { return more_than("good", good, "of", of); }

std::optional<Error> StockCounted::disagreement() const {
  if (seeds || volume_ml || mass_g) return std::nullopt;
  return missing("volume_ml", "how much is left: seeds, volume_ml or mass_g");
}

std::optional<Error> BatchStarted::disagreement() const {
  const auto read = read_batch_code(code);
  if (!read) return read.error();
  if (to_text(*read) != code) {
    return Error{.problem = fmt::format("found \"{}\"", code),
                 .allowed = fmt::format("\"{}\"", to_text(*read)),
                 .field = "code"};
  }
  if (from.empty()) return std::nullopt;
  if (lot || number || mass_g) {
    return Error{.problem = "found batches and a lot or a number",
                 .allowed = "a lot with a number, or batches with a number each",
                 .field = "from"};
  }
  std::vector<EntryId> parents;
  for (const FromBatch& one : from) parents.push_back(one.batch);
  std::ranges::sort(parents);
  const auto twice = std::ranges::adjacent_find(parents);
  if (twice == parents.end()) return std::nullopt;
  return Error{.problem = fmt::format("found the batch {} twice", to_text(*twice)),
               .allowed = "each batch once, with the sum",
               .field = "from"};
}

std::optional<Error> Counted::disagreement() const {
  const int signs = green.value_or(0) + turning.value_or(0) + red.value_or(0) + faded.value_or(0);
  const int rootable = rooted.value_or(0) + undecided.value_or(0);
  if (!emerged && !green && !turning && !red && !faded && !alive && !rooted && !undecided) {
    return missing("alive", "at least one of emerged, green, turning, red, faded, alive, rooted and undecided");
  }
  if ((sample || destructive) && !of) return missing("of", "how many were looked at");
  if (of) {
    const std::pair<std::string_view, int> parts[] = {
        {"emerged", emerged.value_or(0)}, {"green", signs}, {"alive", alive.value_or(0)}, {"rooted", rootable}};
    for (const auto& [field, number] : parts) {
      if (auto error = more_than(field, number, "of", *of)) return error;
    }
  }
  if (alive) {
    if (auto error = more_than("green", signs, "alive", *alive)) return error;
    if (auto error = more_than("rooted", rootable, "alive", *alive)) return error;
  }
  return std::nullopt;
}

std::optional<Error> Struck::disagreement() const {
  const int parts = rejected + broken + struck + left_waiting;
  if (offered) {
    if (auto error = more_than("struck", parts, "offered", *offered)) return error;
  }
  if (start && end && end->ms < start->ms) {
    return Error{.problem = "found " + to_iso(*end), .allowed = "not before the start", .field = "end"};
  }
  return std::nullopt;
}

std::optional<Error> Graded::disagreement() const { return more_than("fit", fit, "of", of); }

std::optional<Error> Measured::disagreement() const {
  if (air_temperature_c || medium_temperature_c || humidity_pct || light_umol_m2_s) return std::nullopt;
  return missing("air_temperature_c", "something that was measured");
}

std::optional<Error> PhotoAttached::disagreement() const {
  const bool digits =
      std::ranges::all_of(sha256, [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); });
  if (digits) return std::nullopt;
  return Error{.problem = fmt::format("found \"{}\"", sha256),
               .allowed = "64 digits of base 16, small letters",
               .field = "sha256"};
}

}  // namespace strikebed::daybook
