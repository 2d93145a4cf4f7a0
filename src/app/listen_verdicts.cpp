#include "app/listen_verdicts.h"

#include "app/listen_screen.h"
#include "practice/review.h"

namespace loftbeat::app {
namespace {

// Beats of a new pass after which its pulse is known well enough for the join before it.
constexpr double kSettledBeats = 6;

}  // namespace

void ListenVerdicts::feed(const take::Event& event) {
  const std::lock_guard<std::mutex> lock(lock_);
  take_.events.push_back(event);
}

void ListenVerdicts::look(const live::NowPlaying& now, Instant at) {
  const std::lock_guard<std::mutex> lock(lock_);
  if (now.passes_begun > passes_) {
    passes_ = now.passes_begun;
    pass_began_ = at;
    due_ = passes_ > 1;
  }
}

std::vector<std::string> ListenVerdicts::fresh() {
  take::Take so_far;
  {
    const std::lock_guard<std::mutex> lock(lock_);
    const double settled = kSettledBeats * work_.track.beat_seconds;
    const bool settles =
        take_.events.empty() || seconds(take_.events.back().at) - seconds(pass_began_) < settled;
    if (!due_ || settles) return {};
    due_ = false;
    so_far = take_;
  }
  music::ReadScore score;
  score.score = work_.checked.planned.score;
  const auto review = practice::review(work_.plan, std::move(score), so_far, "");
  std::vector<std::string> words;
  if (!review) return words;
  for (; told_ < review->timing.joins.size(); ++told_) words.push_back(join_words(*review, told_));
  return words;
}

}  // namespace loftbeat::app
