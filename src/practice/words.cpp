#include "practice/words.h"

#include <cctype>
#include <cmath>

#include <fmt/format.h>

namespace loftbeat::practice {

std::string pass_name(const Review& review, int pass) {
  const follow::AlignedPass& aligned = review.alignment.passes[static_cast<std::size_t>(pass)];
  std::string name = aligned.label;
  if (aligned.kind == plan::PassKind::verse) name = "verse " + name;
  if (aligned.kind == plan::PassKind::play_over) name = "the play-over";
  if (aligned.kind == plan::PassKind::amen) name = "the Amen";
  if (aligned.kind == plan::PassKind::interlude) name = "the interlude";
  if (review.runs > 1) name += fmt::format(" of run {}", aligned.run);
  return name;
}

namespace {

// "a", "a and b", "a, b and c".
std::string listed(const std::vector<std::string>& words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? " and " : ", ";
    text += words[i];
  }
  return text;
}

}  // namespace

std::string pass_names(const Review& review, const std::vector<int>& passes) {
  std::vector<std::string> others;
  std::vector<std::string> verses;
  for (const int pass : passes) {
    const follow::AlignedPass& aligned = review.alignment.passes[static_cast<std::size_t>(pass)];
    const bool plain_verse = aligned.kind == plan::PassKind::verse && review.runs == 1;
    if (plain_verse) {
      verses.push_back(aligned.label);
    } else {
      others.push_back(pass_name(review, pass));
    }
  }
  if (verses.empty()) return listed(others);
  std::string named = (verses.size() == 1 ? "verse " : "verses ") + listed(verses);
  return others.empty() ? named : listed(others) + " and " + named;
}

std::string join_name(const Review& review, int join) {
  const timing::JoinMeasures& measured = review.timing.joins[static_cast<std::size_t>(join)];
  return fmt::format("from {} to {}", pass_name(review, measured.before),
                     pass_name(review, measured.after));
}

std::string texture_name(plan::Texture texture) {
  switch (texture) {
    case plan::Texture::as_written: break;
    case plan::Texture::tune_up_octave: return "with the tune an octave up";
    case plan::Texture::no_pedal: return "without pedal";
    case plan::Texture::fuller: return "with fuller chords";
    case plan::Texture::unison: return "in unison";
    case plan::Texture::free_harmony: return "in free harmony";
  }
  return "as written";
}

std::string figure_text(double figure) {
  const double size = std::abs(figure);
  return size < 9.95 ? fmt::format("{:.1f}", size) : fmt::format("{:.0f}", size);
}

std::string beats_text(double beats) {
  const double size = std::abs(beats);
  const double whole = std::round(size);
  if (whole >= 1 && std::abs(size - whole) < 0.05)
    return whole == 1 ? "1 beat" : fmt::format("{:.0f} beats", whole);
  return size < 1 ? fmt::format("{:.2g} of a beat", size) : fmt::format("{:.1f} beats", size);
}

std::string sentence_case(std::string text) {
  if (!text.empty())
    text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
  return text;
}

}  // namespace loftbeat::practice
