// Our reading of MIDI files against two readers of other make, on files that abc2midi wrote.
// Source: Standard MIDI File 1.0 (RP-001) as midicsv 1.1 and mido 1.2 (both from Debian) read it.

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "base/base.h"
#include "csv_lines.h"
#include "music/smf_bytes.h"
#include "music/smf_file.h"
#include "take/smf_take.h"
#include "tool.h"

namespace loftbeat {
namespace {

// Reading against two independent programs: Debian's midicsv 1.1 (every event's tick and bytes)
// and python3-mido 1.2 (seconds by the merged tempo map), on files that abc2midi makes of our own
// tunes, and on files written byte by byte.

const std::string kHere = LOFTBEAT_SOURCE_DIR "/tests/reference/smf/";

class Folder {
 public:
  Folder() {
    std::string pattern = (std::filesystem::temp_directory_path() / "loftbeat-XXXXXX").string();
    const char* made = ::mkdtemp(pattern.data());
    path_ = made != nullptr ? made : "";
  }
  ~Folder() {
    std::error_code ignored;
    if (!path_.empty()) std::filesystem::remove_all(path_, ignored);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  [[nodiscard]] std::string file(const std::string& name) const { return path_ + "/" + name; }

 private:
  std::string path_;
};

std::string bytes_of(const std::string& digits) {
  std::string out;
  std::istringstream words(digits);
  for (unsigned value = 0; words >> std::hex >> value;) out.push_back(static_cast<char>(value));
  return out;
}

std::string track(const std::string& digits) {
  const std::string body = bytes_of(digits);
  std::string out = "MTrk";
  music::append_u32(out, static_cast<std::uint32_t>(body.size()));
  return out + body;
}

// Every kind of event that the standard has, with running status and awkward delta times.
std::string every_event() {
  return "MThd" + bytes_of("00 00 00 06 00 01 00 03 00 78") +
         track(
             "00 FF 00 02 00 05 00 FF 01 03 61 22 5C 00 FF 03 02 54 31 00 FF 58 04 06 03 24 08 "
             "00 FF 59 02 FD 01 00 FF 51 03 09 27 C0 81 48 FF 51 03 06 1A 80 83 60 FF 51 03 0F "
             "42 40 00 FF 54 05 60 01 02 03 04 00 FF 7F 03 7D 01 02 00 FF 2F "
             "00") +
         track(
             "00 FF 20 01 03 00 FF 21 01 01 00 C3 13 00 B3 07 64 00 0A 40 10 93 3C 40 00 40 41 "
             "3C 3C 00 00 40 00 81 00 83 43 7F 00 E3 01 40 FF 7F A3 3C 22 00 D3 55 00 F0 05 7E "
             "7F 09 01 F7 00 F0 03 43 12 00 64 F7 02 43 F7 81 80 80 00 93 3C 01 0A "
             "3C 00 00 FF 2F 00") +
         track(
             "00 FF 05 04 54 68 65 0D 0A FF 06 05 56 65 72 73 65 05 FF 07 03 63 75 65 03 9F 24 "
             "7F 70 24 00 00 FF 2F 00");
}

// What mido 1.2.10 cannot read: an escape with a real-time byte, and a meta event of unknown type.
std::string odd_events() {
  return "MThd" + bytes_of("00 00 00 06 00 00 00 01 01 E0") +
         track("00 F7 01 F8 10 FF 60 02 05 06 10 92 3C 40 81 00 3C 00 00 FF 2F 00");
}

// The files to try: ours by abc2midi, and the one written here.
class MadeFile : public testing::TestWithParam<std::string> {
 protected:
  // The path of the file, or nothing if abc2midi is not there.
  std::optional<std::string> make() {
    const std::string path = folder_.file("made.mid");
    if (GetParam() == "every_event") {
      std::ofstream(path, std::ios::binary) << every_event();
      return path;
    }
    if (GetParam() == "odd_events") {
      std::ofstream(path, std::ios::binary) << odd_events();
      return path;
    }
    const std::string command = "abc2midi " + kHere + GetParam() + ".abc -o " + path;
    if (!output_of(command) || !std::filesystem::exists(path)) return std::nullopt;
    return path;
  }

