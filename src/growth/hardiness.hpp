#pragma once
// How dark days, standing still and frost tell on seeds, seedlings and cuttings: small formulas of a species.
namespace strikebed::growth {

/// Growth of unlit seedlings on a day, as a part of that in full light: 0 on days of `standstill_h` or less, 1 from
/// `full_h` on, a straight line between. With `full_h` at or below `standstill_h` a step at `full_h`.
[[nodiscard]] double light_response(double day_length_h, double standstill_h, double full_h);

/// The part of a day on which a stage stood still, from the warmth that the day brought it: 1 without any, 0 from
/// 1 degC d on.
[[nodiscard]] constexpr float idle_part(float gained_c_d) { return gained_c_d < 1 ? 1 - gained_c_d : 0; }

/// Loss of a share in a week of standing still, as a hazard a day: -ln(1 - share) / 7. 0 <= share < 1
[[nodiscard]] double idle_hazard(double share_a_week);

/// Over so many degrees of frost the hazard of a night doubles. Emerging pines came through -5 degC with little injury
/// and died in numbers at -8 to -9 (thesis of Berntsen, Oregon State; other species): 4 % and 50 % are so far apart.
inline constexpr double kFrostDoubling_c = 0.7;

/// The hazard of a night is frost_scale(half_c) * frost_dose(lowest_c): half of the plants live through a night of
/// half_c; nights above freezing do no harm, and a half_c that is off by some degrees is a factor.
[[nodiscard]] double frost_dose(double lowest_c);     ///< 2^(-lowest / kFrostDoubling_c) below 0 degC, else 0
[[nodiscard]] double log_frost_scale(double half_c);  ///< ln(ln 2 * 2^(half / kFrostDoubling_c))

}  // namespace strikebed::growth
