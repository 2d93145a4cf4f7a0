// Source: the programs of libgig (Debian's gigtools), a reader of SoundFonts that shares nothing
// with FluidSynth or with us.

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include "../report/outside_tool.h"
#include "base/file.h"
#include "pipes/pipes.h"
#include "pipes/sample.h"
#include "rendered.h"

namespace loftbeat::pipes {
namespace {

class Scratch {
 public:
  Scratch() {
    std::string name = (std::filesystem::temp_directory_path() / "ranks-XXXXXX").string();
    path_ = mkdtemp(name.data());
  }
  ~Scratch() { std::filesystem::remove_all(path_); }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  [[nodiscard]] std::string path(const std::string& name) const { return path_ + "/" + name; }

 private:
  std::string path_;
};

std::string contents(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

std::string bytes_of(const std::vector<std::int16_t>& points, std::size_t from, std::size_t to) {
  std::string bytes;
  for (std::size_t i = from; i < to; ++i) {
    const auto point = static_cast<unsigned>(points[i]);
    bytes += static_cast<char>(point & 0xFFU);
    bytes += static_cast<char>(point >> 8U & 0xFFU);
  }
  return bytes;
}

TEST(SecondReader, ListsEveryRankAndComplainsOfNothing) {
  if (!loftbeat::testing::is_there("command -v sf2dump", "gigtools")) GTEST_SKIP();
  const auto recipes = read_recipes(recipes_folder());
  ASSERT_TRUE(recipes.ok());
  const Scratch scratch;
  const std::string command = "sf2dump '" + ranks_file() + "' >'" + scratch.path("out") + "' 2>'" +
                              scratch.path("complaints") + "'";
  EXPECT_EQ(std::system(command.c_str()), 0);
  EXPECT_EQ(contents(scratch.path("complaints")), "");
  const std::string told = contents(scratch.path("out"));
  EXPECT_NE(told.find("Version: 2.4"), std::string::npos);
  const std::string count = std::to_string(recipes->ranks.size());
  EXPECT_NE(told.find("Presets (" + count + ")"), std::string::npos);
  EXPECT_NE(told.find("Instruments (" + count + ")"), std::string::npos);
  EXPECT_NE(told.find("Samples (" + std::to_string(recipes->ranks.size() * zones().size()) + ")"),
            std::string::npos);
  for (const Rank& rank : recipes->ranks)
    EXPECT_NE(told.find(rank.label + " (Preset: " + std::to_string(rank.program) + ", Bank: 0"),
              std::string::npos)
        << rank.id;
}

// Also tells that ranks.sf2 was made of the recipes and the code as they stand.
TEST(SecondReader, ExtractsTheVerySamplesThatAreMadeHere) {
  if (!loftbeat::testing::is_there("command -v sf2extract", "gigtools")) GTEST_SKIP();
  const auto recipes = read_recipes(recipes_folder());
  ASSERT_TRUE(recipes.ok());
  for (const std::size_t r : {std::size_t{1}, std::size_t{18}, std::size_t{21}}) {
    const std::size_t zone = (5 * r) % zones().size();
    const Scratch scratch;
    const std::string command = "sf2extract '" + ranks_file() + "' '" + scratch.path("") + "' " +
                                std::to_string(r * zones().size() + zone + 1) + " >/dev/null 2>'" +
                                scratch.path("complaints") + "'";
    EXPECT_EQ(std::system(command.c_str()), 0);
    EXPECT_EQ(contents(scratch.path("complaints")), "");
    std::string wave;
    for (const auto& entry : std::filesystem::directory_iterator(scratch.path("")))
      if (entry.path().extension() == ".wav") wave = contents(entry.path().string());
    ASSERT_FALSE(wave.empty());
    const Sample sample = make_sample(recipes->ranks[r], zones()[zone]);
    EXPECT_NE(wave.find(bytes_of(sample.points, 0, sample.loop_end)), std::string::npos)
        << recipes->ranks[r].id << " zone " << zone;
  }
}

// The file was made by another process, and perhaps by another build tree: the same bytes.
TEST(RanksFile, IsWhatIsMadeHereByteForByte) {
  const auto recipes = read_recipes(recipes_folder());
  ASSERT_TRUE(recipes.ok());
  if (std::getenv("LOFTBEAT_QUICK") == nullptr) {
    const auto built = build_soundfont(*recipes, {});
    ASSERT_TRUE(built.ok()) << to_string(built.error());
    EXPECT_TRUE(*built == contents(ranks_file()));
    return;
  }
  Recipes few;
  few.ranks = {recipes->ranks[1], recipes->ranks[18]};
  const auto first = build_soundfont(few, {});
  const auto second = build_soundfont(few, {});
  ASSERT_TRUE(first.ok() && second.ok());
  EXPECT_TRUE(*first == *second);
}

TEST(RanksFile, StaysBelowFortyMegabytes) {
  EXPECT_LT(std::filesystem::file_size(ranks_file()), 40'000'000U);
}

// Velocity means nothing to a pipe. Each time a FluidSynth of its own: one that has played keeps
// the end of the last key in its filters.
TEST(RanksFile, SoundsAlikeAtEveryVelocity) {
  for (const int program : {1, 21}) {
    const auto loud = Renderer(ranks_file()).render(program, 61, 0, 0.2, 127);
    const auto soft = Renderer(ranks_file()).render(program, 61, 0, 0.2, 1);
    EXPECT_TRUE(loud == soft) << program;
  }
}

// Every key from 24 to 108 of every preset speaks.
TEST(RanksFile, SpeaksOnEveryKey) {
  const auto recipes = read_recipes(recipes_folder());
  ASSERT_TRUE(recipes.ok());
  Renderer renderer(ranks_file());
  ASSERT_TRUE(renderer.loaded());
  for (const Rank& rank : recipes->ranks) {
    for (int key = kLowestKey; key <= kHighestKey; key += 4) {
      double square = 0;
      for (const float point : renderer.render(rank.program, key, 0.3, 0.1))
        square += static_cast<double>(point * point) / 4800;
      EXPECT_GT(square, 1e-6) << rank.id << " key " << key;
    }
  }
}

}  // namespace
}  // namespace loftbeat::pipes
