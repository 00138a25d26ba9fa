#include "nursery/toml_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "base/nearest.hpp"

// The library is compiled in here, for two reasons. Its nesting bound is tightened: deeper values only occur in noise,
// and freeing a very deep tree would overrun the stack. And it asserts what a file can break (3.3 on "[[" alone on its
// line), where a release build would carry on with undefined behaviour: here a broken assertion is thrown, and caught
// below.
#undef TOML_HEADER_ONLY
#undef TOML_SHARED_LIB
#define TOML_HEADER_ONLY 1
#define TOML_MAX_NESTED_VALUES 16
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wconversion"
#pragma GCC diagnostic ignored "-Wshadow"
#ifndef __clang__
#pragma GCC diagnostic ignored "-Wterminate"
#endif
#include <toml++/impl/preprocessor.h>
namespace {
struct BrokenAssertion {};
}  // namespace
#undef TOML_ASSERT
#undef TOML_ASSERT_ASSUME
#define TOML_ASSERT(expr) ((expr) ? void() : throw BrokenAssertion())
#define TOML_ASSERT_ASSUME(expr) TOML_ASSERT(expr)
#include <toml++/toml.h>
#pragma GCC diagnostic pop

namespace strikebed::nursery {
namespace {

constexpr std::size_t kMostDotsInALine = 100;  // each dot of a key opens a table inside a table
constexpr std::size_t kLongestQuote = 60;      // characters of the input repeated in a message

/// Input repeated in a message: short, on one line, nothing unprintable.
std::string quoted(std::string_view text) {
  std::string shown;
  for (const char c : text.substr(0, kLongestQuote)) {
    const auto byte = static_cast<unsigned char>(c);
    shown += byte < 0x20 || byte == 0x7f ? '?' : c;
  }
  if (text.size() > kLongestQuote) {
    while (!shown.empty() && (static_cast<unsigned char>(shown.back()) & 0xC0) == 0x80) shown.pop_back();
    if (!shown.empty() && static_cast<unsigned char>(shown.back()) >= 0xC0) shown.pop_back();
    shown += "...";
  }
  return '"' + shown + '"';
}

std::string described(const toml::node& node) {
  if (const auto* text = node.as_string()) return quoted(text->get());
  if (const auto* whole = node.as_integer()) return fmt::format("{}", whole->get());
  if (const auto* number = node.as_floating_point()) return fmt::format("{}", number->get());
  if (const auto* flag = node.as_boolean()) return flag->get() ? "true" : "false";
  if (const auto* day = node.as_date()) {
    return fmt::format("the date {:04}-{:02}-{:02}", day->get().year, day->get().month, day->get().day);
  }
  if (node.is_time()) return "a time of day";
  if (node.is_date_time()) return "a date with a time";
  if (const auto* list = node.as_array()) return fmt::format("a list of {}", list->size());
  return "a table";
}

int line_of(const toml::node& node) { return static_cast<int>(node.source().begin.line); }

std::optional<double> as_number(const toml::node& node) {
  if (const auto* whole = node.as_integer()) return static_cast<double>(whole->get());
  if (const auto* number = node.as_floating_point(); number && std::isfinite(number->get())) return number->get();
  return std::nullopt;
}

constexpr std::string_view kAllowedText = "key = value lines under [table] headings (TOML 1.0)";
constexpr std::string_view kAllowedMonthDay = R"(a month and day such as "10-01")";
constexpr std::string_view kAllowedDay = R"(a date such as 2027-10-01, or a month and day such as "10-01")";

std::optional<WrittenDay> parse_month_day(std::string_view text) {
  const auto digit = [&](std::size_t i) { return text[i] >= '0' && text[i] <= '9'; };
  if (text.size() != 5 || text[2] != '-' || !digit(0) || !digit(1) || !digit(3) || !digit(4)) return std::nullopt;
  const int month = (text[0] - '0') * 10 + (text[1] - '0');
  const int day = (text[3] - '0') * 10 + (text[4] - '0');
  constexpr int kAnyLeapYear = 2000;
  if (month < 1 || month > 12 || day < 1 || day > days_in_month(kAnyLeapYear, month)) return std::nullopt;
  return WrittenDay{std::nullopt, month, day};
}

std::optional<WrittenDay> as_day(const toml::node& node) {
  std::optional<Date> date;
  if (const auto* written = node.as_date()) {
    const toml::date& d = written->get();
    date = parse_iso_date(fmt::format("{:04}-{:02}-{:02}", d.year, d.month, d.day));
  } else if (const auto* text = node.as_string()) {
    if (auto month_day = parse_month_day(text->get())) return month_day;
    date = parse_iso_date(text->get());
  }
  if (!date || year_of(*date) < 1900) return std::nullopt;
  return WrittenDay{year_of(*date), month_of(*date), day_of_month(*date)};
}

/// The library's description without its own names.
std::string in_plain_words(std::string_view description) {
  constexpr std::string_view kPreface = "Error while parsing ";
  constexpr std::string_view kSetting = " (TOML_MAX_NESTED_VALUES)";
  if (description.starts_with(kPreface)) description.remove_prefix(kPreface.size());
  if (description.ends_with(kSetting)) description.remove_suffix(kSetting.size());
  return std::string(description);
}

/// The line on which the parser breaks off without saying where: the last of the shortest run of lines that breaks it.
int line_that_breaks(std::string_view text) {
  std::vector<std::size_t> ends;  // of each line
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\n' || i + 1 == text.size()) ends.push_back(i + 1);
  }
  const auto holds = [&](std::size_t end) {
    try {
      (void)toml::parse(text.substr(0, end));
    } catch (const BrokenAssertion&) {
      return false;
    } catch (const std::exception&) {
      return true;
    }
    return true;
  };
  return static_cast<int>(std::partition_point(ends.begin(), ends.end(), holds) - ends.begin()) + 1;
}

/// An Error when the text is not even worth parsing.
std::optional<Error> unfit(std::string_view text, const std::string& name) {
  if (text.size() > kLargestTomlFile) {
    return Error{.problem = "the file is too large", .allowed = "at most 1 MB of TOML text", .file = name};
  }
  int line = 1;
  std::size_t dots = 0;
  for (const char c : text) {
    if (c == '\n') {
      ++line;
      dots = 0;
    }
    if (c == '\0') {
      return Error{.problem = "a zero byte: this is not a text file",
                   .allowed = "TOML text in UTF-8",
                   .file = name,
                   .line = line};
    }
    if (c == '.' && ++dots > kMostDotsInALine) {
      return Error{.problem = fmt::format("more than {} dots in one line", kMostDotsInALine),
                   .allowed = "keys nested a few tables deep",
                   .file = name,
                   .line = line};
    }
  }
  return std::nullopt;
}

}  // namespace

