#pragma once
// The keys of an entry beside its body, in their order. For those who read and write entries as JSON.
#include "daybook/bodies.hpp"
#include "daybook/entry.hpp"

namespace strikebed::daybook {

/// Visits what stands beside the body. `batch` is there when `about` says so.
template <class Self>
void envelope(Self& entry, About about, auto&& visit) {
  visit(reference("id", Refers::any), entry.id);
  visit(plain("happened"), entry.happened);
  visit(plain("written"), entry.written);
  visit(maybe_named("who"), entry.who);
  visit(named("device"), entry.device);
  if (about != About::other) visit(reference("batch", Refers::batch), entry.batch);
  visit(note("typed"), entry.typed);
}

}  // namespace strikebed::daybook
