#include <algorithm>
#include <set>

#include "stage.h"

namespace loftbeat::simulate {
namespace {

using plan::Texture;

// One pass of the tune in the given dress.
Performance dressed(std::vector<Texture> textures, Scene made = scene()) {
  made.player.changes[1].textures = std::move(textures);
  return made.play();
}

std::vector<TrueNote> of_pass(const Performance& played, int pass) {
  std::vector<TrueNote> found;
  for (const TrueNote& note : played.truth.notes) {
    if (note.pass == pass) found.push_back(note);
  }
  return found;
}

TEST(TextureTest, AsWrittenIsTheScore) {
  const Scene made = scene();
  for (const TrueNote& note : of_pass(dressed({Texture::as_written}), 1)) {
    EXPECT_EQ(note.kind, NoteKind::right);
    EXPECT_EQ(note.pitch, made.score.notes[static_cast<std::size_t>(note.score)].pitch);
  }
}

TEST(TextureTest, TuneUpAnOctaveLiftsTheTuneAlone) {
  const Scene made = scene();
  for (const TrueNote& note : of_pass(dressed({Texture::tune_up_octave}), 1)) {
    const int written = made.score.notes[static_cast<std::size_t>(note.score)].pitch;
    EXPECT_EQ(note.pitch - written, note.voice == 0 ? 12 : 0);
    EXPECT_EQ(note.kind == NoteKind::octave, note.voice == 0);
  }
}

TEST(TextureTest, WithoutPedalTheBassIsSilentOrInTheLeftHand) {
  for (const TrueNote& note : of_pass(dressed({Texture::no_pedal}), 1)) EXPECT_NE(note.voice, 3);
  Scene made = scene();
  made.player.bass_without_pedal = BassWithoutPedal::left_hand;
  made.player.console.layout = ChannelLayout::hands_apart;
  const Performance played = dressed({Texture::no_pedal}, made);
  int bass = 0;
  for (const TrueNote& note : of_pass(played, 1)) {
    EXPECT_NE(note.channel, 2);
    bass += note.voice == 3;
  }
  EXPECT_GT(bass, 10);
}

TEST(TextureTest, FullerChordsKeepTheScoreAndAddChordTones) {
  const auto notes = of_pass(dressed({Texture::fuller}), 1);
  const auto fillers = std::count_if(notes.begin(), notes.end(),
                                     [](const TrueNote& n) { return n.kind == NoteKind::filler; });
  EXPECT_GT(fillers, 20);
  EXPECT_TRUE(dressed({Texture::fuller}).truth.missed.empty());
  for (const TrueNote& added : notes) {
    if (added.kind != NoteKind::filler) continue;
    const bool tone = std::any_of(notes.begin(), notes.end(), [&](const TrueNote& n) {
      return n.kind == NoteKind::right && n.on <= added.on && n.off > added.on &&
             (n.pitch - added.pitch) % 12 == 0;
    });
    EXPECT_TRUE(tone) << "pitch " << added.pitch << " at tick " << added.tick;
  }
}

TEST(TextureTest, UnisonIsTheTuneInOctaves) {
  const auto notes = of_pass(dressed({Texture::unison}), 1);
  for (const TrueNote& note : notes) {
    EXPECT_EQ(note.kind, note.voice == 0 ? NoteKind::right : NoteKind::filler);
    const auto both = std::count_if(notes.begin(), notes.end(), [&](const TrueNote& n) {
      return n.tick == note.tick && std::abs(n.pitch - note.pitch) == 12;
    });
    EXPECT_EQ(both, 1);
  }
}

TEST(TextureTest, FreeHarmonyKeepsTheTuneAndChangesWhatIsUnderIt) {
  const Performance played = dressed({Texture::free_harmony});
  const auto notes = of_pass(played, 1);
  int tune = 0;
  int foreign = 0;
  for (const TrueNote& note : notes) {
    tune += note.voice == 0;
    foreign += note.kind == NoteKind::filler;
  }
  const Scene made = scene();
  const auto written = std::count_if(made.score.notes.begin(), made.score.notes.end(),
                                     [](const music::Note& n) { return n.voice == 0; });
  EXPECT_EQ(tune, written);
  EXPECT_GT(foreign, 20);
}

TEST(TextureTest, MixturesHoldTogether) {
  const auto notes = of_pass(dressed({Texture::no_pedal, Texture::tune_up_octave}), 1);
  for (const TrueNote& note : notes) {
    EXPECT_NE(note.voice, 3);
    EXPECT_EQ(note.kind == NoteKind::octave, note.voice == 0);
  }
}

TEST(TextureTest, PartsArePractisedAlone) {
  Scene made = scene();
  made.player.changes[1].only_voices = {3};
  const Performance played = made.play();
  for (const TrueNote& note : of_pass(played, 1)) EXPECT_EQ(note.voice, 3);
  EXPECT_TRUE(played.truth.missed.empty());
}

TEST(TextureTest, AVerseStandsInAnotherKey) {
  Scene made = scene();
  made.player.changes[3].transpose_semitones = 1;
  for (const TrueNote& note : of_pass(made.play(), 3)) {
    EXPECT_EQ(note.pitch, made.score.notes[static_cast<std::size_t>(note.score)].pitch + 1);
  }
}

}  // namespace
}  // namespace loftbeat::simulate
