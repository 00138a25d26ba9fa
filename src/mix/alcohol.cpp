#include "mix/alcohol.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <numeric>
#include <span>

#include "base/nearest.hpp"
#include "mix/amounts.hpp"

namespace strikebed::mix {
namespace {

constexpr double kIsopropylDensity_g_ml = 0.7855;  // 20 °C, from memory

constexpr std::array<double, 12> kOiml = {998.20123,   -192.9769495, 389.1238958, -1668.103923,
                                          13522.15441, -88292.78388, 306287.4042, -613838.1234,
                                          747017.2998, -547846.1354, 223446.0334, -39032.85426};

constexpr std::array<double, 14> kMassPct = {0, 5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 100};
constexpr std::array<double, 14> kEthanolTension = {72.75, 56.41, 48.14, 42.72, 38.56, 36.09, 33.53,
                                                    30.69, 28.51, 26.72, 25.48, 24.32, 23.23, 22.31};
constexpr std::array<double, 14> kIsopropylTension = {72.01, 49.58, 40.42, 34.63, 30.57, 28.28, 26.82,
                                                      25.27, 24.26, 23.51, 22.68, 22.14, 21.69, 21.22};

double between_points(std::span<const double> x, std::span<const double> y, double at) {
  const auto above = std::upper_bound(x.begin() + 1, x.end() - 1, at);
  const auto i = static_cast<std::size_t>(above - x.begin());
  return y[i - 1] + (y[i] - y[i - 1]) * (at - x[i - 1]) / (x[i] - x[i - 1]);
}

double mass_share(Alcohol alcohol, double volume_pct) {
  if (alcohol == Alcohol::ethanol) return ethanol_mass_share(volume_pct);
  const double alcohol_g = volume_pct * kIsopropylDensity_g_ml;
  return alcohol_g / (alcohol_g + (100 - volume_pct) * kWaterDensity_g_ml);
}

}  // namespace

double ethanol_density_g_ml(double mass_share) {
  const auto horner = [&](double sum, double coefficient) { return sum * mass_share + coefficient; };
  return std::accumulate(kOiml.rbegin(), kOiml.rend(), 0.0, horner) / 1000;
}

double ethanol_volume_pct(double mass_share) {
  return 100 * mass_share * ethanol_density_g_ml(mass_share) / ethanol_density_g_ml(1);
}

double ethanol_mass_share(double volume_pct) {
  // The share by volume rises all the way with the share by mass: halve the interval to the last digit.
  double low = 0;
  double high = 1;
  for (int i = 0; i < 60; ++i) {
    const double middle = (low + high) / 2;
    (ethanol_volume_pct(middle) < volume_pct ? low : high) = middle;
  }
  return (low + high) / 2;
}

Result<Solvent> parse_solvent(std::string_view text, std::string_view field) {
  using Kind = Solvent::Kind;
  constexpr std::array<std::string_view, 8> kNames = {"water",   "alcohol",     "ethanol",           "isopropyl",
                                                      "spirits", "isopropanol", "isopropyl-alcohol", "ethyl-alcohol"};
  constexpr std::array<Kind, 8> kKinds = {Kind::water,   Kind::alcohol,   Kind::ethanol,   Kind::isopropyl,
                                          Kind::alcohol, Kind::isopropyl, Kind::isopropyl, Kind::ethanol};
  const std::size_t letters = static_cast<std::size_t>(
      std::find_if(text.begin(), text.end(), [](unsigned char c) { return std::isalpha(c) != 0; }) - text.begin());
  // "50 % v/v ethanol": the name is what stands behind the per cent sign and its v/v.
  std::size_t start = letters;
  const std::size_t percent = text.find('%');
  if (percent != std::string_view::npos) {
    start = percent + 1;
    while (start < text.size() && text[start] == ' ') ++start;
    if (text.substr(start).starts_with("v/v")) start += 3;
  }
  std::string name;
  for (const char c : text.substr(std::min(start, text.size()))) {
    if (c == ' ' && (name.empty() || name.back() == '-')) continue;
    name += c == ' ' ? '-' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  }
  while (!name.empty() && name.back() == '-') name.pop_back();
  const auto found = std::find(kNames.begin(), kNames.end(), name);
  if (found == kNames.end()) {
    const auto nearest = nearest_word(name, kNames);
    return Error{.problem = fmt::format("the solvent \"{}\" is not known{}", text,
                                        nearest ? fmt::format("; did you mean {}?", *nearest) : std::string()),
                 .allowed = "water, alcohol, ethanol or isopropyl, each alcohol with its share if known: 50 % ethanol",
                 .field = std::string(field)};
  }
  Solvent solvent;
  solvent.kind = kKinds[static_cast<std::size_t>(found - kNames.begin())];
  if (solvent.kind == Kind::water) {
    if (percent == std::string_view::npos) return solvent;
    return Error{.problem = fmt::format("\"{}\" gives a share of water", text),
                 .allowed = "the share of alcohol, such as 50 % ethanol, or water alone",
                 .field = std::string(field)};
  }
  if (percent == std::string_view::npos) {
    solvent.low_pct = kAlcoholRich_pct;
    solvent.high_pct = 100;
    return solvent;
  }
  const auto share = parse_positive(std::string(text.substr(0, percent)) + "% v/v", Dimension::share_by_volume, field);
  if (!share) return share.error();
  if (*share > 100) {
    return Error{.problem = fmt::format("\"{}\" is more than all of it", text),
                 .allowed = "up to 100 %",
                 .field = std::string(field)};
  }
  solvent.low_pct = solvent.high_pct = *share;
  return solvent;
}

std::string solvent_words(const Solvent& solvent) {
  std::string name;
  switch (solvent.kind) {
    case Solvent::Kind::unknown:
      return "a solvent not stated";
    case Solvent::Kind::water:
      return "water";
    case Solvent::Kind::alcohol:
      name = "alcohol";
      break;
    case Solvent::Kind::ethanol:
      name = "ethanol";
      break;
    case Solvent::Kind::isopropyl:
      name = "isopropyl alcohol";
      break;
  }
  if (solvent.share_is_known()) return fmt::format("{:g} % {}", solvent.low_pct, name);
  return fmt::format("{} ({:.0f} to {:.0f} %)", name, solvent.low_pct, solvent.high_pct);
}

double solvent_density_g_ml(Alcohol alcohol, double volume_pct) {
  if (alcohol == Alcohol::ethanol) return ethanol_density_g_ml(ethanol_mass_share(volume_pct));
  return (volume_pct * kIsopropylDensity_g_ml + (100 - volume_pct) * kWaterDensity_g_ml) / 100;
}

double surface_tension_mn_m(Alcohol alcohol, double volume_pct) {
  const auto& tension = alcohol == Alcohol::ethanol ? kEthanolTension : kIsopropylTension;
  return between_points(kMassPct, tension, 100 * mass_share(alcohol, volume_pct));
}

}  // namespace strikebed::mix
