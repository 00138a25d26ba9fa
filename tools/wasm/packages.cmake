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

header_only(fmt::fmt fmt FMT_HEADER_ONLY FMT_EXCEPTIONS=0)
header_only(FastFloat::fast_float fast_float)
header_only(nlohmann_json::nlohmann_json nlohmann JSON_NOEXCEPTION)
header_only(tomlplusplus::tomlplusplus toml++)
target_include_directories(tomlplusplus::tomlplusplus BEFORE INTERFACE ${CMAKE_CURRENT_LIST_DIR}/headers)
# Sobol points derive from std::unary_function, which libc++ only has on request. Without threads there is no mutex:
# the guard keeps out the one header that would use it, and nothing else of it is used.
header_only(Boost::headers boost BOOST_NO_EXCEPTIONS BOOST_DISABLE_THREADS
            _LIBCPP_ENABLE_CXX17_REMOVED_UNARY_BINARY_FUNCTION BOOST_SMART_PTR_DETAIL_LIGHTWEIGHT_MUTEX_HPP_INCLUDED)
header_only(Eigen3::Eigen eigen3)
target_include_directories(Eigen3::Eigen SYSTEM INTERFACE ${STRIKEBED_WASM_HEADERS}/eigen3)

add_library(wasm_runtime STATIC ${CMAKE_CURRENT_LIST_DIR}/runtime.cpp)
target_link_libraries(wasm_runtime PRIVATE Boost::headers)
link_libraries($<$<STREQUAL:$<TARGET_PROPERTY:TYPE>,EXECUTABLE>:wasm_runtime>)
set(CMAKE_EXECUTABLE_SUFFIX .wasm)
