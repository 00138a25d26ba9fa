#pragma once
// What a daybook is opened for.

namespace strikebed::host {

enum class Access {
  read,    ///< it must be there; nothing is written
  write,   ///< it must be there
  create,  ///< it is begun where there is none
};

}  // namespace strikebed::host
