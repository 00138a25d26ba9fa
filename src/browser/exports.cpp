#include "browser/exports.hpp"

#include <cstdlib>

#include "browser/carried.hpp"
#include "browser/engine.hpp"

namespace {

strikebed::browser::Engine& engine() {
  static strikebed::browser::Engine the_engine(strikebed::browser::carried_library());
  return the_engine;
}

}  // namespace

extern "C" {

char* strikebed_room(std::size_t bytes) { return static_cast<char*>(std::malloc(bytes > 0 ? bytes : 1)); }
void strikebed_free(char* room) { std::free(room); }

int strikebed_begin(const char* use_case, std::size_t use_case_bytes, const char* request, std::size_t request_bytes) {
  return static_cast<int>(engine().begin({use_case, use_case_bytes}, {request, request_bytes}));
}
int strikebed_step() { return static_cast<int>(engine().step()); }
void strikebed_stop() { engine().stop(); }

const char* strikebed_document() { return engine().document().data(); }
std::size_t strikebed_document_bytes() { return engine().document().size(); }
}
