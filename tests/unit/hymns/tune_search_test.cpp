// The tune is named by its first line, as simulated players play it.

#include "practice/tune_search.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>

#include "line_player.h"
#include "music/music.h"
#include "simulate/invented_hymn.h"

namespace loftbeat::practice {
namespace {

constexpr std::size_t kTunes = 300;

// The demo parish and, up to 300, hymns by chance. LOFTBEAT_ABC_FOLDER names a folder of real ones
// that are put in first.
std::vector<music::Score> tune_book() {
  std::vector<music::Score> book;
  std::vector<std::string> paths;
  if (const char* folder = std::getenv("LOFTBEAT_ABC_FOLDER")) {
    for (const auto& entry : std::filesystem::recursive_directory_iterator(folder))
      if (entry.path().extension() == ".abc") paths.push_back(entry.path().string());
  }
  for (const char* name : {"azmon", "evening", "old-hundredth"})
    paths.push_back(std::string(LOFTBEAT_SOURCE_DIR "/sessions/quaverham/") + name + ".musicxml");
  std::sort(paths.begin(), paths.end());
  for (const std::string& path : paths)
    if (auto read = music::read_score(path)) book.push_back(std::move(read->score));
  for (std::uint64_t seed = 1; book.size() < kTunes; ++seed)
    book.push_back(simulate::invented_hymn(simulate::invented_shape(seed), seed));
  return book;
}

struct Book {
  std::vector<music::Score> scores = tune_book();
  std::vector<TuneOutline> outlines;
  std::vector<const TuneOutline*> tunes;
  Book() {
    for (const music::Score& score : scores) outlines.push_back(outline_of(score));
    for (const TuneOutline& outline : outlines) tunes.push_back(&outline);
  }
};

const Book& book() {
  static const Book kBook;
  return kBook;
}

// Two files may hold one tune: what is played of it is then the same.
bool same_tune(const TuneOutline& a, const TuneOutline& b) {
  const std::size_t size = std::min<std::size_t>({a.notes.size(), b.notes.size(), 12});
  for (std::size_t i = 0; i < size; ++i)
    if (a.notes[i].pitch - a.notes[0].pitch != b.notes[i].pitch - b.notes[0].pitch) return false;
  return true;
}

struct Tally {
  int asked = 0;
  int right = 0;
  int sure = 0;
  int surely_wrong = 0;
  [[nodiscard]] double share() const { return right / static_cast<double>(std::max(asked, 1)); }
};

// The first line and, where it is shorter than a line of words can be (the hymns by chance have
// lines of three long notes), what follows, up to seven notes or more.
std::vector<std::size_t> first_line(std::size_t tune) {
  const TuneOutline& outline = book().outlines[tune];
  std::vector<std::size_t> lines = {0};
  while (lines.size() < outline.lines.size() && outline.lines[lines.size()] < 7)
    lines.push_back(lines.size());
  return lines;
}

LinePlayer some_player(Slip slip, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  const auto uniform = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  LinePlayer player;
  player.slip = slip;
  player.quarter_s = 0.7 / std::exp2(uniform(-1, 1));  // 43 to 171 a minute
  player.transposed = static_cast<int>(random() % 12) - 6;
  player.hands = random() % 4 == 0 ? Hands::tune_alone : Hands::four_parts;
  player.spread_s = uniform(0, 0.06);
  return player;
}

void ask(std::size_t tune, const std::vector<std::size_t>& lines, const LinePlayer& player,
         std::uint64_t seed, Tally& tally) {
  const Book& all = book();
  const take::CleanTake take = play_lines(all.scores[tune], lines, player, seed);
  const std::vector<TuneMatch> matches = find_tune(heard_tune(take), all.tunes);
  ++tally.asked;
  const bool right =
      !matches.empty() && same_tune(all.outlines[matches.front().tune], all.outlines[tune]);
  const bool sure = certainty_of(matches, all.tunes) == Certainty::sure;
  tally.right += right ? 1 : 0;
  tally.sure += sure ? 1 : 0;
  tally.surely_wrong += sure && !right ? 1 : 0;
}

// Under the sanitizers every tenth tune is asked for.
std::size_t step() { return std::getenv("LOFTBEAT_QUICK") != nullptr ? 10 : 1; }

Tally ask_all(Slip slip, const char* name) {
  Tally tally;
  for (std::size_t tune = 0; tune < kTunes; tune += step()) {
    const bool upbeat = book().scores[tune].bars.front().pickup;
    if (slip == Slip::upbeat_left_out && !upbeat) continue;
    const std::uint64_t seed = 1000 * static_cast<std::uint64_t>(slip) + tune;
    ask(tune, first_line(tune), some_player(slip, seed), seed, tally);
  }
  std::printf("%-16s %3d of %3d named first, %d surely, of these wrongly %d\n", name, tally.right,
              tally.asked, tally.sure, tally.surely_wrong);
  return tally;
}

TEST(TuneSearch, NamesTheTuneByItsFirstLineWithOneWrongNote) {
  EXPECT_GE(ask_all(Slip::none, "no slip").share(), 0.95);
  EXPECT_GE(ask_all(Slip::substituted, "substituted").share(), 0.95);
  EXPECT_GE(ask_all(Slip::missed, "missed").share(), 0.95);
  EXPECT_GE(ask_all(Slip::added, "added").share(), 0.95);
  EXPECT_GE(ask_all(Slip::upbeat_left_out, "upbeat left out").share(), 0.95);
}

// First and last line, then verse 1; and the last line alone as play-over.
TEST(TuneSearch, NamesTheTuneByAPlayOverAndWhatFollows) {
  Tally both;
  Tally last;
  for (std::size_t tune = 0; tune < kTunes; tune += step()) {
    const std::size_t lines = std::max<std::size_t>(book().scores[tune].phrases.size(), 1);
    std::vector<std::size_t> first = first_line(tune);
    std::vector<std::size_t> play_over = first;
    play_over.push_back(lines - 1);
    play_over.insert(play_over.end(), first.begin(), first.end());
    first.insert(first.begin(), lines - 1);
    ask(tune, play_over, some_player(Slip::substituted, 7000 + tune), tune, both);
    ask(tune, first, some_player(Slip::substituted, 8000 + tune), tune, last);
  }
  std::printf("play-over of first and last line, then the first: %d of %d\n", both.right,
              both.asked);
  std::printf("last line, then the first: %d of %d\n", last.right, last.asked);
  EXPECT_GE(both.share(), 0.95);
  EXPECT_GE(last.share(), 0.95);
}

TuneOutline outline(const std::vector<int>& pitches, std::vector<std::size_t> lines = {0}) {
  TuneOutline made;
  for (std::size_t i = 0; i < pitches.size(); ++i)
    made.notes.push_back({static_cast<Tick>(i) * kTicksPerQuarter, pitches[i]});
  made.lines = std::move(lines);
  return made;
}

std::vector<HeardNote> heard(const std::vector<int>& pitches, double beat_s = 0.5) {
  std::vector<HeardNote> made;
  for (std::size_t i = 0; i < pitches.size(); ++i)
    made.push_back({static_cast<double>(i) * beat_s, pitches[i]});
  return made;
}

const std::vector<int> kPitches = {60, 62, 64, 60, 67, 65, 64, 62, 60, 69, 67, 65};

TEST(TuneSearch, CostsWhatTheHeaderSays) {
  const TuneOutline tune = outline(kPitches);
  const std::vector<const TuneOutline*> tunes = {&tune};
  const auto cost = [&](const std::vector<HeardNote>& played) {
    return find_tune(played, tunes).front().cost;
  };
  std::vector<int> higher(kPitches.begin(), kPitches.begin() + 8);
  for (int& pitch : higher) pitch += 4;
  const auto exact = find_tune(heard(higher, 0.25), tunes);
  EXPECT_NEAR(exact.front().cost, 0, 1e-5);
  EXPECT_EQ(exact.front().transposed, 4);
  higher[3] += 1;
  EXPECT_NEAR(cost(heard(higher, 0.25)), 1, 1e-5);
}

TEST(TuneSearch, TellsTheLineWithWhichThePlayingBegins) {
  const TuneOutline tune = outline(kPitches, {0, 6});
  const std::vector<int> second(kPitches.begin() + 6, kPitches.end());
  const auto matches = find_tune(heard(second), {&tune});
  ASSERT_EQ(matches.size(), 1u);
  EXPECT_EQ(matches.front().line, 1u);
}

TEST(TuneSearch, IsSureOnlyWhereNoOtherTuneIsNear) {
  const TuneOutline one = outline(kPitches);
  std::vector<int> other_pitches = kPitches;
  other_pitches[11] = 72;  // differs only later than what is played
  const TuneOutline other = outline(other_pitches);
  const TuneOutline far = outline({60, 60, 72, 60, 60, 72, 60, 60, 72, 60, 60, 72});
  const std::vector<HeardNote> played = heard({60, 62, 64, 60, 67, 65, 64});
  const std::vector<const TuneOutline*> apart = {&far, &one};
  EXPECT_EQ(certainty_of(find_tune(played, apart), apart), Certainty::sure);
  EXPECT_EQ(find_tune(played, apart).front().tune, 1u);
  const std::vector<const TuneOutline*> near = {&one, &other};
  EXPECT_EQ(certainty_of(find_tune(played, near), near), Certainty::maybe);
  // The same tune in two files is no rival.
  const TuneOutline again = outline(kPitches);
  const std::vector<const TuneOutline*> twice = {&one, &again, &far};
  EXPECT_EQ(certainty_of(find_tune(played, twice), twice), Certainty::sure);
  const std::vector<HeardNote> strange = heard({60, 71, 49, 80, 62, 90, 41});
  EXPECT_EQ(certainty_of(find_tune(strange, apart), apart), Certainty::none);
}

TEST(TuneSearch, TooFewNotesNameNothing) {
  const TuneOutline tune = outline(kPitches);
  EXPECT_TRUE(find_tune(heard({60, 62, 64}), {&tune}).empty());
  EXPECT_TRUE(find_tune({}, {&tune}).empty());
  EXPECT_TRUE(find_tune(heard(kPitches), {}).empty());
  const TuneOutline none;
  EXPECT_TRUE(find_tune(heard(kPitches), {&none}).empty());
  EXPECT_EQ(certainty_of({}, {}), Certainty::none);
}

TEST(HeardTune, IsTheHighestKeyOfEachStroke) {
  take::CleanTake take;
  const auto strike = [&](double on, double off, int pitch) {
    take::TakenNote note;
    note.on = instant_from_seconds(on);
    note.off = note.sound_off = instant_from_seconds(off);
    note.pitch = static_cast<std::uint8_t>(pitch);
    take.notes.push_back(note);
  };
  // A spread chord, then the tenor moves alone under the held tune, then the tune goes down,
  // overlapping a little.
  strike(0.00, 1.0, 48);
  strike(0.02, 1.0, 60);
  strike(0.04, 1.04, 72);
  strike(0.50, 1.0, 59);
  strike(1.00, 1.5, 71);
  strike(1.01, 1.5, 55);
  const auto tune = heard_tune(take);
  ASSERT_EQ(tune.size(), 2u);
  EXPECT_EQ(tune[0].pitch, 72);
  EXPECT_EQ(tune[1].pitch, 71);
  EXPECT_NEAR(tune[1].at, 1.0, 1e-9);
}

}  // namespace
}  // namespace loftbeat::practice
