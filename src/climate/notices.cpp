#include "climate/notices.hpp"

#include <algorithm>

namespace strikebed::climate {

std::vector<Notice> NoticeBook::finish() && {
  std::stable_sort(runs_.begin(), runs_.end(),
                   [](const Notice& a, const Notice& b) { return index(a.kind, a.role) < index(b.kind, b.role); });
  std::vector<Notice> notices;
  notices.reserve(runs_.size());
  long listed = 0;
  for (std::size_t i = 0; i < runs_.size(); ++i) {
    const NoticeKind kind = runs_[i].kind;
    const Role role = runs_[i].role;
    listed += runs_[i].findings;
    notices.push_back(std::move(runs_[i]));
    if (i + 1 < runs_.size() && runs_[i + 1].kind == kind && runs_[i + 1].role == role) continue;
    if (const long more = series_[index(kind, role)].findings - listed; more > 0)
      notices.push_back({.kind = kind, .role = role, .findings = more, .not_kept = true});
    listed = 0;
  }
  return notices;
}

}  // namespace strikebed::climate
