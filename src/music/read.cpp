#include "music/read.h"

#include <algorithm>
#include <string>
#include <utility>

namespace loftbeat::music {
namespace {

using std::string_view_literals::operator""sv;

enum class FileKind { musicxml, mxl, smf, unknown };

bool starts_with(std::string_view text, std::string_view start) {
  return text.substr(0, start.size()) == start;
}

// XML begins with "<", after a byte order mark or white space, in UTF-8 or UTF-16.
bool looks_like_xml(std::string_view bytes) {
  for (const std::string_view mark : {"\xEF\xBB\xBF"sv, "\xFF\xFE"sv, "\xFE\xFF"sv}) {
    if (starts_with(bytes, mark)) bytes.remove_prefix(mark.size());
  }
  const std::size_t first = bytes.find_first_not_of(" \t\r\n\0"sv);
  return first != bytes.npos && bytes[first] == '<';
}

std::string lower_ending(const std::string& name) {
  const std::size_t dot = name.rfind('.');
  if (dot == name.npos) return {};
  std::string ending = name.substr(dot);
  std::transform(ending.begin(), ending.end(), ending.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
  return ending;
}

FileKind kind_by_ending(const std::string& name) {
  const std::string ending = lower_ending(name);
  if (ending == ".mid" || ending == ".midi" || ending == ".smf") return FileKind::smf;
  if (ending == ".mxl") return FileKind::mxl;
  if (ending == ".musicxml" || ending == ".xml") return FileKind::musicxml;
  return FileKind::unknown;
}

FileKind find_kind(std::string_view bytes, const std::string& name) {
  if (starts_with(bytes, "MThd") || starts_with(bytes, "RIFF")) return FileKind::smf;
  if (starts_with(bytes, "PK\x03\x04"sv) || starts_with(bytes, "PK\x05\x06"sv)) {
    return FileKind::mxl;
  }
  return looks_like_xml(bytes) ? FileKind::musicxml : kind_by_ending(name);
}

}  // namespace

Result<ReadScore> parse_score(std::string_view bytes, const std::string& name) {
  if (bytes.empty()) {
    return Error{ErrorKind::unreadable, "the file is empty; expected a score.", name};
  }
  switch (find_kind(bytes, name)) {
    case FileKind::musicxml: return parse_musicxml(bytes, name);
    case FileKind::mxl: return parse_mxl(bytes, name);
    case FileKind::smf: return parse_smf_score(bytes, name);
    case FileKind::unknown: break;
  }
  return Error{ErrorKind::unreadable,
               "this is no score that Loftbeat reads; expected MusicXML (.musicxml, .mxl) or a "
               "Standard MIDI File (.mid).",
               name,
               0,
               0,
               "Export the score as MusicXML from the program it comes from."};
}

Result<ReadScore> read_score(const std::string& path) {
  auto bytes = read_file(path);
  if (!bytes) return bytes.error();
  return parse_score(*bytes, path);
}

}  // namespace loftbeat::music
