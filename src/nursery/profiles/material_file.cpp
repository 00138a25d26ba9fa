#include "nursery/profiles/material_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <vector>

#include "base/nearest.hpp"
#include "mix/container.hpp"
#include "mix/jar_test.hpp"
#include "nursery/profiles/value_reading.hpp"
#include "nursery/toml_file.hpp"

namespace strikebed::nursery {
namespace {

using mix::Material;

constexpr std::array<std::string_view, 3> kDusts{"none", "silica", "organic"};

/// One number of a material: its key, where it stands, its only unit, and what it may be.
struct Field {
  std::string_view key;
  ProfileValue Material::* place;
  std::string_view unit;
  double least;
  double most;
};
constexpr std::array<Field, 5> kFields{{
    {"bulk_density", &Material::bulk_density_kg_l, "kg/L", 0.01, 5},
    {"porosity", &Material::porosity, "share", 0.05, 0.98},
    {"inside_water", &Material::inside_water, "share", 0, 0.95},
    {"n", &Material::n, "ratio", 1.05, 15},
    {"residual", &Material::residual, "share", 0, 0.9},
}};

/// A value whose logarithm is drawn: above 0 over its whole range, or none at all.
std::optional<ProfileValue> read_positive(const TomlTable& root, const Field& field, const Strictness& strict) {
  auto value = read_value(root, field.key, field.unit, field.least, field.most, strict);
  if (!value || value->quantity.low > 0 || value->quantity.high <= 0) return value;
  root.fail(field.key, fmt::format("found low {}, high {}", value->quantity.low, value->quantity.high),
            "all above 0 or all 0");
  return std::nullopt;
}

std::optional<mix::JarTest> read_jar_test(const TomlTable& root) {
  const auto table = root.table("jar_test");
  if (!table) return std::nullopt;
  const NumberRange ml{.low = 0, .high = 1e6, .low_excluded = true, .of_what = "mL"};
  const NumberRange grams{.low = 0, .high = 1e6, .low_excluded = true, .of_what = "g"};
  const NumberRange cm{.low = 0, .high = mix::kTallestContainerCm, .low_excluded = true, .of_what = "cm"};
  const NumberRange share{.low = 0.001, .high = 0.5, .of_what = "of each reading"};
  table->needs("volume_ml", ml.in_words());
  table->needs("dry_g", grams.in_words());
  table->needs("height_cm", cm.in_words());
  mix::JarTest test;
  test.volume_ml = table->number("volume_ml", ml).value_or(0);
  test.dry_g = table->number("dry_g", grams).value_or(0);
  test.height_cm = table->number("height_cm", cm).value_or(0);
  test.water_to_fill_ml = table->number("water_to_fill_ml", ml);
  test.water_drained_ml = table->number("water_drained_ml", ml);
  test.full_g = table->number("full_g", grams);
  test.drained_g = table->number("drained_g", grams);
  test.reading_error = table->number("reading_error", share).value_or(test.reading_error);
  return test;
}

/// Words as ids are written: lower case, hyphens for spaces.
std::string as_id(std::string_view name) {
  std::string id;
  for (const char c : name) {
    if (std::isspace(static_cast<unsigned char>(c)) == 0) {
      id += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    } else if (!id.empty() && id.back() != '-') {
      id += '-';
    }
  }
  return id;
}

std::string size_words(const mix::GrainRange& grains) {
  if (grains.low_mm == grains.high_mm) return fmt::format("{:.4g} mm", grains.low_mm);
  return fmt::format("{:.4g}-{:.4g} mm", grains.low_mm, grains.high_mm);
}

/// A size written in a recipe goes before the material's own.
Material with_grains(Material material, const std::optional<mix::GrainRange>& grains) {
  const bool same = !grains || (grains->low_mm == material.grains.low_mm && grains->high_mm == material.grains.high_mm);
  if (same) return material;
  material.grains = *grains;
  std::string plain = material.kind;
  std::ranges::replace(plain, '-', ' ');
  material.name = fmt::format("{} {}", plain, size_words(*grains));
  return material;
}

}  // namespace

Result<Material> read_material(std::string_view text, const std::string& file, const Library& library) {
  const Result<TomlFile> toml = TomlFile::parse(text, file);
  if (!toml) return toml.error();
  const TomlTable root = toml->root();
  Material material;
  const Strictness strict{.complete = !root.has("based_on"), .own_source = "the grower's own " + file};
  if (strict.complete) {
    for (const std::string_view key : {"id", "name", "kind"}) root.needs(key, "a text");
    root.needs("grain_low_mm", "the smaller size of the grains");
    root.needs("grain_high_mm", "the larger size of the grains");
    root.needs("dust", listed(kDusts));
  } else {
    const std::vector<std::string_view> ids = ids_of(library.materials);
    if (const auto base_id = root.one_of("based_on", ids)) {
      const Text& base_text = library.materials.find(*base_id)->second;
      Result<Material> base = read_material(base_text.text, base_text.file, {});  // a shipped material stands alone
      if (!base) return base.error();
      material = std::move(*base);
    }
    material.id = id_of_file(file);
    material.name = material.id;
  }
  material.id = root.text("id").value_or(material.id);
  material.name = root.text("name").value_or(material.name);
  material.kind = root.text("kind").value_or(material.kind);
  const NumberRange size{.low = 0, .high = 100, .low_excluded = true, .of_what = "mm"};
  const double own_middle = material.grains.middle_mm();
  material.grains.low_mm = root.number("grain_low_mm", size).value_or(material.grains.low_mm);
  material.grains.high_mm = root.number("grain_high_mm", size).value_or(material.grains.high_mm);
  if (root.sound({"grain_low_mm", "grain_high_mm"}) && material.grains.low_mm > material.grains.high_mm) {
    root.fail("grain_low_mm",
              fmt::format("found {} with grain_high_mm {}", material.grains.low_mm, material.grains.high_mm),
              "the smaller size below the larger");
  }
  for (const Field& field : kFields) {
    if (auto value = read_positive(root, field, strict)) material.*field.place = std::move(*value);
  }
  if (auto value = root.has("alpha") ? read_value(root, "alpha", "1/cm", 1e-4, 100, strict) : std::nullopt) {
    material.alpha_per_cm = std::move(value);
  } else if (own_middle > 0 && material.grains.middle_mm() != own_middle) {
    material.alpha_per_cm.reset();  // of other grains
  }
  if (const auto dust = root.one_of("dust", kDusts)) {
    material.dust = *dust == "silica" ? mix::Dust::silica : *dust == "organic" ? mix::Dust::organic : mix::Dust::none;
  }
  const auto jar = read_jar_test(root);
  if (const auto error = toml->finish()) return *error;
  if (!jar) return material;
  Result<Material> measured = mix::with_jar_test(std::move(material), *jar, "jar test in " + file);
  if (measured) return measured;
  Error error = measured.error();
  error.file = file;
  error.field = error.field.empty() ? "jar_test" : "jar_test." + error.field;
  return error;
}

Result<Material> find_material(const Library& library, const std::string& name,
                               const std::optional<mix::GrainRange>& grains, const std::string& field) {
  if (name.ends_with(".toml")) {
    const Result<Text> text = library.own(name);
    if (!text) return text.error();
    Result<Material> own = read_material(text->text, name, library);
    if (!own) return own.error();
    return with_grains(std::move(*own), grains);
  }
  const std::string id = as_id(name);
  const auto shipped = library.materials.find(id);
  if (shipped != library.materials.end()) {
    Result<Material> material = read_material(shipped->second.text, shipped->second.file, library);
    if (!material) return material.error();
    return with_grains(std::move(*material), grains);
  }

  std::vector<Material> of_kind;
  std::vector<std::string> words;
  for (const auto& [known, text] : library.materials) {
    Result<Material> material = read_material(text.text, text.file, library);
    if (!material) return material.error();
    words.push_back(known);
    if (std::ranges::find(words, material->kind) == words.end()) words.push_back(material->kind);
    if (material->kind == id) of_kind.push_back(std::move(*material));
  }
  if (of_kind.empty()) {
    const std::vector<std::string_view> known(words.begin(), words.end());
    const std::vector<std::string_view> ids = ids_of(library.materials);
    return Error{.problem = fmt::format("there is no material \"{}\"{}", name, did_you_mean(id, known)),
                 .allowed = listed(ids) + ", a kind with its size such as \"grit 2-4 mm\", or a .toml file of your own",
                 .field = field};
  }
  if (!grains && of_kind.size() > 1) {
    std::vector<std::string_view> ids;
    ids.reserve(of_kind.size());
    for (const Material& one : of_kind) ids.push_back(one.id);
    return Error{.problem = fmt::format("\"{}\" comes in several sizes", name),
                 .allowed = listed(ids) + fmt::format(", or with its size, such as \"{} 2-4 mm\"", name),
                 .field = field};
  }
  if (!grains) return of_kind.front();
  const auto distance = [&](const Material& one) {
    return std::fabs(std::log(one.grains.middle_mm() / grains->middle_mm()));
  };
  const auto nearest = std::ranges::min_element(
      of_kind, [&](const Material& a, const Material& b) { return distance(a) < distance(b); });
  return with_grains(*nearest, grains);
}

}  // namespace strikebed::nursery
