#include "host/store/database.hpp"

namespace strikebed::host {

std::optional<Error> in_transaction(Database& database, Transaction kind,
                                    const std::function<std::optional<Error>()>& work) {
  constexpr int kTries = 5;
  for (int tries = 1;; ++tries) {
    std::optional<Error> failed = database.begin(kind);
    if (!failed) failed = work();
    if (!failed) failed = database.commit();
    if (!failed) return std::nullopt;
    const bool again = database.clashed() && tries < kTries;
    database.roll_back();
    if (!again) return failed;
  }
}

}  // namespace strikebed::host
