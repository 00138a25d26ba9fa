# The header-only libraries for WebAssembly, under the names that their own packages give them. They stand in one folder
# of links: the whole of /usr/include would bring the headers of this machine's C library.
set(STRIKEBED_WASM_HEADERS ${CMAKE_BINARY_DIR}/headers)
file(MAKE_DIRECTORY ${STRIKEBED_WASM_HEADERS})

# header_only(TARGET FOLDER DEFINITION...): /usr/include/FOLDER as TARGET.
function(header_only target folder)
  if(NOT EXISTS /usr/include/${folder})
    message(FATAL_ERROR "/usr/include/${folder} is missing: packages.txt names its package")
  endif()
  file(CREATE_LINK /usr/include/${folder} ${STRIKEBED_WASM_HEADERS}/${folder} SYMBOLIC)
  add_library(${target} INTERFACE IMPORTED)
  target_include_directories(${target} SYSTEM INTERFACE ${STRIKEBED_WASM_HEADERS})
  target_compile_definitions(${target} INTERFACE ${ARGN})
endfunction()

# FMT_STATIC_THOUSANDS_SEPARATOR, EIGEN_NO_IO: without locales and streams, which are a seventh of the module.
header_only(fmt::fmt fmt FMT_HEADER_ONLY FMT_EXCEPTIONS=0 FMT_USE_LONG_DOUBLE=0 FMT_STATIC_THOUSANDS_SEPARATOR=',')
header_only(FastFloat::fast_float fast_float)
header_only(nlohmann_json::nlohmann_json nlohmann JSON_NOEXCEPTION)
header_only(tomlplusplus::tomlplusplus toml++ TOML_FLOAT_CHARCONV=1)
target_include_directories(tomlplusplus::tomlplusplus BEFORE INTERFACE ${CMAKE_CURRENT_LIST_DIR}/headers)
# Without threads there is no mutex: the guard keeps out the one header that would use it, and nothing else of it is used.
header_only(Boost::headers boost BOOST_NO_EXCEPTIONS BOOST_DISABLE_THREADS
            BOOST_SMART_PTR_DETAIL_LIGHTWEIGHT_MUTEX_HPP_INCLUDED)
header_only(Eigen3::Eigen eigen3 EIGEN_NO_IO)
target_include_directories(Eigen3::Eigen SYSTEM INTERFACE ${STRIKEBED_WASM_HEADERS}/eigen3)

add_library(wasm_runtime STATIC ${CMAKE_CURRENT_LIST_DIR}/runtime.cpp)
target_link_libraries(wasm_runtime PRIVATE Boost::headers)
link_libraries($<$<STREQUAL:$<TARGET_PROPERTY:TYPE>,EXECUTABLE>:wasm_runtime>)
set(CMAKE_EXECUTABLE_SUFFIX .wasm)
