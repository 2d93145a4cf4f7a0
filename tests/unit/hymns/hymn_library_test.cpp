#include "practice/hymn_library.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>

#include "base/file.h"
#include "music/write.h"
#include "practice/hymn_search.h"
#include "simulate/invented_hymn.h"

namespace loftbeat::practice {
namespace {

namespace fs = std::filesystem;

// A folder of scores and a cache beside it, both of this test alone.
class HymnFolder : public testing::Test {
 protected:
  void SetUp() override {
    top_ = testing::TempDir() + "loftbeat-hymns-" + std::to_string(::getpid()) + "-" +
           testing::UnitTest::GetInstance()->current_test_info()->name();
    fs::remove_all(top_);
    fs::create_directories(folder() + "/more");
    write("azmon.musicxml", parish("azmon.musicxml"));
    write("more/evening.musicxml", parish("evening.musicxml"));
    write("two.abc",
          "X:3\nT:First of Two\nT:FIRST C.M.\nM:4/4\nL:1/4\nK:G\nG2AB|c2BA|\nw: Sing un- to God my "
          "soul\n\nX:7\nT:Second of Two\nM:3/4\nL:1/4\nK:Em\nEFG|A2B|\n");
    write("broken.abc",
          "X:1\nT:Broken\nM:4/4\nL:1/4\nK:C\nCD[E|\n\nX:2\nT:Whole\nM:4/4\nK:C\nCDEF|\n");
    write("notes.txt", "no score");
    write("empty.mid", "");
  }
  void TearDown() override { fs::remove_all(top_); }

  std::string folder() const { return top_ + "/scores"; }
  std::string cache() const { return top_ + "/cache"; }
  void write(const std::string& name, const std::string& bytes) const {
    ASSERT_TRUE(write_file(folder() + "/" + name, bytes).ok());
  }
  static std::string parish(const std::string& name) {
    return *read_file(LOFTBEAT_SOURCE_DIR "/sessions/quaverham/" + name);
  }
  HymnLibrary open(const std::string& what = {}, Reread reread = Reread::changed) const {
    auto library = open_hymns({what.empty() ? folder() : what, cache(), reread, {}});
    if (!library) ADD_FAILURE() << to_string(library.error());
    return library ? std::move(*library) : HymnLibrary{};
  }
  std::string index_path() const {
    for (const auto& entry : fs::directory_iterator(cache())) return entry.path().string();
    return {};
  }

