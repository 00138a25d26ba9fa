#pragma once
// Standard input, output and error as this program was started with.
namespace strikebed::host {

/// Puts something in the place of each of the three that was closed: it can be neither read from nor written to. Else
/// the next file to be opened would take its number, and messages would go into that file. Call it first of all.
void fill_closed_streams();

}  // namespace strikebed::host
