// What compiled code calls and Debian's libraries for WebAssembly leave out. None of it is reached by a right program.
#include <boost/throw_exception.hpp>
#include <cstdlib>

// The compiler's own helpers were built with guards on the stack.
extern "C" {
void* __stack_chk_guard = nullptr;
[[noreturn]] void __stack_chk_fail() { std::abort(); }
}

// Exceptions are switched off; Boost.Math is asked to answer with no number instead (evidence/boost_policy.hpp).
namespace boost {
void throw_exception(const std::exception& /*mistake*/) { std::abort(); }
void throw_exception(const std::exception& /*mistake*/, const source_location& /*where*/) { std::abort(); }
}  // namespace boost
