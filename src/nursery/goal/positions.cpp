// Where the seedbed and the bench stand.
#include <array>

#include "nursery/goal/reading.hpp"

namespace strikebed::nursery {
namespace {

constexpr std::array<std::string_view, 2> kAirs{"outdoor", "fixed"};
constexpr shelter::Position kUsualBench{.offset_c = 2, .at_least_c = 3, .fixed_c = std::nullopt};

shelter::Position read_position(const TomlTable& table) {
  const NumberRange temperature{.low = -10, .high = 45, .of_what = "°C"};
  const NumberRange difference{.low = -20, .high = 30, .of_what = "°C warmer than outdoors"};
  const auto air = table.one_of("air", kAirs);
  const bool fixed = table.has("fixed");
  const bool follows = table.has_any({"offset", "at_least"});
  const shelter::Position position{.offset_c = table.number("offset", difference).value_or(0),
                                   .at_least_c = table.number("at_least", temperature),
                                   .fixed_c = table.number("fixed", temperature)};
  if (air == "fixed") table.needs("fixed", temperature.in_words());
  if (air == "outdoor" && fixed)
    table.fail("fixed", "found with air = \"outdoor\"", "air = \"fixed\", or offset and at_least");
  if (fixed && follows) table.fail("fixed", "found beside offset or at_least", "fixed alone, or offset and at_least");
  return position;
}

}  // namespace

void read_positions(Reading& reading) {
  season::Goal& goal = reading.goal();
  if (const auto table = reading.root.table("seedbed")) {
    goal.seedbed = read_position(*table);
    goal.seedbed_lit = table->yes_no("lit").value_or(false);
  } else {
    reading.assume("Seedbed in outdoor air, unheated and unlit: [seedbed] is left out.");
  }
  if (const auto table = reading.root.table("bench")) {
    goal.bench = read_position(*table);
  } else {
    goal.bench = kUsualBench;
    reading.assume(
        "Bench in a closed, shaded frame, 2 °C warmer than outdoors and never below 3 °C: [bench] is left out.");
  }
}

}  // namespace strikebed::nursery
