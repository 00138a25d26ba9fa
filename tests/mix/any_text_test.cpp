// Whatever is typed, each reader answers or refuses with a message; nothing crashes, nothing that is not finite comes
// out.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <random>
#include <string>

#include "mix/auxin.hpp"
#include "mix/disinfectant.hpp"
#include "mix/drops.hpp"
#include "mix/instrument.hpp"
#include "mix/ratio.hpp"

namespace strikebed::mix {
namespace {

/// Pieces that make up real words, and some that do not, strung together.
std::string any_text(std::mt19937& random) {
  constexpr std::array<const char*, 40> kPieces = {"1",        "0",
                                                   "-",        "+-",
                                                   "±",        ".",
                                                   "1/2",      " ",
                                                   "%",        " w/v",
                                                   "ppm",      " IBA",
                                                   "K-IBA",    " NAA",
                                                   "+",        " mL",
                                                   "mM",       "tbsp",
                                                   "-metric",  "drops",
                                                   "=",        "1 in",
                                                   " plus ",   ":",
                                                   "10",       "talc",
                                                   "powder",   "ethanol",
                                                   "70 ",      "bleach",
                                                   "chlorine", "syringe",
                                                   "scale",    "99999999999999999999",
                                                   "e5",       "\xff",
                                                   "\n",       ",",
                                                   "total",    "/"};
  std::string text;
  for (int pieces = std::uniform_int_distribution<int>(0, 7)(random); pieces > 0; --pieces)
    text += kPieces[std::uniform_int_distribution<std::size_t>(0, kPieces.size() - 1)(random)];
  return text;
}

template <class T>
void answered_or_refused(const Result<T>& result, const std::string& text) {
  EXPECT_TRUE(result.ok() || !result.error().problem.empty()) << text;
}

TEST(AnyText, IsAnsweredOrRefused) {
  std::mt19937 random(1);  // the same texts every time
  const Stock both = *parse_stock("1 % IBA + 0.5 % NAA", {}, "");
  int read = 0;
  for (int i = 0; i < 20000; ++i) {
    const std::string text = any_text(random);
    const auto amount = parse_amount(text, "");
    answered_or_refused(amount, text);
    if (amount.ok()) {
      ++read;
      EXPECT_TRUE(std::isfinite(amount->base())) << text;
      EXPECT_TRUE(parse_amount(to_text(*amount), "").ok()) << text << " -> " << to_text(*amount);
    }
    const auto stock = parse_stock(text, {}, "");
    answered_or_refused(stock, text);
    if (stock.ok()) {
      for (const Ingredient& i2 : stock->ingredients) EXPECT_GT(i2.mmol.value, 0) << text;
    }
    answered_or_refused(parse_auxin_target(text, both, i % 2 == 0, ""), text);
    answered_or_refused(parse_solvent(text, ""), text);
    answered_or_refused(parse_agent(text, ""), text);
    answered_or_refused(parse_calibration(text, ""), text);
    answered_or_refused(parse_instrument(text, ""), text);
    answered_or_refused(parse_ratio(text, ""), text);
  }
  EXPECT_GT(read, 100);  // the pieces do make words
}

}  // namespace
}  // namespace strikebed::mix
