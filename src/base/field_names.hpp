#pragma once
// What the fields of a request are called where they are asked for. Engines speak of fields; each skin (the command
// line, the page) puts the names of its own controls to them, here and nowhere else.
#include <functional>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace strikebed {

/// A skin's name for a field of its request, "--made-up-to" for "made_up_to"; empty where it has no control for it.
using FieldNames = std::function<std::string(std::string_view field)>;

/// In plain words, for no skin in particular: "made up to".
[[nodiscard]] std::string plain_field_name(std::string_view field);
/// What a sentence calls a field; without any names in plain words. Nothing: the skin has no control for it.
[[nodiscard]] std::optional<std::string> field_name(const FieldNames& names, std::string_view field);

/// The error, and the others in it, as a skin says them. Its field is named where it is one of the request, that is,
/// where no file is named; and so is every field that `allowed` refers to between angle brackets:
///
///     "two of <target>, <dose> and a volume"  ->  "two of --target, --dose and a volume"
///
/// An alternative behind "; or " that refers to a field the skin has no control for is left out; elsewhere such a field
/// is named in plain words. What a grower typed is not to be put into `allowed` between angle brackets.
[[nodiscard]] Error named(Error error, const FieldNames& names);

}  // namespace strikebed
