// docs/daybook-format.md says what the field lists say: its grammar is this one, letter by letter, and each kind has a
// row that explains it. Where they differ, the grammar that belongs there is in the message.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#include "daybook/entry_json.hpp"
#include "daybook/fold.hpp"
#include "daybook/read_fields.hpp"
#include "daybook/write_fields.hpp"
#include "tests/daybook/making.hpp"
#include "tests/file_text.hpp"

namespace strikebed::daybook {
namespace {

std::string range(const Field& field) { return fmt::format("{}..{}", shortest(field.low), shortest(field.high)); }

std::string_view name_of(Refers refers) {
  switch (refers) {
    case Refers::any:
      return "entry";
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
  }
  return "";
}

/// A struct as a line for each field.
struct Grammar {
  std::string indent;
  std::string text;

  static std::string type(const Field& field, const int&) { return "whole " + range(field); }
  static std::string type(const Field& field, const double&) { return "number " + range(field); }
  static std::string type(const Field& field, const std::string&) {
    return field.low == field.high ? "text of " + shortest(field.low) : "text 1.." + shortest(field.high);
  }
  static std::string type(const Field&, const bool&) { return "yes"; }
  static std::string type(const Field& field, const EntryId&) { return fmt::format("id of {}", name_of(field.refers)); }
  static std::string type(const Field&, const Moment&) { return "moment"; }
  static std::string type(const Field&, const Date&) { return "day"; }
  template <class Word>
    requires std::is_enum_v<Word>
  static std::string type(const Field&, const Word&) {
    return fmt::format("\"{}\"", fmt::join(names_of(Word{}), "\" | \""));
  }
  template <class T>
  static std::string type(const Field& field, const std::optional<T>&) {
    return type(field, T{});
  }

  template <class T>
  void operator()(const Field& field, const T& value) {
    constexpr bool kIsOptional = requires { value.has_value(); };
    const bool may_lack = kIsOptional || may_be_left_out<T>(field);
    text += fmt::format("{}\"{}\"{} ", indent, field.name, may_lack ? "?" : "");
    if constexpr (kIsList<T>) {
      Grammar inner{indent + "  ", ""};
      typename T::value_type item{};
      T::value_type::fields(item, inner);
      text += fmt::format("list 1..{} of {{\n{}{}}}\n", shortest(field.high), inner.text, indent);
    } else {
      text += type(field, value) + "\n";
    }
  }
};

std::string grammar() {
  std::string all;
  each_kind([&]<class B>() {
    B body{};
    Grammar fields{"  ", ""};
    B::fields(body, fields);
    const std::string_view about = B::kAbout == About::batch         ? " (of a batch)"
                                   : B::kAbout == About::maybe_batch ? " (of a batch or not)"
                                                                     : "";
    all += fmt::format("{}{} = {{\n{}}}\n", B::kKind, about, fields.text);
  });
  return all;
}

TEST(FormatDoc, ItsGrammarIsThatOfTheFieldLists) {
  const std::string document = file_text(SOURCE_DIR "/docs/daybook-format.md");
  const std::string expected = "```\n" + grammar() + "```\n";
  EXPECT_NE(document.find(expected), std::string::npos) << expected;
}

TEST(FormatDoc, ExplainsEveryKind) {
  const std::string document = file_text(SOURCE_DIR "/docs/daybook-format.md");
  each_kind([&]<class B>() {
    EXPECT_NE(document.find(fmt::format("\n| `{}` | ", B::kKind)), std::string::npos) << B::kKind;
  });
}

TEST(FormatDoc, ItsExampleIsAnEntry) {
  const std::string document = file_text(SOURCE_DIR "/docs/daybook-format.md");
  const std::size_t begin = document.find("\n{\"v\":1");
  ASSERT_NE(begin, std::string::npos);
  const std::string line = document.substr(begin + 1, document.find('\n', begin + 1) - begin - 1);
  const auto read = read_entry(line);
  ASSERT_TRUE(read) << read.error().message();
  EXPECT_EQ(entry_json(*read), line);
}

// What the first version wrote must be read for ever, and mean the same. The file is never made anew.
TEST(FormatDoc, TheFirstDaybookIsReadForEver) {
  const std::string text = file_text(SOURCE_DIR "/tests/daybook/fixtures/first.jsonl");
  Fold fold;
  std::set<std::string_view> kinds;
  std::size_t lines = 0;
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = text.find('\n', begin);
    ASSERT_NE(end, std::string::npos);
    const std::string line = text.substr(begin, end - begin);
    const auto read = read_entry(line);
    ASSERT_TRUE(read) << line << "\n" << read.error().message();
    EXPECT_EQ(entry_json(*read), line);
    kinds.insert(kind_of(read->body));
    fold.add(*read);
    begin = end + 1;
    ++lines;
  }
  EXPECT_EQ(lines, 39U);
  EXPECT_EQ(kinds.size(), 28U);  // all of the first version, and one of a later version, unread
  EXPECT_EQ(fold.unread().size(), 1U);
  EXPECT_TRUE(fold.contradictions().empty());
  std::map<std::string, std::pair<std::optional<Plants>, Plants>> left_and_unaccounted;
  for (const auto& [id, batch] : fold.state().batches) {
    left_and_unaccounted[batch.code] = {batch.left, batch.unaccounted};
  }
  EXPECT_EQ(left_and_unaccounted,
            (decltype(left_and_unaccounted){{"4922T", {115, 3}}, {"4923M", {4, 1}}, {"4924H", {7, 0}}}));
  std::map<std::string, std::optional<double>> volumes;
  for (const auto& [id, stock] : fold.state().stocks) volumes[stock.name] = stock.volume_ml.left;
  EXPECT_EQ(volumes.at("auxin concentrate"), 40.5);
  EXPECT_EQ(volumes.at("grit 3-4 mm"), 8000);
  EXPECT_EQ(volumes.at("cutting mix"), 12'600);
}

}  // namespace
}  // namespace strikebed::daybook
