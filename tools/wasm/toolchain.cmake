# Cross-compiles to WebAssembly by Debian's clang 19, its libc++ and wasi-libc (the preset "browser").
set(CMAKE_SYSTEM_NAME Generic)
set(CMAKE_SYSTEM_PROCESSOR wasm32)
set(CMAKE_CXX_COMPILER clang++-19)
set(CMAKE_CXX_COMPILER_TARGET wasm32-wasi)
set(CMAKE_TRY_COMPILE_TARGET_TYPE STATIC_LIBRARY)
# Nothing is looked for among the packages of this machine but programs; headers are named in packages.cmake.
set(CMAKE_FIND_ROOT_PATH /usr/lib/wasm32-wasi)
set(CMAKE_FIND_ROOT_PATH_MODE_PACKAGE ONLY)
# 128-bit vectors, and what every browser that has these has too; no exceptions, because Debian's libc++ for WebAssembly
# has none.
set(CMAKE_CXX_FLAGS_INIT "-msimd128 -mbulk-memory -mnontrapping-fptoint -msign-ext -fno-exceptions")
# -O0: clang would call the optimiser of another package, where it happens to be there (19 links nothing when it is told
# --no-wasm-opt). A stack of 1 MB (it is 64 kB if nothing is said), below all data: an overflow ends the program and
# overwrites nothing.
set(CMAKE_EXE_LINKER_FLAGS_INIT "-O0 -Wl,--gc-sections,--strip-all,--compress-relocations,--stack-first,-z,stack-size=1048576")
