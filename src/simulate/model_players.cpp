#include "simulate/model_players.h"

#include <cmath>

#include "simulate/invented_hymn.h"
#include "simulate/random.h"

namespace loftbeat::simulate {
namespace {

plan::BeatUnit beat_unit(const HymnShape& shape) {
  if (shape.beat_type == 2) return plan::BeatUnit::half;
  if (shape.beat_type == 8) return plan::BeatUnit::dotted_quarter;
  return plan::BeatUnit::quarter;
}

double tempo(plan::BeatUnit beat, Random& random) {
  return std::round(random.between(40, beat == plan::BeatUnit::quarter ? 120 : 90));
}

plan::Join by_the_bar(int extra_bars) {
  plan::Join join;
  join.kind = plan::JoinKind::by_the_bar;
  join.extra_bars = extra_bars;
  return join;
}

plan::Join hold_and_lift(double hold, double lift) {
  plan::Join join;
  join.hold_beats = hold;
  join.lift_beats = lift;
  return join;
}

plan::Join some_join(Random& random) {
  const double hold = 2 + static_cast<double>(random.below(3));
  switch (random.below(4)) {
    case 0: return by_the_bar(0);
    case 1: return by_the_bar(1);
    case 2: return hold_and_lift(hold, 1);
    default: return hold_and_lift(hold, 2);
  }
}

plan::PlayOver some_play_over(Random& random) {
  plan::PlayOver play_over;
  switch (random.below(3)) {
    case 0: play_over.kind = plan::PlayOverKind::whole; break;
    case 1: play_over.kind = plan::PlayOverKind::first_and_last; break;
    default: play_over.kind = plan::PlayOverKind::phrases; play_over.phrases = {1};
  }
  return play_over;
}

// The last verse broadens over its last phrase.
void broaden_end(ModelCase& model, double percent) {
  const Tick at = model.score.phrases.back().span.begin;
  const music::Bar& bar = music::bar_at(model.score, at + plan::ticks(model.plan.beat));
  plan::Broadening broadening;
  broadening.from = {bar.number, 1, 0};
  broadening.percent = percent;
  model.plan.verse_plans[*model.plan.verses].broadening = broadening;
}

ModelCase base_case(const HymnShape& shape, Random& random, std::uint64_t seed) {
  ModelCase model;
  model.seed = seed;
  model.score = invented_hymn(shape, seed);
  model.plan.title = model.score.title;
  model.plan.beat = beat_unit(shape);
  model.plan.tempo_bpm = tempo(model.plan.beat, random);
  model.plan.join = some_join(random);
  if (random.chance(0.3)) model.plan.join_after_play_over = some_join(random);
  model.plan.play_over = some_play_over(random);
  return model;
}

void set_good_habits(Player& player, Random& random) {
  player.tempo.wander_percent = random.between(1, 1.5);
  player.onset.jitter_ms = random.between(10, 15);
  player.onset.note_jitter_ms = random.between(3, 6);
  player.onset.spread_ms = 10;
  player.release.overlap_ms = random.between(-10, 10);
  player.release.overlap_jitter_ms = 8;
  player.release.together_ms = 8;
  player.join.jitter_percent = 0.5;
  player.phrase.breath = random.chance(0.5) ? BreathKind::added : BreathKind::out_of_note;
  player.phrase.breath_beats = random.between(0.15, 0.4);
  player.phrase.breath_jitter_beats = 0.01;
  player.phrase.gather_beats = random.between(0, 0.08);
  player.console.layout = static_cast<ChannelLayout>(random.below(3));
  StopMove piston;
  piston.messages = piston_messages(15, 12);
  piston.offset_ms = 60;
  player.stop_moves = {piston};
}

std::vector<plan::Texture> some_textures(Random& random) {
  using plan::Texture;
  const std::vector<std::vector<Texture>> dresses = {{Texture::as_written},
                                                     {Texture::tune_up_octave},
                                                     {Texture::no_pedal},
                                                     {Texture::fuller},
                                                     {Texture::unison},
                                                     {Texture::free_harmony},
                                                     {Texture::no_pedal, Texture::tune_up_octave},
                                                     {Texture::fuller, Texture::tune_up_octave}};
  return dresses[random.below(dresses.size())];
}

}  // namespace

ModelCase model_player(std::uint64_t seed) {
  Random random(seed, "model");
  const HymnShape shape = invented_shape(seed);
  ModelCase model = base_case(shape, random, seed);
  model.name = "model player";
  model.plan.verses = 3 + static_cast<int>(random.below(2));
  if (shape.fermatas == Fermatas::phrase_ends && random.chance(0.6)) {
    model.plan.fermata = {plan::FermataKind::hold, 1};
  }
  if (random.chance(0.5)) broaden_end(model, std::round(random.between(75, 90)));
  set_good_habits(model.player, random);
  return model;
}

ModelCase rough_player(std::uint64_t seed) {
  Random random(seed, "rough");
  ModelCase model = base_case(invented_shape(seed), random, seed);
  model.name = "rough player";
  const int verses = 4 + static_cast<int>(random.below(3));
  model.plan.verses = verses;
  for (int verse = 1; verse <= verses; ++verse) {
    model.plan.verse_plans[verse].textures = some_textures(random);
  }
  Player& player = model.player;
  player.tempo.wander_percent = 8;
  const bool chords = random.chance(0.5);
  (chords ? player.onset.jitter_ms : player.onset.note_jitter_ms) = 25;
  player.onset.spread_ms = 60;
  player.onset.spread = static_cast<SpreadKind>(random.below(3));
  player.release.overlap_jitter_ms = 15;
  player.release.together_ms = 20;
  player.slip.wrong = 0.03;
  player.slip.missed = 0.03;
  player.phrase.breath = random.chance(0.5) ? BreathKind::added : BreathKind::out_of_note;
  player.phrase.breath_jitter_beats = 0.05;
  player.join.jitter_percent = 3;
  player.console.layout = static_cast<ChannelLayout>(random.below(3));
  player.console.velocity_kind = random.chance(0.5) ? VelocityKind::varied : VelocityKind::fixed;
  const int pass = static_cast<int>(random.below(static_cast<std::size_t>(verses) + 1));
  player.faults = {{FaultKind::restart, pass, kAnywhere, random.between(0.5, 2)}};
  return model;
}

Result<ModelTake> play(const ModelCase& model) {
  auto route = plan::make_route(model.plan, model.score);
  if (!route) return route.error();
  ModelTake taken{std::move(route).value(), {}};
  taken.performance = perform({model.score, model.plan, taken.route}, model.player, model.seed);
  return taken;
}

}  // namespace loftbeat::simulate