Date WrittenDay::in_year(int other_year) const { return make_date(other_year, month, day); }

Date WrittenDay::on_or_after(Date from) const {
  if (year) return in_year(*year);
  const Date this_year = in_year(year_of(from));
  return this_year >= from ? this_year : in_year(year_of(from) + 1);
}

bool NumberRange::holds(double number) const {
  return (low_excluded ? number > low : number >= low) && (high_excluded ? number < high : number <= high);
}

std::string NumberRange::in_words() const {
  const std::string_view from = low_excluded ? "above" : "from";
  const std::string_view to =
      high_excluded ? (low_excluded ? "and below" : "to below") : (low_excluded ? "and at most" : "to");
  std::string words = fmt::format("a number {} {} {} {}", from, low, to, high);
  if (!of_what.empty()) words += " (" + of_what + ")";
  return words;
}

struct TomlTable::Held {
  std::string name;
  toml::table root;
  std::optional<Error> first_error;
  std::map<const toml::table*, std::set<std::string, std::less<>>> known;  // keys asked for, per table that was read
  std::map<const toml::table*, std::string> paths;
  std::vector<const toml::table*> read;  // in the order first asked

  void note(Error error) {
    if (!first_error) first_error = std::move(error);
  }
  const toml::node* ask(const toml::table* table, std::string_view key) {
    known[table].emplace(key);
    return table->get(key);
  }
};

namespace {

std::string joined(const std::string& path, std::string_view key) {
  if (path.empty()) return std::string(key);
  if (key.empty()) return path;
  return path + "." + std::string(key);
}

const toml::table* as_table(const void* node) { return static_cast<const toml::table*>(node); }

}  // namespace

TomlTable::TomlTable(std::shared_ptr<Held> held, const void* node, std::string path)
    : held_(std::move(held)), node_(node), path_(std::move(path)) {
  const toml::table* table = as_table(node_);
  if (held_->paths.emplace(table, path_).second) held_->read.push_back(table);
}

bool TomlTable::has(std::string_view key) const { return held_->ask(as_table(node_), key) != nullptr; }

bool TomlTable::has_any(std::initializer_list<std::string_view> keys) const {
  return std::count_if(keys.begin(), keys.end(), [&](std::string_view key) { return has(key); }) > 0;
}

bool TomlTable::has_all(std::initializer_list<std::string_view> keys) const {
  const auto held = std::count_if(keys.begin(), keys.end(), [&](std::string_view key) { return has(key); });
  return static_cast<std::size_t>(held) == keys.size();
}

bool TomlTable::is_table(std::string_view key) const {
  const toml::node* node = held_->ask(as_table(node_), key);
  return node && node->is_table();
}

