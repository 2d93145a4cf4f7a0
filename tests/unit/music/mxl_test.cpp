// Compressed MusicXML: a zip archive with META-INF/container.xml (MusicXML 4.0, "Compressed .mxl
// files"). Archives are made here with libzip and then damaged by hand.

#include <zip.h>

#include "xml_piece.h"

namespace loftbeat::music {
namespace {

using namespace xml;
using Entries = std::vector<std::pair<std::string, std::string>>;

std::string container(const std::string& path, const std::string& more = {}) {
  return "<?xml version=\"1.0\"?><container><rootfiles>" + more + "<rootfile full-path=\"" + path +
         "\"/></rootfiles></container>";
}

std::string zipped(const Entries& entries) {
  zip_error_t error;
  zip_source_t* target = zip_source_buffer_create(nullptr, 0, 0, &error);
  zip_source_keep(target);
  zip_t* archive = zip_open_from_source(target, ZIP_TRUNCATE, &error);
  for (const auto& [name, text] : entries) {
    const zip_int64_t entry = zip_file_add(
        archive, name.c_str(), zip_source_buffer(archive, text.data(), text.size(), 0), 0);
    zip_set_file_compression(archive, static_cast<zip_uint64_t>(entry), ZIP_CM_DEFLATE, 1);
  }
  EXPECT_EQ(zip_close(archive), 0);
  zip_source_open(target);
  zip_stat_t stat;
  zip_source_stat(target, &stat);
  std::string bytes(stat.size, '\0');
  zip_source_read(target, bytes.data(), bytes.size());
  zip_source_close(target);
  zip_source_free(target);
  return bytes;
}

std::string piece() { return document(part(bar(start() + note("C4", 8)))); }

TEST(Mxl, IsReadByItsContainer) {
  const auto read = parse_mxl(zipped({{"other.xml", "<html/>"},
                                      {"META-INF/container.xml", container("a/score.xml")},
                                      {"a/score.xml", piece()}}),
                              "a.mxl");
  ASSERT_TRUE(read) << to_string(read.error());
  EXPECT_EQ(read->score.notes.size(), 1u);
  EXPECT_TRUE(read->notices.empty());
}

TEST(Mxl, PassesOverRootfilesOfOtherKinds) {
  const std::string pdf = "<rootfile full-path=\"score.pdf\" media-type=\"application/pdf\"/>";
  const auto read = parse_mxl(
      zipped({{"META-INF/container.xml", container("s.xml", pdf)}, {"s.xml", piece()}}), "a.mxl");
  EXPECT_TRUE(read) << to_string(read.error());
}

TEST(Mxl, WithoutContainerTheFirstScoreIsReadWithANotice) {
  const auto read = parse_mxl(zipped({{"s.musicxml", piece()}}), "a.mxl");
  ASSERT_TRUE(read) << to_string(read.error());
  EXPECT_EQ(read->notices.size(), 1u);
}

TEST(Mxl, NamesAreNamesAndNoPaths) {
  const auto read = parse_mxl(
      zipped({{"META-INF/container.xml", container("../../etc/passwd")}, {"s.xml", piece()}}),
      "a.mxl");
  ASSERT_FALSE(read.ok());
  EXPECT_NE(read.error().message.find("not in the archive"), std::string::npos);
  const auto odd = parse_mxl(
      zipped({{"META-INF/container.xml", container("../s.xml")}, {"../s.xml", piece()}}), "a.mxl");
  EXPECT_TRUE(odd) << to_string(odd.error());
}

TEST(Mxl, ErrorsInTheScoreNameTheFileAndItsLine) {
  const auto read = parse_mxl(
      zipped({{"s.xml", document(part(bar(start() + "<backup><duration>9</duration></backup>")))}}),
      "hymn.mxl");
  ASSERT_FALSE(read.ok());
  EXPECT_EQ(read.error().file, "hymn.mxl");
  EXPECT_EQ(read.error().line, 6);
}

TEST(Mxl, WithoutAScoreIsRefused) {
  const auto read = parse_mxl(zipped({{"readme.txt", "hello"}}), "a.mxl");
  ASSERT_FALSE(read.ok());
  EXPECT_NE(read.error().message.find("no score"), std::string::npos);
}

TEST(Mxl, BombIsStoppedAtTheLimit) {
  // 300 MB of spaces in some 300 KB.
  const auto read =
      parse_mxl(zipped({{"s.xml", std::string(std::size_t{300} * 1024 * 1024, ' ')}}), "bomb.mxl");
  ASSERT_FALSE(read.ok());
  EXPECT_EQ(read.error().kind, ErrorKind::too_large);
  EXPECT_NE(read.error().message.find("256 MB"), std::string::npos);
}

TEST(Mxl, FalseSizesAreNotBelieved) {
  // The size that the central directory and the local header state is set to nearly 4 GB, then
  // to 1.
  const std::string text = piece();
  for (const unsigned claimed : {0xFFFFFFF0u, 1u}) {
    std::string bytes = zipped({{"s.xml", text}});
    std::string true_size;
    std::string false_size;
    for (int shift = 0; shift < 32; shift += 8) {
      true_size += static_cast<char>(text.size() >> shift & 0xFF);
      false_size += static_cast<char>(claimed >> shift & 0xFF);
    }
    for (auto at = bytes.find(true_size); at != bytes.npos; at = bytes.find(true_size, at + 4)) {
      bytes.replace(at, 4, false_size);
    }
    const auto read = parse_mxl(bytes, "false.mxl");
    if (read) {
      EXPECT_EQ(read->score.notes.size(), 1u);
    } else {
      EXPECT_FALSE(read.error().message.empty());
    }
  }
}

TEST(Mxl, DamageOfAnyByteNeverCrashes) {
  const std::string whole =
      zipped({{"META-INF/container.xml", container("s.xml")}, {"s.xml", piece()}});
  for (std::size_t i = 0; i < whole.size(); ++i) {
    std::string damaged = whole;
    damaged[i] = static_cast<char>(damaged[i] ^ 0x55);
    const auto result = parse_mxl(damaged, "damaged.mxl");
    if (!result) {
      EXPECT_FALSE(result.error().message.empty());
    }
    EXPECT_FALSE(parse_mxl(whole.substr(0, i), "cut.mxl").ok());
  }
}

TEST(ReadScore, GoesByWhatTheFileHolds) {
  EXPECT_TRUE(parse_score(piece(), "named.mid").ok());
  EXPECT_TRUE(parse_score(zipped({{"s.xml", piece()}}), "named.musicxml").ok());
  EXPECT_TRUE(parse_score("\xEF\xBB\xBF" + piece(), "unnamed").ok());
  for (const char* bytes : {"", "%PDF-1.4", "hello"}) {
    const auto read = parse_score(bytes, "hymn.pdf");
    ASSERT_FALSE(read.ok()) << bytes;
    EXPECT_NE(to_string(read.error()).find("expected"), std::string::npos);
  }
}

TEST(ReadScore, SaysWhichFileIsMissing) {
  const auto read = read_score("no/such/hymn.musicxml");
  ASSERT_FALSE(read.ok());
  EXPECT_NE(to_string(read.error()).find("no/such/hymn.musicxml"), std::string::npos);
}

}  // namespace
}  // namespace loftbeat::music
