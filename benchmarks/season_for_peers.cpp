// Writes the example season for the numpy and R peers, so that all solve one problem: season.txt, a line for each thing
// (name, then values), and the three cumulative thermal sums as single-precision matrices [weather season][day]. Prints
// how sure Strikebed itself is.
#include <fmt/core.h>
#include <fmt/ranges.h>

#include <fstream>
#include <stdexcept>
#include <string>

#include "evidence/beta.hpp"
#include "example_season.hpp"
#include "season/model.hpp"

namespace {

using namespace strikebed;

constexpr int kSeeds[] = {1000, 450};  // the first is timed; about 450 are just enough

void write_text(const std::string& path, const std::string& text) {
  std::ofstream file(path, std::ios::binary);
  file << text;
  if (!file.flush()) throw std::runtime_error("cannot write " + path);
}

void write_sums(const std::string& path, const season::ThermalSums& sums, const season::ThermalSum& sum) {
  std::ofstream file(path, std::ios::binary);
  for (int s = 0; s < sums.seasons; ++s) {
    file.write(reinterpret_cast<const char*>(sum.season(s)),
               static_cast<std::streamsize>(sizeof(float) * (static_cast<std::size_t>(sums.days) + 1)));
  }
  if (!file.flush()) throw std::runtime_error("cannot write " + path);
}

/// "take beta 3.1 1.9 0.5" or "usable known 0.88 0 0.5": the last is the batch spread on the logit scale.
std::string rate_line(std::string_view name, const RateBelief& belief) {
  const double spread = belief.batch_spread.value_or(0);
  if (const auto* known = std::get_if<Known>(&belief.belief)) {
    return fmt::format("{} known {} 0 {}\n", name, known->share, spread);
  }
  const evidence::Beta beta = evidence::beta_of(belief).value();
  return fmt::format("{} beta {} {} {}\n", name, beta.a, beta.b, spread);
}

std::string timing_line(const char* name, const season::ChainTiming& timing) {
  return fmt::format("{} {} {}\n", name, timing.log_median, timing.log_sd);
}

std::string season_text(const benchmarks::ExampleSeason& e) {
  std::string text =
      fmt::format("futures {}\nweather_seasons {}\ndays {}\nsow_day {}\nsession_days {}\n", e.futures.count(),
                  e.sums().seasons, e.sums().days, e.sow_day, fmt::join(e.setting.sessions.day, " "));
  text += fmt::format("by_day {}\nwanted {}\nseeds {}\ncuttings_at_most {}\n", (e.goal.by - e.sums().first).count(),
                      e.goal.wants[0].count, fmt::join(kSeeds, " "), e.goal.sessions.cuttings_at_most.value());
  for (const growth::RungRow& row : growth::kRungs) {
    if (e.goal.reaches(row.rung)) text += rate_line(row.name, belief_of(e.goal, row.rung, 0));
  }
  text += timing_line("germination_time", e.chain().germination_time) +
          timing_line("germination_spread", e.chain().germination_spread) +
          timing_line("cover_time", e.chain().cover_time) + timing_line("ripening_time", e.chain().ripening_time) +
          timing_line("ripening_spread", e.chain().ripening_spread) + timing_line("window_end", e.chain().window_end) +
          timing_line("edge_odds", e.chain().edge_odds) + timing_line("rooting_time", e.chain().rooting_time) +
          timing_line("rooting_spread", e.chain().rooting_spread) + timing_line("weaning_days", e.chain().weaning_days);
  return text;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    fmt::print(stderr, "usage: season_for_peers FOLDER\n");
    return 2;
  }
  const std::string folder = argv[1];
  const benchmarks::ExampleSeason& e = benchmarks::example_season();
  write_text(folder + "/season.txt", season_text(e));
  write_sums(folder + "/germination.f32", e.sums(), e.sums().germination);
  write_sums(folder + "/ripening.f32", e.sums(), e.sums().ripening);
  write_sums(folder + "/rooting.f32", e.sums(), e.sums().rooting);

  const season::Model model(e.setting, e.futures, Workers{});
  std::vector<season::Sowing> sowings{model.sowing(e.sow_day)};
  const double all[] = {1.0};
  for (const int seeds : kSeeds) {
    fmt::print("assurance_{} {:.4f}\n", seeds, model.assurance(sowings, seeds, all, season::Precision::exact).chance);
  }
}
