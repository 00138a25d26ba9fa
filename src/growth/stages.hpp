#pragma once
// The timing of a seedling's stages: small formulas of a species, each used by the season and by the daybook's reading.
namespace strikebed::growth {

/// How much slower and more scattered germination is after `chill_days` in the cold than after full chilling.
/// Falls from `unchilled_factor` to 1 at full chilling along exp(-3 chill / full), and stays 1. Species that need no
/// chilling (full_days == 0): 1.
///   chill_days >= 0, full_days >= 0, unchilled_factor >= 1
/// Source: shape from Weber & Sorensen 1990, USDA PNW-RP-429 (speed and uniformity rise with chilling, less and less).
[[nodiscard]] double chilling_factor(double chill_days, double full_days, double unchilled_factor);

/// Logarithm of the odds of take relative to the middle of the window, at `position` in it: 0 the start, 1 the end;
/// outside, greener or stiffer, it falls on. edge_log_odds (2 position - 1)^2.
///   edge_log_odds  ln of the odds at the edges relative to the middle, <= 0
template <class Real>
[[nodiscard]] constexpr Real take_log_odds(Real position, Real edge_log_odds) {
  const Real off = 2 * position - 1;
  return edge_log_odds * off * off;
}

/// The share of all standing losses that have happened by an age from emergence: 1 - 2^(-age / half_age).
///   age_days >= 0, half_age_days > 0. Source of shape: damping-off is a matter of the first 4-6 weeks
///   (Cram 2003, Tree Planters' Notes 50(1):9).
[[nodiscard]] double losses_by_age(double age_days, double half_age_days);

}  // namespace strikebed::growth
