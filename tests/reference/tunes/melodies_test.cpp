#include "parish.h"

namespace loftbeat {
namespace {

// A melody as degrees of the major scale (1 to 7; ' an octave higher, , an octave lower) and
// lengths in quarters, one entry a note.
struct Degree {
  const char* degree;
  double quarters;
};

int pitch_of(const Degree& degree, int tonic) {
  constexpr int kMajor[] = {0, 2, 4, 5, 7, 9, 11};
  int pitch = tonic + kMajor[degree.degree[0] - '1'];
  if (degree.degree[1] == '\'') pitch += 12;
  if (degree.degree[1] == ',') pitch -= 12;
  return pitch;
}

void expect_melody(const std::string& name, int tonic, const std::vector<Degree>& melody) {
  const auto notes = voice_of(parish_score(name), 0);
  ASSERT_EQ(notes.size(), melody.size());
  Tick onset = 0;
  for (std::size_t i = 0; i < notes.size(); ++i) {
    EXPECT_EQ(notes[i].pitch, pitch_of(melody[i], tonic)) << "note " << i + 1;
    EXPECT_EQ(notes[i].length, ticks_from_quarters(melody[i].quarters)) << "note " << i + 1;
    EXPECT_EQ(notes[i].onset, onset) << "note " << i + 1;
    onset += notes[i].length;
  }
}

// Source: Mutopia Project, "Old 100th (original version)", piece 2009/04/11-194, marked public
// domain, there after the Genevan Psalter of 1551 (repository MutopiaProject/MutopiaProject, file
// ftp/Anonymous/Old100-orig/Old100-orig.ly, commit 383f1489). Our note values are half of those.
TEST(Melodies, old_hundredth_is_the_genevan_tune) {
  expect_melody(
      "old-hundredth", 67,
      {{"1", 2}, {"1", 1}, {"7,", 1}, {"6,", 1}, {"5,", 1}, {"1", 2},  {"2", 2},  {"3", 2},
       {"3", 2}, {"3", 1}, {"3", 1},  {"2", 1},  {"1", 1},  {"4", 2},  {"3", 2},  {"2", 2},
       {"1", 2}, {"2", 1}, {"3", 1},  {"2", 1},  {"1", 1},  {"6,", 2}, {"7,", 2}, {"1", 2},
       {"5", 2}, {"3", 1}, {"1", 1},  {"2", 1},  {"4", 1},  {"3", 2},  {"2", 2},  {"1", 2}});
}

// Sources: Mutopia Project, "Azmon (hymntune)", piece 2008/01/13-1224, marked public domain (same
// repository, file ftp/GlaserCG/azmon/azmon.ly, commit 3fbb9ced); the Open Hymnal Project's ABC
// file after The Methodist Hymnal, 1905, hymn 1, gives the same degrees and lengths in A flat. Our
// note values are half of those (three-two there, three-four here).
TEST(Melodies, azmon_is_as_in_the_hymn_books) {
  expect_melody("azmon", 67, {{"5,", 1},  {"1", .5}, {"1", .5},  {"2", 1},  {"2", 1},  {"3", .5},
                              {"2", .5},  {"1", 1},  {"2", 1},   {"3", .5}, {"3", .5}, {"4", 1},
                              {"3", 1},   {"2", 2},  {"5", 1},   {"5", .5}, {"3", .5}, {"3", 1},
                              {"1", 1},   {"1", .5}, {"6,", .5}, {"6,", 1}, {"1", .5}, {"6,", .5},
                              {"5,", .5}, {"1", .5}, {"1", 1},   {"2", 1},  {"1", 2}});
}

// Long metre is four lines of eight syllables, common metre 8.6.8.6 (common practice, no source);
// the one two-note syllable of Azmon makes seven notes of its last line.
TEST(Melodies, lines_have_the_syllables_of_their_metre) {
  const auto notes_in_phrases = [](const std::string& name) {
    const music::Score score = parish_score(name);
    std::vector<std::size_t> counts;
    for (const music::Phrase& phrase : score.phrases) {
      std::size_t count = 0;
      for (const music::Note& note : voice_of(score, 0)) count += phrase.span.contains(note.onset);
      counts.push_back(count);
    }
    return counts;
  };
  EXPECT_EQ(notes_in_phrases("old-hundredth"), (std::vector<std::size_t>{8, 8, 8, 8}));
  EXPECT_EQ(notes_in_phrases("azmon"), (std::vector<std::size_t>{8, 6, 8, 7}));
  EXPECT_EQ(notes_in_phrases("evening"), (std::vector<std::size_t>{8, 7, 8, 7, 8, 7}));
}

}  // namespace
}  // namespace loftbeat
