// What things cost, and what the grower has to make the rooting solution from.
#include <fmt/format.h>

#include <algorithm>

#include "nursery/goal/reading.hpp"
#include "nursery/profiles/method_mixes.hpp"
#include "print/solution_words.hpp"

namespace strikebed::nursery {

namespace {

using season::Want;

/// The goal's own key for a field of the solution; the others are the method's.
std::string key_of(std::string_view field) {
  return field == "stock" ? "[solution] from" : field == "solvent" ? "[solution] solvent" : "";
}

}  // namespace

void read_prices(Reading& reading) {
  const auto table = reading.root.table("prices");
  if (!table) return;
  const NumberRange price{.low = 0, .high = 1'000'000, .of_what = "any currency"};
  season::Prices& prices = reading.goal().prices;
  prices.seed_per_gram = table->number("seed_per_gram", price);
  prices.container = table->number("container", price);
  prices.medium_per_litre = table->number("medium_per_litre", price);
  prices.sand_per_litre = table->number("sand_per_litre", price);
  prices.solution_per_litre = table->number("solution_per_litre", price);
  prices.hour = table->number("hour", price);
}

void read_solution(Reading& reading) {
  const auto table = reading.root.table("solution");
  if (!table) return;
  table->needs("from", R"(a stock such as "1 % IBA + 0.5 % NAA" or "K-IBA powder")");
  const auto from = table->text("from");
  const auto solvent_words = table->text("solvent");
  const auto refuse = [&](const char* key, const Error& error) { table->fail(key, error.problem, error.allowed); };
  mix::Solvent solvent;
  if (solvent_words) {
    const auto read = mix::parse_solvent(*solvent_words, "");
    if (!read) return refuse("solvent", read.error());
    solvent = *read;
  }
  if (!from) return;
  const auto stock = mix::parse_stock(*from, solvent, "");
  if (!stock) return refuse("from", stock.error());
  for (Want& want : reading.goal().wants) {
    want.dip = filling_of(want.method, *stock);
    const auto mixed = mix::mix_solution(*want.dip);
    if (!mixed) {
      table->fail("from", fmt::format("found \"{}\", but {}", *from, mixed.error().problem),
                  fmt::format("a liquid or powder stronger than the {:.4g} ppm of the method \"{}\"",
                              want.method.auxin_ppm.typical(), want.method.id));
      return;
    }
    for (const std::string& remark : print::remark_sentences(*want.dip, *mixed, key_of)) {
      std::string told = fmt::format("Rooting solution, {:.4g} ppm: {}", want.method.auxin_ppm.typical(), remark);
      std::vector<std::string>& remarks = reading.file.remarks;
      if (std::ranges::find(remarks, told) == remarks.end()) remarks.push_back(std::move(told));
    }
  }
}

}  // namespace strikebed::nursery
