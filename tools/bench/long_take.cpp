#include "bench/long_take.h"

#include <algorithm>
#include <array>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <tuple>
#include <utility>

#include "simulate/perform.h"
#include "take/smf_take.h"

namespace loftbeat::bench {
namespace {

constexpr int kBars = 16;
constexpr int kBeatsInBar = 4;
constexpr int kBarsInPhrase = 4;
constexpr double kTempo = 108;  // crotchets a minute
constexpr std::uint64_t kSeed = 1;

// The tune as steps of the scale of F, eight crotchets to two bars, and the bass below it.
constexpr std::array<int, kBars* kBeatsInBar> kTune = {
    0, 1, 2, 4, 5, 4, 2, 4, 5, 6, 7, 5, 4, 3, 2, 1,  //
    2, 3, 4, 2, 1, 0, 1, 2, 4, 5, 6, 4, 3, 2, 1, 1,  //
    4, 4, 5, 6, 7, 6, 5, 4, 3, 4, 5, 3, 2, 1, 2, 4,  //
    5, 7, 6, 5, 4, 2, 3, 1, 0, 2, 1, 3, 2, 1, 1, 0};

int pitch_of(int step) {  // step 0 = F4
  static constexpr std::array<int, 7> kScale = {0, 2, 4, 5, 7, 9, 11};
  const int octave = (step + 70) / 7 - 10;
  return 65 + 12 * octave + kScale[static_cast<std::size_t>((step + 70) % 7)];
}

music::Note note(Tick onset, Tick length, int step, int voice) {
  return {onset, length, pitch_of(step), voice, voice / 2};
}

// A chord on each crotchet: alto and tenor by turns move in quavers.
void add_beat(int beat, std::vector<music::Note>& notes) {
  const Tick at = beat * kTicksPerQuarter;
  const Tick half = kTicksPerQuarter / 2;
  const int tune = kTune[static_cast<std::size_t>(beat)];
  const int bass = (tune % 2 == 0 ? -14 : -10) + beat / kBeatsInBar % 3;
  notes.push_back(note(at, kTicksPerQuarter, tune, 0));
  notes.push_back(note(at, kTicksPerQuarter, bass, 3));
  const int moving = beat % 2 == 0 ? 1 : 2;
  const int still = 3 - moving;
  notes.push_back(note(at, kTicksPerQuarter, still == 1 ? tune - 2 : tune - 5, still));
  notes.push_back(note(at, half, moving == 1 ? tune - 2 : tune - 5, moving));
  notes.push_back(note(at + half, half, moving == 1 ? tune - 3 : tune - 6, moving));
}

music::Score tune() {
  music::Score score;
  score.title = "A tune to be measured by";
  for (int beat = 0; beat < kBars * kBeatsInBar; ++beat) add_beat(beat, score.notes);
  std::sort(score.notes.begin(), score.notes.end(), [](const auto& a, const auto& b) {
    return std::tie(a.onset, a.pitch, a.voice) < std::tie(b.onset, b.pitch, b.voice);
  });
  const Tick bar = kBeatsInBar * kTicksPerQuarter;
  for (int i = 0; i < kBars; ++i) {
    score.bars.push_back({i * bar, bar, std::to_string(i + 1), kBeatsInBar, 4, false});
  }
  for (int i = 0; i < kBars; i += kBarsInPhrase) {
    score.phrases.push_back({{i * bar, (i + kBarsInPhrase) * bar}});
  }
  score.phrase_source = music::PhraseSource::lyric_lines;
  score.voices = 4;
  score.staves = 2;
  score.length = kBars * bar;
  return score;
}

simulate::Player person() {
  simulate::Player player;
  player.tempo.wander_percent = 4;
  player.onset.jitter_ms = 15;
  player.onset.spread_ms = 30;
  player.slip.wrong = 0.01;
  player.slip.missed = 0.01;
  return player;
}

}  // namespace

LongPiece long_piece(int minutes) {
  LongPiece piece;
  piece.score = tune();
  piece.plan.title = piece.score.title;
  piece.plan.tempo_bpm = kTempo;
  const double beats_a_verse = kBars * kBeatsInBar + 4;  // with the join
  piece.plan.verses = std::max(1, static_cast<int>(minutes * kTempo / beats_a_verse));
  piece.plan.play_over.kind = plan::PlayOverKind::none;
  piece.plan.join = plan::Join{plan::JoinKind::by_the_bar, 0, 0, 1};
  Result<plan::Route> route = plan::make_route(piece.plan, piece.score);
  if (!route) {  // the plan above is wrong: nothing can be measured
    std::fprintf(stderr, "%s\n", to_string(route.error()).c_str());
    std::exit(EXIT_FAILURE);
  }
  piece.route = std::move(route.value());
  return piece;
}

std::string long_take(const LongPiece& piece) {
  const simulate::Performance performance =
      simulate::perform({piece.score, piece.plan, piece.route}, person(), kSeed);
  return take::format_take(performance.take);
}

}  // namespace loftbeat::bench
