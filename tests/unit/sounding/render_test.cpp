#include "voice/render.h"

#include <filesystem>
#include <fstream>

#include <gtest/gtest.h>
#include <sndfile.h>
#include <unistd.h>

#include "small_organ.h"
#include "voice/instrument.h"
#include "voice/perform_chord.h"

namespace loftbeat::voice {
namespace {

namespace fs = std::filesystem;

class RenderTest : public ::testing::Test {
 protected:
  void SetUp() override {
    folder_ = fs::temp_directory_path() / ("loftbeat-render-" + std::to_string(getpid()));
    fs::create_directories(folder_);
  }
  void TearDown() override { fs::remove_all(folder_); }
  [[nodiscard]] std::string path(const std::string& name) const {
    return (folder_ / name).string();
  }
  [[nodiscard]] std::unique_ptr<rt::Player> player() const {
    InstrumentOrder order;
    order.organ = &organ_;
    order.recipes = &recipes();
    order.soundfont = kSoundFont;
    auto made = make_player(order);
    EXPECT_TRUE(made.ok()) << to_string(made.error());
    return made.ok() ? std::move(*made) : nullptr;
  }
  std::vector<float> read(const std::string& name) const {
    SF_INFO info{};
    SNDFILE* file = sf_open(path(name).c_str(), SFM_READ, &info);
    EXPECT_NE(file, nullptr);
    EXPECT_EQ(info.samplerate, 48'000);
    EXPECT_EQ(info.channels, 2);
    std::vector<float> frames(static_cast<std::size_t>(2 * info.frames));
    sf_readf_float(file, frames.data(), info.frames);
    sf_close(file);
    return frames;
  }
  organ::Organ organ_ = small_organ();
  fs::path folder_;
};

TEST_F(RenderTest, WavAndFlacHoldTheSameSoundFromTheFirstFrame) {
  const auto chord = perform_chord(organ_, drawn(organ_, {"Great Open Diapason 8"}), "C4 G4", 0.5);
  ASSERT_TRUE(chord.ok());
  for (const char* name : {"a.wav", "a.FLAC"}) {
    const auto ready = player();
    ready->play(chord->events);
    const auto rendered = render_to_file(*ready, chord->frames, path(name), nullptr);
    ASSERT_TRUE(rendered.ok()) << to_string(rendered.error());
    EXPECT_GT(rendered->frames, 24'000);
    EXPECT_GT(rendered->peak, 0.001);
    EXPECT_LT(rendered->peak, 0.9);
  }
  const std::vector<float> wav = read("a.wav");
  const std::vector<float> flac = read("a.FLAC");
  ASSERT_EQ(wav.size(), flac.size());
  // The two kinds round to 24 bits each in its own way: a step of 2^-23.
  for (std::size_t i = 0; i < wav.size(); ++i) ASSERT_NEAR(wav[i], flac[i], 1.2e-7F) << i;
  // The limiter's 64 frames are cut off: pipes begin to speak within the first block.
  EXPECT_TRUE(std::any_of(wav.begin(), wav.begin() + 256, [](float x) { return x != 0; }));
  EXPECT_EQ(std::distance(fs::directory_iterator(folder_), fs::directory_iterator()), 2);
}

TEST_F(RenderTest, GivenUpItLeavesNothingBehind) {
  const auto chord = perform_chord(organ_, drawn(organ_, {"Great Open Diapason 8"}), "C4", 5);
  std::ofstream(path("kept.wav")) << "as it was";
  const auto ready = player();
  ready->play(chord->events);
  const auto given_up = render_to_file(*ready, chord->frames, path("kept.wav"),
                                       [](double share) { return share < 0.2; });
  EXPECT_FALSE(given_up.ok());
  std::string text;
  std::getline(std::ifstream(path("kept.wav")), text);
  EXPECT_EQ(text, "as it was");
  EXPECT_EQ(std::distance(fs::directory_iterator(folder_), fs::directory_iterator()), 1);
}

TEST_F(RenderTest, TellsWhatIsWrongWithThePlace) {
  const auto ready = player();
  EXPECT_FALSE(render_to_file(*ready, 100, path("a.mp3"), nullptr).ok());
  EXPECT_FALSE(render_to_file(*ready, 100, path("no/such/folder/a.wav"), nullptr).ok());
  const auto long_one = render_to_file(*ready, kMostFrames + 1, path("a.wav"), nullptr);
  ASSERT_FALSE(long_one.ok());
  EXPECT_EQ(long_one.error().kind, ErrorKind::too_large);
}

}  // namespace
}  // namespace loftbeat::voice