 private:
  Folder folder_;
};

class SmfAgainstMidicsv : public MadeFile {};
class SmfAgainstMido : public MadeFile {};

#define LOFTBEAT_NEED(what, tool)                                      \
  if (!(what)) {                                                       \
    if (may_miss_tools()) GTEST_SKIP() << tool << " is not installed"; \
    FAIL() << tool << " is needed: run tools/setup, or set "           \
           << "LOFTBEAT_ALLOW_MISSING_TOOLS to go without";            \
  }

TEST_P(SmfAgainstMidicsv, ReadsEveryEventAsMidicsvDoes) {
  const auto path = make();
  LOFTBEAT_NEED(path, "abc2midi (Debian package abcmidi)");
  const auto csv = output_of("midicsv " + *path);
  LOFTBEAT_NEED(csv, "midicsv");
  const auto file = music::parse_smf(*read_file(*path), *path);
  ASSERT_TRUE(file.ok());
  EXPECT_TRUE(file->notices.empty());
  EXPECT_EQ(music::csv_lines(*file), *csv);
}

struct Message {
  double seconds = 0;
  std::string bytes;
};

std::vector<Message> told_by_mido(const std::string& text) {
  std::vector<Message> messages;
  std::istringstream lines(text);
  for (Message m; lines >> m.seconds >> m.bytes;) messages.push_back(m);
  return messages;
}

std::optional<std::string> mido_dump(const std::string& path) {
  // Debian's python3 first: another one in the path may not see Debian's packages.
  for (const char* python : {"/usr/bin/python3 ", "python3 "}) {
    if (auto text = output_of(python + kHere + "mido_dump.py " + path)) return text;
  }
  return std::nullopt;
}

std::string hex_of(const take::Event& event) {
  constexpr int kStatus[] = {0x90, 0x80, 0xA0, 0xB0, 0xC0, 0xD0, 0xE0};
  const auto kind = static_cast<std::size_t>(event.kind);
  char text[16];
  const bool one =
      event.kind == take::EventKind::program || event.kind == take::EventKind::channel_pressure;
  std::snprintf(text, sizeof text, one ? "%02x%02x" : "%02x%02x%02x",
                static_cast<unsigned>(kStatus[kind] | event.channel), event.data1, event.data2);
  return text;
}

// Takes store a note-on of velocity 0 as the release it means.
std::string as_release(std::string bytes) {
  const bool silent = bytes.size() == 6 && bytes[0] == '9' && bytes.substr(4) == "00";
  if (silent) bytes[0] = '8';
  return bytes;
}

TEST_P(SmfAgainstMido, TellsTheSameSecondsAsMido) {
  const auto path = make();
  LOFTBEAT_NEED(path, "abc2midi (Debian package abcmidi)");
  const auto text = mido_dump(*path);
  LOFTBEAT_NEED(text, "python3-mido");
  const std::vector<Message> told = told_by_mido(*text);
  const auto take = take::parse_take(*read_file(*path), *path);
  ASSERT_TRUE(take.ok());
  std::vector<take::Event> ours;
  for (const take::Event& event : take->events) {
    if (event.kind < take::EventKind::exclusive) ours.push_back(event);
  }
  ASSERT_EQ(ours.size(), told.size());
  for (std::size_t i = 0; i < ours.size(); ++i) {
    EXPECT_NEAR(seconds(ours[i].at), told[i].seconds, 1e-6) << i;
    EXPECT_EQ(hex_of(ours[i]), as_release(told[i].bytes)) << i;
  }
}

INSTANTIATE_TEST_SUITE_P(Files, SmfAgainstMidicsv,
                         testing::Values("own_hymn", "changes", "band", "every_event",
                                         "odd_events"),
                         [](const auto& named) { return named.param; });
INSTANTIATE_TEST_SUITE_P(Files, SmfAgainstMido,
                         testing::Values("own_hymn", "changes", "band", "every_event"),
                         [](const auto& named) { return named.param; });

}  // namespace
}  // namespace loftbeat
