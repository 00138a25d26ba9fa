#pragma once
// Where the sun is, how long the day is, and how much light it can bring.

namespace strikebed::climate {

/// Length of the day, h, upper limb on a horizon with 34' of refraction; 0 in polar night, 24 under the midnight sun.
///   latitude_deg  -90...90 (south negative);  day_of_year  1-366
/// Accuracy: within 4 minutes of the almanac below 60 degrees of latitude (no year in it).
/// Source: Forsythe et al. 1995, Ecological Modelling 80:87-95 (CBM), p = 0.8333 degrees.
[[nodiscard]] double day_length_h(double latitude_deg, int day_of_year);

}  // namespace strikebed::climate
