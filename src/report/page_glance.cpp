#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "report/flags.h"
#include "report/numbers.h"
#include "report/page_parts.h"
#include "report/summary.h"
#include "report/utf8.h"
#include "report/words.h"

namespace loftbeat::report {
namespace {

using practice::FindingKind;
using timing::JoinVerdict;

constexpr const char* kYes = "✓ Yes";
constexpr const char* kNotQuite = "! Not quite";
constexpr const char* kCannotTell = "? Cannot tell";

struct Answer {
  const char* question;
  std::string answer;
  std::vector<std::string> lines;
};

std::string_view beat_trouble(FindingKind kind) {
  switch (kind) {
    case FindingKind::tempo_off: return "another tempo than set";
    case FindingKind::dragging: return "slowed down";
    case FindingKind::rushing: return "ran away";
    case FindingKind::unsteady: return "unsteady";
    case FindingKind::hesitation: return "hesitated";
    case FindingKind::restart: return "went back";
    case FindingKind::correction: return "stopped to correct";
    default: return {};
  }
}

std::string troubles_of(const practice::Review& review, int pass) {
  std::string text;
  for (const practice::Finding& finding : review.findings) {
    const std::string_view trouble = beat_trouble(finding.kind);
    if (!concerns(finding, pass) || trouble.empty() || text.find(trouble) != std::string::npos)
      continue;
    text += fmt::format("{}{}", text.empty() ? "" : ", ", trouble);
  }
  return text;
}

Answer beat_answer(const practice::Review& review) {
  Answer answer{"Did the beat keep?", kYes, {}};
  bool any_known = false;
  for (const timing::PassMeasures& pass : review.timing.passes) {
    any_known = any_known || pass.tempo_bpm;
    const std::string text = troubles_of(review, pass.pass);
    if (!text.empty()) answer.lines.push_back(pass_name(review, pass.pass) + ": " + text);
  }
  if (!answer.lines.empty())
    answer.answer = kNotQuite;
  else if (!any_known)
    answer.answer = kCannotTell;
  return answer;
}

bool is_fault(JoinVerdict verdict) {
  return verdict == JoinVerdict::early || verdict == JoinVerdict::late ||
         verdict == JoinVerdict::miscounted || verdict == JoinVerdict::unlike;
}

Answer join_answer(const practice::Review& review) {
  Answer answer{"Were the joins in time?", kCannotTell, {}};
  const auto& joins = review.timing.joins;
  if (joins.empty()) {
    answer.lines.push_back("There is no join in this take.");
    return answer;
  }
  bool fault = false;
  bool known = false;
  for (const timing::JoinMeasures& join : joins) {
    fault = fault || is_fault(join.verdict);
    known = known || join.verdict != JoinVerdict::cannot_tell;
    if (join.verdict == JoinVerdict::in_time || join.verdict == JoinVerdict::alike) continue;
    answer.lines.push_back(
        fmt::format("{}: {}", join_name(review, join), verdict_words(join.verdict)));
  }
  if (known) answer.answer = fault ? kNotQuite : kYes;
  return answer;
}

Answer play_over_answer(const practice::Review& review) {
  Answer answer{"Was the play-over a fair promise?", kCannotTell, play_over_lines(review)};
  if (!review.timing.play_over) return answer;
  const bool fault = std::any_of(review.findings.begin(), review.findings.end(),
                                 [](const practice::Finding& finding) {
                                   return finding.kind == FindingKind::play_over_tempo ||
                                          finding.kind == FindingKind::play_over_slowing ||
                                          finding.kind == FindingKind::play_over_timid;
                                 });
  if (fault) {
    answer.answer = kNotQuite;
  } else if (review.timing.play_over->tempo_difference_percent) {
    answer.answer = kYes;
  }
  return answer;
}

}  // namespace

std::string glance_section(const practice::Review& review) {
  std::string html =
      "<section aria-labelledby=\"glance\"><h2 id=\"glance\">At a glance</h2>\n<div "
      "class=\"glance\">\n";
  const std::array answers = {beat_answer(review), join_answer(review), play_over_answer(review)};
  for (const Answer& answer : answers) {
    html +=
        fmt::format("<div><h3>{}</h3><p class=\"answer\">{}</p>\n", answer.question, answer.answer);
    if (!answer.lines.empty()) html += html_list("ul", answer.lines);
    html += "</div>\n";
  }
  return html + "</div></section>\n";
}

}  // namespace loftbeat::report