bool TomlTable::is_text(std::string_view key) const {
  const toml::node* node = held_->ask(as_table(node_), key);
  return node && node->is_string();
}

void TomlTable::fail(std::string_view key, std::string problem, std::string allowed) const {
  const toml::table* table = as_table(node_);
  const toml::node* node = key.empty() ? nullptr : table->get(key);
  const int line = node ? line_of(*node) : path_.empty() ? 0 : line_of(*table);
  held_->note({.problem = std::move(problem),
               .allowed = std::move(allowed),
               .field = joined(path_, key),
               .file = held_->name,
               .line = line});
}

std::string TomlTable::found(std::string_view key) const {
  const toml::node* node = held_->ask(as_table(node_), key);
  return node ? described(*node) : "nothing";
}

bool TomlTable::needs(std::string_view key, std::string_view allowed) const {
  if (has(key)) return true;
  fail(key, "is missing", std::string(allowed));
  return false;
}

std::optional<std::string> TomlTable::text(std::string_view key, std::string_view allowed) const {
  const toml::node* node = held_->ask(as_table(node_), key);
  if (!node) return std::nullopt;
  const auto* text = node->as_string();
  if (text && !text->get().empty()) return text->get();
  fail(key, "found " + described(*node), std::string(allowed));
  return std::nullopt;
}

std::optional<std::string> TomlTable::one_of(std::string_view key, std::span<const std::string_view> words) const {
  const toml::node* node = held_->ask(as_table(node_), key);
  if (!node) return std::nullopt;
  const auto* text = node->as_string();
  if (text && std::find(words.begin(), words.end(), text->get()) != words.end()) return text->get();
  fail(key, "found " + described(*node) + (text ? did_you_mean(text->get(), words) : ""), listed(words));
  return std::nullopt;
}

std::optional<double> TomlTable::number(std::string_view key, const NumberRange& range) const {
  const toml::node* node = held_->ask(as_table(node_), key);
  if (!node) return std::nullopt;
  const std::optional<double> number = as_number(*node);
  if (number && range.holds(*number)) return number;
  fail(key, "found " + described(*node), range.in_words());
  return std::nullopt;
}

std::optional<int> TomlTable::whole(std::string_view key, int low, int high) const {
  const toml::node* node = held_->ask(as_table(node_), key);
  if (!node) return std::nullopt;
  const auto* whole = node->as_integer();
  if (whole && whole->get() >= low && whole->get() <= high) return static_cast<int>(whole->get());
  fail(key, "found " + described(*node), fmt::format("a whole number from {} to {}", low, high));
  return std::nullopt;
}

std::optional<bool> TomlTable::yes_no(std::string_view key) const {
  const toml::node* node = held_->ask(as_table(node_), key);
  if (!node) return std::nullopt;
  if (const auto* flag = node->as_boolean()) return flag->get();
  fail(key, "found " + described(*node), "true or false");
  return std::nullopt;
}

std::optional<WrittenDay> TomlTable::day(std::string_view key) const {
  const toml::node* node = held_->ask(as_table(node_), key);
  if (!node) return std::nullopt;
  if (auto day = as_day(*node)) return day;
  fail(key, "found " + described(*node), std::string(kAllowedDay));
  return std::nullopt;
}

std::optional<WrittenDay> TomlTable::month_day(std::string_view key) const {
  const toml::node* node = held_->ask(as_table(node_), key);
  if (!node) return std::nullopt;
  if (const auto* text = node->as_string()) {
    if (auto day = parse_month_day(text->get())) return day;
  }
  fail(key, "found " + described(*node), std::string(kAllowedMonthDay));
  return std::nullopt;
}

std::optional<std::vector<double>> TomlTable::numbers(std::string_view key, std::size_t how_many,
                                                      const NumberRange& range) const {
  const toml::node* node = held_->ask(as_table(node_), key);
  if (!node) return std::nullopt;
  const std::string allowed = fmt::format("a list of {} numbers, each {}", how_many, range.in_words());
  const toml::array* list = node->as_array();
  if (!list || list->size() != how_many) {
    fail(key, "found " + described(*node), allowed);
    return std::nullopt;
  }
  std::vector<double> numbers;
  for (const toml::node& item : *list) {
    const std::optional<double> number = as_number(item);
    if (!number || !range.holds(*number)) {
      fail(key, fmt::format("found {} as number {}", described(item), numbers.size() + 1), allowed);
      return std::nullopt;
    }
    numbers.push_back(*number);
  }
  return numbers;
}

std::optional<std::vector<std::string>> TomlTable::texts(std::string_view key) const {
  const toml::node* node = held_->ask(as_table(node_), key);
  if (!node) return std::nullopt;
  std::vector<std::string> texts;
  if (const toml::array* list = node->as_array()) {
    for (const toml::node& item : *list) {
      if (const auto* text = item.as_string()) texts.push_back(text->get());
    }
    if (!list->empty() && texts.size() == list->size()) return texts;
  }
  fail(key, "found " + described(*node), "a list of one or more texts");
  return std::nullopt;
}

