#pragma once
// The engine as a page asks it: a use case by its name, a request and an answer as JSON, long work in steps.
// docs/browser.md
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/steps.hpp"
#include "browser/request.hpp"
#include "nursery/daybook/copy.hpp"
#include "nursery/forecast.hpp"
#include "nursery/make_plan.hpp"

namespace strikebed::browser {

enum class Status {
  done = 0,   ///< the document is the answer
  wrong = 1,  ///< it is an error, as data
  going = 2,  ///< it says how far the work is; step() goes on
};

/// Keeps what it was given (files, names of time zones, the entries of the daybook) and the study of the last plan, so
/// that a plan asked again after a change takes little, and none when it is only to be put in another form. Everything
/// it answers is a function of what was kept and of the request.
class Engine {
 public:
  explicit Engine(nursery::Library library);
  Engine(const Engine&) = delete;  // the library reads what this one keeps
  Engine& operator=(const Engine&) = delete;

  /// Begins to answer; what was going on is dropped. What takes no time is done at once.
  ///   use_case  "keep", "choices", "plan", "weather", "mix solution", "mix disinfectant", "mix medium", "mix feed",
  ///             "feed phases", "daybook", "note", "note plan", "exchange", "batches", "today", "forecast", "profile",
  ///             "checks"
  /// Errors: no such use case, those of Request and of the use case.
  Status begin(std::string_view use_case, std::string_view request);
  /// Goes on, mostly for some tens of milliseconds. Errors: there is nothing to go on with.
  Status step();
  /// Drops what is going on; the next plan still profits from what was worked out.
  void stop();

  /// What the last call had to say: one JSON document that ends in a line end, or for "as": "words" or "page" that
  /// text.
  [[nodiscard]] const std::string& document() const { return document_; }

 private:
  using Answer = Result<std::string>;
  using Answering = Answer (Engine::*)(Request& request);
  struct UseCase {
    std::string_view name;
    Answering answering;
  };
  static const std::vector<UseCase>& use_cases();

  Answer keep(Request& request);
  Answer choices(Request& request);
  Answer plan(Request& request);
  Answer weather(Request& request);
  Answer solution(Request& request);
  Answer disinfectant(Request& request);
  Answer medium(Request& request);
  Answer feed(Request& request);
  Answer feed_phases(Request& request);
  Answer take_entries(Request& request);
  Answer note(Request& request);
  Answer note_plan(Request& request);
  Answer exchange(Request& request);
  Answer batches(Request& request);
  Answer today(Request& request);
  Answer forecast(Request& request);
  Answer profile(Request& request);
  Answer checks(Request& request);

  /// Takes them into the daybook.
  Answer noted(const Request& request, const nursery::Noted& noted);

  Status say(const Answer& answer, const FieldNames& names);
  Status say_progress();
  /// `stage` and `so_far` are JSON.
  Status say_going(double done, std::string_view what, std::string_view stage, const std::string& so_far);

  nursery::Library library_;
  TextsByName kept_;
  nursery::DaybookCopy daybook_;
  nursery::Planner planner_;
  std::optional<Steps<season::PlanStep>> steps_;  ///< of the plan that is going on
  std::optional<Request> planned_;                ///< what that plan was asked with, or the last whole one
  nursery::Text planned_goal_;                    ///< of it
  season::PlanStage shown_{};                     ///< how far that plan was when it was last shown
  /// A forecast that has still to look further, and what it was asked with.
  struct Foretelling {
    nursery::Forecaster forecaster;
    Request request;
  };
  std::optional<Foretelling> foretelling_;
  std::string document_;
};

}  // namespace strikebed::browser
