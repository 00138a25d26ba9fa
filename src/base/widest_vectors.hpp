#pragma once
// Marks a function that is built once for each generation of x86 vectors; the best is chosen when the program starts.
// The operations and their order are the same in each, so the numbers are too.

#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__)
#define STRIKEBED_WIDEST_VECTORS __attribute__((target_clones("arch=x86-64-v4", "arch=x86-64-v3", "default")))
#else
#define STRIKEBED_WIDEST_VECTORS
#endif
