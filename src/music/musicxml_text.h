#pragma once

#include <string>
#include <string_view>

#include "base/base.h"

namespace loftbeat::music {

// Limits of a MusicXML text. Elements and attributes are counted before the tree is built, which
// takes at most 64 bytes for each, and as much again for text that stands between elements.
inline constexpr std::size_t kMaxXmlItems = 4'000'000;
inline constexpr int kMaxXmlDepth = 64;

// Thrown inside the readers of MusicXML and ABC only; it ends in parse_musicxml, parse_mxl,
// parse_abc and list_abc_tunes.
struct ReadFailure {
  Error error;
};

// The text of an XML file as UTF-8 without byte order mark: UTF-8, UTF-16 of either byte order
// (by its mark or its first characters) and ISO-8859-1 (by its declaration) are taken. Throws
// ReadFailure for text that is in none of these, holds NUL, or declares more than kMaxXmlItems.
[[nodiscard]] std::string decode_xml_text(std::string_view bytes, const std::string& name);

// `text` as it may stand in XML: control characters become spaces, bytes that are not UTF-8 "?".
[[nodiscard]] std::string printable_text(std::string_view text);

// The line, from 1, in which byte `offset` of `text` stands.
[[nodiscard]] int line_at(std::string_view text, std::size_t offset);

}  // namespace loftbeat::music
