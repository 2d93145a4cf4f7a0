#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "practice/sentences.h"
#include "practice/words.h"

namespace loftbeat::practice {

namespace {

std::optional<double> largest_offset(const Review& review) {
  std::optional<double> largest;
  for (const timing::PassMeasures& pass : review.timing.passes)
    if (pass.tempo_offset_percent)
      largest = std::max(largest.value_or(0), std::abs(*pass.tempo_offset_percent));
  return largest;
}

std::string praise_tempo(const Review& review) {
  const auto offset = largest_offset(review);
  if (!offset) return "One beat ran through all that you played.";
  return fmt::format(
      "One beat ran through all that you played, within {} percent of the set speed.",
      figure_text(*offset));
}

std::optional<std::string> praise_joins(const Review& review) {
  const auto& joins = review.timing.joins;
  const auto in_time = std::count_if(joins.begin(), joins.end(), [](const auto& join) {
    return join.verdict == timing::JoinVerdict::in_time ||
           join.verdict == timing::JoinVerdict::alike;
  });
  if (in_time == 0) return std::nullopt;
  if (in_time == 1) return "The join came where it belonged.";
  return fmt::format("{} joins came where they belonged, so that singers can trust their breath.",
                     in_time);
}

std::optional<std::string> praise_play_over(const Review& review) {
  if (!review.timing.play_over || !review.timing.play_over->tempo_difference_percent)
    return std::nullopt;
  return "The play-over promised the speed that verse 1 then had.";
}

std::vector<std::string> praise(const Review& review) {
  std::vector<std::string> out = {praise_tempo(review)};
  if (auto joins = praise_joins(review)) out.push_back(std::move(*joins));
  if (auto play_over = praise_play_over(review)) out.push_back(std::move(*play_over));
  return out;
}

}  // namespace

std::vector<std::string> advice(const Review& review) {
  if (review.findings.empty()) return praise(review);
  std::vector<std::string> out;
  for (const Finding& finding : review.findings) {
    if (out.size() == kMostAdvice) break;
    out.push_back(finding.sentence);
  }
  return out;
}

}  // namespace loftbeat::practice
