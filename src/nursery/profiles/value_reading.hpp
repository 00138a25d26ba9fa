#pragma once
// The numbers of profiles (species, methods, materials, feeding): a value with its range, unit, source and trust.
#include <optional>
#include <string>
#include <string_view>

#include "base/profile_value.hpp"
#include "nursery/toml_file.hpp"

namespace strikebed::nursery {

/// How strictly a file is read: a shipped profile says everything, the grower's own what it likes.
struct Strictness {
  bool complete;
  std::string own_source;  ///< of values that do not say
};

struct Provenance {
  std::string source;
  Trust trust = Trust::C;
};
/// `source` and `trust` of a table. Values of the grower's own that do not say are of trust B.
[[nodiscard]] Provenance read_provenance(const TomlTable& table, const Strictness& strict);

/// `unit` may be written, and is then the only one known; a shipped profile must write it.
void read_unit(const TomlTable& table, std::string_view unit, const Strictness& strict);

/// `counted`: how many of the grower's own a value was learnt from; 0 where it is not written.
[[nodiscard]] int read_counted(const TomlTable& table, const Strictness& strict);

/// A number with its range: nothing when the key is not there or makes no sense (then an error is noted). In a file of
/// the grower's own it may be a bare number, which is meant exactly as it stands.
[[nodiscard]] std::optional<ProfileValue> read_value(const TomlTable& table, std::string_view key,
                                                     std::string_view unit, double least, double most,
                                                     const Strictness& strict);

}  // namespace strikebed::nursery
