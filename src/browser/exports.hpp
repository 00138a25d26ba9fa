#pragma once
// What the page calls. Plain C, because that is all that a page can call; engine.mjs puts it into JavaScript.
#include <cstddef>

extern "C" {

/// Room for a text that is to be handed in; nullptr where there is none. To be given back with strikebed_free.
char* strikebed_room(std::size_t bytes);
void strikebed_free(char* room);

/// Begins to answer; 0, 1 or 2 as in browser/engine.hpp. The texts are only read.
int strikebed_begin(const char* use_case, std::size_t use_case_bytes, const char* request, std::size_t request_bytes);
int strikebed_step();
void strikebed_stop();

/// What the last call had to say: UTF-8, valid until the next call.
const char* strikebed_document();
std::size_t strikebed_document_bytes();
}
