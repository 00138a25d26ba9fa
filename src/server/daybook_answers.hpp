#pragma once
// What is asked of the daybook, answered from its store: one function an endpoint (docs/http.md). All may wait for the
// disk. What the store itself could not do is told to whoever runs the server, with all that it says; who asked is told
// no more than that.
#include <functional>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "daybook/sha256.hpp"
#include "host/store/daybook_store.hpp"
#include "server/http.hpp"

namespace strikebed::server {

using Tell = std::function<void(const Error& error)>;

struct Answered {
  Answer answer;
  bool may_have_grown = false;  ///< entries
};

/// One message of an exchange (docs/exchange.md). Returns when its entries are on the disk.
[[nodiscard]] Answered answer_exchange(host::DaybookStore& store, std::string_view message, const Tell& tell);

/// The bytes of a picture.
[[nodiscard]] Answer answer_picture(host::DaybookStore& store, const daybook::Digest& digest, const Head& head,
                                    const Tell& tell);
/// Keeps a picture, if it is what its digest says. Returns when it is on the disk.
[[nodiscard]] Answer take_picture(host::DaybookStore& store, const daybook::Digest& digest, std::string bytes,
                                  const Tell& tell);

/// What program this is, and how many entries there are.
[[nodiscard]] Answer answer_about(host::DaybookStore& store, std::string_view version, const Tell& tell);

}  // namespace strikebed::server
