#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "cli/commands.hpp"
#include "cli/output.hpp"
#include "host/library.hpp"
#include "nursery/checks/run_checks.hpp"
#include "nursery/printed.hpp"

namespace strikebed::cli {
namespace {

/// Only the checks of one topic; a topic that is not there is an error that lists those that are.
Result<std::vector<print::Check>> only_topic(std::vector<print::Check> checks, const std::string& topic) {
  std::set<std::string> topics;
  for (const auto& check : checks) topics.insert(check.topic);
  if (!topics.contains(topic)) {
    Error error;
    error.field = "--topic";
    error.problem = fmt::format("there are no checks of \"{}\"", topic);
    error.allowed = fmt::format("{}", fmt::join(topics, ", "));
    return error;
  }
  std::erase_if(checks, [&](const print::Check& check) { return check.topic != topic; });
  return checks;
}

}  // namespace

int answer_checks(const ChecksArguments& arguments) {
  const auto files = host::load_checks();
  if (!files.ok()) return complain(files.error());
  auto checks = nursery::run_checks(*files);
  if (!checks.ok()) return complain(checks.error());
  if (!arguments.topic.empty()) {
    checks = only_topic(std::move(checks).value(), arguments.topic);
    if (!checks.ok()) return complain(checks.error());
  }
  const int printed =
      print_answer(arguments.json ? nursery::json_of(*checks) : nursery::words_of(*checks, answer_width()));
  if (printed != kAnswered) return printed;
  const auto held = [](const print::Check& check) { return check.holds; };
  return std::all_of(checks->begin(), checks->end(), held) ? kAnswered : kInputWrong;
}

}  // namespace strikebed::cli
