#include "climate/notices.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace strikebed::climate {
namespace {

std::string_view words_of(NoticeKind kind) {
  switch (kind) {
    case NoticeKind::long_gap:
      return "gaps too long to fill";
    case NoticeKind::too_few_hours:
      return "days with too few hours";
    case NoticeKind::filled:
      return "gaps filled";
    case NoticeKind::few_hours:
      return "days with hours missing";
    case NoticeKind::not_a_number:
      return "values that are not numbers";
    case NoticeKind::impossible:
      return "impossible values";
    case NoticeKind::swapped:
      return "days with minimum and maximum swapped";
    case NoticeKind::short_row:
      return "rows with too few cells";
    case NoticeKind::doubled:
      return "rows that were there twice";
    case NoticeKind::clock_change:
      return "hours that were there twice";
    case NoticeKind::out_of_order:
      return "rows out of order";
    case NoticeKind::general:
      return "remarks on the file";
    case NoticeKind::missing:
      return "missing values";
  }
  return "notices";
}

std::string words_of(NoticeKind kind, Role role) {
  return std::string(words_of(kind)) + (role == Role::date ? "" : fmt::format(" of {}", about(role).meaning));
}

/// The rest of a run, behind the text of its first finding.
std::string rest_of_run(NoticeKind kind, long findings) {
  if (findings < 2) return "";
  const bool days = kind == NoticeKind::few_hours || kind == NoticeKind::too_few_hours;
  const std::string_view what = days ? "day" : "row";
  const std::string_view on = days ? "on" : "in";
  if (findings == 2) return fmt::format(", and likewise {} the {} after it", on, what);
  return fmt::format(", and likewise {} the {} {}s after it", on, findings - 1, what);
}

}  // namespace

void NoticeBook::general(std::string text, int line, int column) {
  constexpr int kSpacing = 2;  // remarks on the file are never a run
  const int place = static_cast<int>(series_[index(NoticeKind::general, Role::date)].findings) * kSpacing;
  note(NoticeKind::general, Role::date, line, place, [&] { return Found{std::move(text), column}; });
}

std::vector<Notice> NoticeBook::finish() && {
  std::stable_sort(runs_.begin(), runs_.end(),
                   [](const Run& a, const Run& b) { return index(a.kind, a.role) < index(b.kind, b.role); });
  std::vector<Notice> notices;
  notices.reserve(runs_.size());
  long listed = 0;
  for (std::size_t i = 0; i < runs_.size(); ++i) {
    const NoticeKind kind = runs_[i].kind;
    const Role role = runs_[i].role;
    Notice notice = std::move(runs_[i].notice);
    notice.text += rest_of_run(kind, notice.findings);
    notice.kind = words_of(kind, role);
    listed += notice.findings;
    notices.push_back(std::move(notice));
    if (i + 1 < runs_.size() && runs_[i + 1].kind == kind && runs_[i + 1].role == role) continue;
    if (const long more = series_[index(kind, role)].findings - listed; more > 0) {
      const std::string words = words_of(kind, role);
      notices.push_back(
          {.text = fmt::format("and {} more like these: {}", more, words), .kind = words, .findings = more});
    }
    listed = 0;
  }
  return notices;
}

}  // namespace strikebed::climate
