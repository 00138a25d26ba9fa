#include "cli/serve.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <utility>

#include "cli/commands.hpp"
#include "cli/output.hpp"
#include "host/library.hpp"
#include "server/service.hpp"

namespace strikebed::cli {
namespace {

std::string option_of(std::string_view field) { return field == "port" ? "--port" : std::string(field); }

}  // namespace

int answer_serve(const ServeArguments& arguments) {
  auto service = server::Service::begin({.page = arguments.page.value_or(host::page_folder()),
                                         .daybook = where_of(arguments.daybook),
                                         .port = static_cast<std::uint16_t>(arguments.port),
                                         .names = arguments.names,
                                         .version = STRIKEBED_VERSION,
                                         .tell = [](const Error& error) { complain(error); }});
  if (!service.ok()) {
    complain(service.error(), option_of);
    return kInputWrong;
  }
  server::Service& running = **service;
  if (running.is_new()) say(fmt::format("A new daybook was begun: {}", running.daybook()));
  running.stop_on_signals();
  const int printed = print_answer(fmt::format(
      fmt::runtime(arguments.daybook.json ? "{{\"address\": \"{}\"}}\n" : "Strikebed is at {}\n"), running.address()));
  if (printed != kAnswered) return printed;
  running.run();
  return kAnswered;
}

bool is_host_name(std::string_view text) {
  return !text.empty() && std::ranges::all_of(text, [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '.';
  });
}

}  // namespace strikebed::cli
