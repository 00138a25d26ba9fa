#pragma once
// A question as the page asks it: one JSON object whose keys are the fields of a request of nursery. docs/browser.md
#include <cstddef>
#include <cstdint>
#include <map>
#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/date.hpp"
#include "base/field_names.hpp"
#include "base/result.hpp"
#include "nursery/library.hpp"
#include "nursery/mixes/word_fields.hpp"

namespace strikebed::browser {

inline constexpr std::size_t kLargestRequest = std::size_t{128}
                                               << 20;  ///< bytes: eight times 30 years of hourly weather

using TextsByName = std::map<std::string, std::string, std::less<>>;  ///< null in JSON takes a text away

/// Where the value of a key goes.
using FieldTarget =
    std::variant<std::string*, std::vector<std::string>*, bool*, Date*, std::optional<int>*, std::optional<double>*,
                 std::vector<double>*, std::uint64_t*, nursery::Text*, std::optional<nursery::Text>*, TextsByName*>;
struct Field {
  std::string name;
  FieldTarget into;  ///< a day and a text with a name must be given, all else may be left out
  double low = 0;    ///< of numbers
  double high = 0;
};
using Fields = std::vector<Field>;
[[nodiscard]] Fields fields_of(const nursery::WordFields& words);

/// What the answer shall be.
enum class As { json, words, page };

class Request {
 public:
  /// Errors: larger than kLargestRequest, not JSON, not an object.
  [[nodiscard]] static Result<Request> parse(std::string_view text);

  /// Fills the fields, and what any request may have beside them; what was left out stays as it is. Errors: a key that
  /// is none of these, a value of the wrong kind or out of range, one that must be given and is not; all of them at
  /// once, each with its field.
  ///   kept  files that a field may name instead of bringing their text
  [[nodiscard]] std::optional<Error> read(Fields fields, const TextsByName& kept);

  /// Whether the other one differs in the form of its answer at most.
  [[nodiscard]] bool asks_the_same(const Request& other) const;

  // After read():
  [[nodiscard]] As as() const { return as_; }  ///< "as"
  [[nodiscard]] FieldNames names() const;      ///< "names": what the page's controls are called, by field

 private:
  explicit Request(std::shared_ptr<const nlohmann::ordered_json> json);
  std::shared_ptr<const nlohmann::ordered_json> json_;
  As as_ = As::json;
  TextsByName names_;
};

}  // namespace strikebed::browser
