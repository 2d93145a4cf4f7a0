// Encodings of XML text: UTF-8 and UTF-16 (XML 1.0, section 4.3.3), ISO-8859-1 by declaration.

#include "xml_piece.h"

namespace loftbeat::music {
namespace {

using namespace xml;

const std::string kTitle = "B\xC3\xA4uerle \xF0\x9D\x84\x9E \xE2\x99\xAD";  // umlaut, clef, flat

std::string titled(const std::string& title) {
  return document(part(bar(start() + note("C4", 8))),
                  "<work><work-title>" + title + "</work-title></work>");
}

// UTF-8 to UTF-16 by the definition, for well-formed text.
std::string utf16(const std::string& text, bool big) {
  std::string out = big ? "\xFE\xFF" : "\xFF\xFE";
  const auto put = [&](unsigned unit) {
    const char high = static_cast<char>(unit >> 8);
    const char low = static_cast<char>(unit & 0xFF);
    out += big ? high : low;
    out += big ? low : high;
  };
  for (std::size_t i = 0; i < text.size();) {
    const auto lead = static_cast<unsigned char>(text[i]);
    const std::size_t length = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
    unsigned code = length == 1 ? lead : lead & (0xFFu >> (length + 1));
    for (std::size_t k = 1; k < length; ++k)
      code = code << 6 | (static_cast<unsigned char>(text[i + k]) & 0x3F);
    if (code < 0x10000) {
      put(code);
    } else {
      put(0xD800 + ((code - 0x10000) >> 10));
      put(0xDC00 + ((code - 0x10000) & 0x3FF));
    }
    i += length;
  }
  return out;
}

TEST(XmlEncoding, Utf8WithAndWithoutMark) {
  EXPECT_EQ(score(titled(kTitle)).title, kTitle);
  EXPECT_EQ(score("\xEF\xBB\xBF" + titled(kTitle)).title, kTitle);
}

TEST(XmlEncoding, Utf16OfEitherOrder) {
  std::string text = titled(kTitle);
  text.replace(text.find("UTF-8"), 5, "UTF-16");
  EXPECT_EQ(score(utf16(text, true)).title, kTitle);
  EXPECT_EQ(score(utf16(text, false)).title, kTitle);
  EXPECT_EQ(score(utf16(text, true).substr(2)).title, kTitle);
  EXPECT_EQ(score(utf16(text, false).substr(2)).title, kTitle);
}

TEST(XmlEncoding, Latin1ByItsDeclaration) {
  std::string text = titled("B\xE4uerle");
  text.replace(text.find("UTF-8"), 5, "ISO-8859-1");
  EXPECT_EQ(score(text).title, "B\xC3\xA4uerle");
}

TEST(XmlEncoding, BytesThatAreNotUtf8AreRefusedWithTheirLine) {
  for (const char* bad : {"\xE4", "\xC0\x80", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xF0\x9D\x84"}) {
    const auto result = parse_musicxml(titled(bad), "bad");
    ASSERT_FALSE(result.ok());
    EXPECT_NE(result.error().message.find("UTF-8"), std::string::npos);
    EXPECT_EQ(result.error().line, 2);
  }
}

TEST(XmlEncoding, NulIsRefused) {
  EXPECT_FALSE(parse_musicxml(titled(std::string("a\0b", 3)), "bad").ok());
}

TEST(XmlEncoding, LinesOfUtf16AreCounted) {
  std::string text = document(part(bar(start() + "<backup><duration>9</duration></backup>")));
  const auto result = parse_musicxml(utf16(text, false), "bad");
  ASSERT_FALSE(result.ok());
  EXPECT_EQ(result.error().line, 6);
}

}  // namespace
}  // namespace loftbeat::music