std::optional<std::vector<WrittenDay>> TomlTable::days(std::string_view key) const {
  const toml::node* node = held_->ask(as_table(node_), key);
  if (!node) return std::nullopt;
  const std::string allowed = "a list of dates, each " + std::string(kAllowedDay);
  const toml::array* list = node->as_array();
  if (!list) {
    fail(key, "found " + described(*node), allowed);
    return std::nullopt;
  }
  std::vector<WrittenDay> days;
  for (const toml::node& item : *list) {
    const std::optional<WrittenDay> day = as_day(item);
    if (!day) {
      fail(key, "found " + described(item) + " in the list", allowed);
      return std::nullopt;
    }
    days.push_back(*day);
  }
  return days;
}

std::optional<TomlTable> TomlTable::table(std::string_view key) const {
  const toml::node* node = held_->ask(as_table(node_), key);
  if (!node) return std::nullopt;
  if (const toml::table* table = node->as_table()) return TomlTable(held_, table, joined(path_, key));
  fail(key, "found " + described(*node), fmt::format("a table, [{}]", joined(path_, key)));
  return std::nullopt;
}

std::vector<TomlTable> TomlTable::tables(std::string_view key) const {
  const toml::node* node = held_->ask(as_table(node_), key);
  if (!node) return {};
  std::vector<TomlTable> tables;
  if (const toml::array* list = node->as_array()) {
    for (const toml::node& item : *list) {
      if (!item.is_table()) break;
      tables.push_back(TomlTable(held_, item.as_table(), fmt::format("{}[{}]", joined(path_, key), tables.size() + 1)));
    }
    if (!list->empty() && tables.size() == list->size()) return tables;
  }
  fail(key, "found " + described(*node), fmt::format("one or more tables, each under [[{}]]", joined(path_, key)));
  return tables;
}

TomlFile::TomlFile(std::shared_ptr<TomlTable::Held> held) : held_(std::move(held)) {}

Result<TomlFile> TomlFile::parse(std::string_view text, std::string name) {
  if (auto error = unfit(text, name)) return *error;
  auto held = std::make_shared<TomlTable::Held>();
  held->name = name;
  try {
    held->root = toml::parse(text, name);
  } catch (const toml::parse_error& error) {
    return Error{.problem = "this is not TOML: " + in_plain_words(error.description()),
                 .allowed = std::string(kAllowedText),
                 .file = std::move(name),
                 .line = static_cast<int>(error.source().begin.line),
                 .column = static_cast<int>(error.source().begin.column)};
  } catch (const BrokenAssertion&) {
    return Error{.problem = "this is not TOML: a table heading or a key without a name",
                 .allowed = std::string(kAllowedText),
                 .file = std::move(name),
                 .line = line_that_breaks(text)};
  } catch (const std::exception& error) {
    return Error{.problem = std::string("the file cannot be read as TOML: ") + error.what(), .file = std::move(name)};
  }
  if (held->root.empty()) {
    return Error{.problem = "the file is empty", .allowed = std::string(kAllowedText), .file = std::move(name)};
  }
  return TomlFile(std::move(held));
}

TomlTable TomlFile::root() const { return {held_, &held_->root, ""}; }

std::optional<Error> TomlFile::finish() const {
  std::optional<Error> unknown;
  for (const toml::table* table : held_->read) {
    const auto& asked = held_->known[table];
    const std::vector<std::string_view> known(asked.begin(), asked.end());
    for (const auto& [key, node] : *table) {
      if (asked.contains(key.str())) continue;
      const int line = static_cast<int>(key.source().begin.line);
      if (unknown && unknown->line <= line) continue;
      const std::string shown = quoted(key.str());
      unknown = Error{.problem = "unknown key" + did_you_mean(key.str(), known),
                      .allowed = listed(known),
                      .field = joined(held_->paths[table], shown.substr(1, shown.size() - 2)),
                      .file = held_->name,
                      .line = line};
    }
  }
  return unknown ? unknown : held_->first_error;
}

std::string did_you_mean(std::string_view word, std::span<const std::string_view> known) {
  if (word.size() < 3) return "";  // any letter is near any other
  const std::optional<std::string> near = nearest_word(word, known);
  return near ? fmt::format(" (did you mean \"{}\"?)", *near) : "";
}

std::string listed(std::span<const std::string_view> words) {
  std::string list;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) list += i + 1 == words.size() ? " or " : ", ";
    list += fmt::format("\"{}\"", words[i]);
  }
  return list;
}

}  // namespace strikebed::nursery
