#include "nursery/choices.hpp"

#include "nursery/daybook/note.hpp"
#include "nursery/profiles/material_file.hpp"
#include "nursery/profiles/profile_file.hpp"
#include "print/json.hpp"

namespace strikebed::nursery {

Result<std::string> choices_json(const Library& library) {
  print::Json species = print::Json::array();
  for (const auto& [id, text] : library.species) {
    const auto read = read_species(text.text, text.file);
    if (!read) return read.error();
    species.push_back({{"id", id}, {"name", read->name}});
  }
  print::Json methods = print::Json::array();
  for (const auto& [id, text] : library.methods) {
    const auto read = read_method(text.text, text.file, library);
    if (!read) return read.error();
    methods.push_back({{"id", id},
                       {"name", read->name},
                       {"base_form", read->base_form},
                       {"soak_s", print::number(read->soak_seconds.typical())},
                       {"group", print::number(read->group.typical())},
                       {"stem_length_mm", print::number(read->stem_length_mm.typical())}});
  }
  print::Json materials = print::Json::array();
  for (const auto& [id, text] : library.materials) {
    const auto read = read_material(text.text, text.file, library);
    if (!read) return read.error();
    materials.push_back({{"id", id}, {"name", read->name}});
  }
  print::Json notes = print::array(note_forms(), [](const NoteForm& form) {
    return print::Json{{"word", form.word}, {"says", form.says}, {"example", form.example}};
  });
  return print::document({{"species", species}, {"methods", methods}, {"materials", materials}, {"notes", notes}});
}

}  // namespace strikebed::nursery