 private:
  std::string top_;
};

std::vector<std::string> names(const std::vector<const Hymn*>& hymns) {
  std::vector<std::string> all;
  for (const Hymn* hymn : hymns) all.push_back(hymn_name(*hymn));
  return all;
}

TEST_F(HymnFolder, HoldsWhatCanBeReadAndTellsTheRest) {
  const HymnLibrary library = open();
  EXPECT_EQ(
      names(all_hymns(library.index)),
      (std::vector<std::string>{"First of Two", "Now the lamps are lit at even",
                                "O for a thousand tongues to sing", "Second of Two", "Whole"}));
  const auto unread = all_unread(library.index);
  ASSERT_EQ(unread.size(), 2u);
  EXPECT_EQ(unread[0]->where, "broken.abc#1");
  EXPECT_NE(unread[0]->reason.find("line 6, column "), std::string::npos) << unread[0]->reason;
  EXPECT_EQ(unread[1]->where, "empty.mid");
  EXPECT_EQ(library.read, 5u);
}

TEST_F(HymnFolder, TellsOfEachHymnWhatABookDoes) {
  const HymnLibrary library = open();
  const auto azmon = with_words(all_hymns(library.index), "thousand");
  ASSERT_EQ(azmon.size(), 1u);
  const Hymn& hymn = *azmon.front();
  EXPECT_EQ(hymn.where, "azmon.musicxml");
  EXPECT_EQ(hymn.tune, "Azmon");
  EXPECT_EQ(hymn.first_line, "O for a thousand tongues to sing");
  EXPECT_EQ(metre_words(hymn), "8.6.8.6 (C.M.) *");
  EXPECT_EQ(key_words(hymn), "G major");
  EXPECT_EQ(hymn.beats, 3);
  EXPECT_TRUE(hymn.upbeat);
  EXPECT_EQ(hymn.bars, 8);
  EXPECT_EQ(hymn.phrases, 4);
  EXPECT_EQ(hymn.verses, 3);
  EXPECT_EQ(range_words(hymn), "E2–D5");
  const auto first = with_words(all_hymns(library.index), "FIRST two");
  ASSERT_EQ(first.size(), 1u);
  EXPECT_EQ(first.front()->where, "two.abc#3");
  EXPECT_EQ(first.front()->metre_source, MetreSource::stated);
  EXPECT_EQ(key_words(*with_words(all_hymns(library.index), "second").front()), "E minor");
}

TEST_F(HymnFolder, IsSearchedByWordsAndByMetre) {
  const HymnLibrary library = open();
  const auto all = all_hymns(library.index);
  EXPECT_EQ(with_words(all, "").size(), all.size());
  EXPECT_EQ(names(with_words(all, "LIT lamps")).size(), 1u);
  EXPECT_EQ(with_words(all, "more/evening").size(), 1u);
  EXPECT_TRUE(with_words(all, "lamps thousand").empty());
  for (const char* metre : {"CM", "8.6.8.6", "86 86"})
    EXPECT_EQ(with_metre(all, *music::parse_poetic_metre(metre)).size(), 2u) << metre;
  EXPECT_TRUE(with_metre(all, *music::parse_poetic_metre("LM")).empty());
}

TEST_F(HymnFolder, ReadsAgainOnlyWhatChanged) {
  const HymnLibrary first = open();
  HymnLibrary again = open();
  EXPECT_EQ(again.read, 0u);
  EXPECT_EQ(again.index, first.index);
  write("two.abc", "X:1\nT:Another\nM:4/4\nL:1/4\nK:C\nCDEF|\n");
  fs::remove(folder() + "/empty.mid");
  again = open();
  EXPECT_EQ(again.read, 1u);
  EXPECT_EQ(with_words(all_hymns(again.index), "another").size(), 1u);
  EXPECT_TRUE(with_words(all_hymns(again.index), "second").empty());
  EXPECT_EQ(all_unread(again.index).size(), 1u);
  EXPECT_EQ(open({}, Reread::all).read, 4u);
  EXPECT_EQ(open().index, again.index);
}

TEST_F(HymnFolder, MakesADamagedOrNewerIndexAnewAndSaysSo) {
  const HymnLibrary first = open();
  EXPECT_TRUE(first.notices.empty());
  const std::string kept = *read_file(index_path());
  std::string newer = kept;
  newer.replace(newer.find('\t') + 1, 1, "9");
  for (const std::string& text :
       {std::string("nonsense"), kept.substr(0, kept.size() / 2), newer}) {
    ASSERT_TRUE(write_file(index_path(), text).ok());
    const HymnLibrary library = open();
    EXPECT_EQ(library.index, first.index);
    EXPECT_EQ(library.read, 5u);
    ASSERT_EQ(library.notices.size(), 1u);
    EXPECT_NE(library.notices[0].message.find("made anew"), std::string::npos);
    EXPECT_EQ(*read_file(index_path()), kept);
  }
}

TEST_F(HymnFolder, MayBeOneFileOfSeveralTunes) {
  const HymnLibrary library = open(folder() + "/two.abc");
  EXPECT_EQ(names(all_hymns(library.index)),
            (std::vector<std::string>{"First of Two", "Second of Two"}));
  EXPECT_EQ(all_hymns(library.index).front()->where, "two.abc#3");
}

TEST_F(HymnFolder, LeavesOutLinksHiddenFilesAndRecordedPlaying) {
  fs::create_directory_symlink(folder(), folder() + "/more/round");
  write(".hidden.abc", "X:1\nT:Hidden\nK:C\nC|\n");
  write("take.mid", parish("azmon.mid"));
  const HymnLibrary library = open();
  EXPECT_EQ(all_hymns(library.index).size(), 5u);
  const auto unread = all_unread(library.index);
  ASSERT_EQ(unread.size(), 3u);
  EXPECT_TRUE(unread.back()->playing);
}

TEST_F(HymnFolder, TellsWhereThereIsNone) {
  const auto none = open_hymns({folder() + "/nowhere", cache(), Reread::changed, {}});
  ASSERT_FALSE(none);
  EXPECT_EQ(none.error().kind, ErrorKind::unreadable);
}

TEST_F(HymnFolder, ReadingCanBeEndedAndNothingIsKept) {
  std::size_t all_files = 0;
  HymnRequest request{folder(), cache(), Reread::changed, {}};
  request.progress = [&](std::size_t, std::size_t all) {
    all_files = all;
    return false;
  };
  const auto library = open_hymns(request);
  ASSERT_TRUE(library.ok());
  EXPECT_FALSE(library->complete);
  EXPECT_EQ(all_files, 5u);
  EXPECT_FALSE(fs::exists(cache()));
}

TEST_F(HymnFolder, KeepsFewIndexes) {
  for (std::size_t i = 0; i < kMostKeptIndexes + 3; ++i) {
    const std::string one = folder() + "/one" + std::to_string(i) + ".abc";
    ASSERT_TRUE(write_file(one, "X:1\nT:One\nM:4/4\nK:C\nCDEF|\n").ok());
    static_cast<void>(open(one));
  }
  std::size_t kept = 0;
  for ([[maybe_unused]] const auto& entry : fs::directory_iterator(cache())) ++kept;
  EXPECT_EQ(kept, kMostKeptIndexes);
}

TEST(HymnSearch, AccentsAndCapitalsMakeNoDifference) {
  Hymn hymn;
  hymn.title = "Doré, «L'été»";
  const std::vector<const Hymn*> all = {&hymn};
  for (const char* words : {"dore", "DORÉ", "lete", "l'été", "ete"})
    EXPECT_EQ(with_words(all, words).size(), 1u) << words;
  EXPECT_TRUE(with_words(all, "dora").empty());
}

}  // namespace
}  // namespace loftbeat::practice
