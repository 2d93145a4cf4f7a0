#include "report/flags.h"

#include <algorithm>

namespace loftbeat::report {
namespace {

bool among(practice::FindingKind kind, std::initializer_list<practice::FindingKind> kinds) {
  return std::find(kinds.begin(), kinds.end(), kind) != kinds.end();
}

}  // namespace

bool concerns(const practice::Finding& finding, int pass) {
  if (finding.passes.empty()) return finding.pass == pass;
  return std::find(finding.passes.begin(), finding.passes.end(), pass) != finding.passes.end();
}

bool pass_has(const practice::Review& review, int pass,
              std::initializer_list<practice::FindingKind> kinds) {
  return std::any_of(review.findings.begin(), review.findings.end(), [&](const auto& finding) {
    return concerns(finding, pass) && among(finding.kind, kinds);
  });
}

bool join_has(const practice::Review& review, int join,
              std::initializer_list<practice::FindingKind> kinds) {
  return std::any_of(review.findings.begin(), review.findings.end(), [&](const auto& finding) {
    return finding.join == join && among(finding.kind, kinds);
  });
}

}  // namespace loftbeat::report
