#include "music/read.h"

#include <algorithm>
#include <charconv>
#include <optional>
#include <string>
#include <utility>

#include "music/abc.h"

namespace loftbeat::music {
namespace {

using std::string_view_literals::operator""sv;

enum class FileKind { musicxml, mxl, smf, abc, unknown };

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
  if (ending == ".abc") return FileKind::abc;
  if (ending == ".musicxml" || ending == ".xml") return FileKind::musicxml;
  return FileKind::unknown;
}

FileKind find_kind(std::string_view bytes, const std::string& name) {
  if (starts_with(bytes, "MThd") || starts_with(bytes, "RIFF")) return FileKind::smf;
  if (starts_with(bytes, "PK\x03\x04"sv) || starts_with(bytes, "PK\x05\x06"sv)) {
    return FileKind::mxl;
  }
  if (looks_like_xml(bytes)) return FileKind::musicxml;
  return looks_like_abc(bytes) ? FileKind::abc : kind_by_ending(name);
}

// "tunes.abc#3": tune X:3 of tunes.abc.
struct TunePath {
  std::string file;
  int number = 0;
};

std::optional<TunePath> split_tune_path(const std::string& path) {
  const std::size_t hash = path.rfind('#');
  if (hash == path.npos) return std::nullopt;
  const std::string_view digits = std::string_view(path).substr(hash + 1);
  TunePath tune{path.substr(0, hash), 0};
  if (kind_by_ending(tune.file) != FileKind::abc || digits.empty() || digits.size() > 9) {
    return std::nullopt;
  }
  const auto [end, error] =
      std::from_chars(digits.data(), digits.data() + digits.size(), tune.number);
  if (error != std::errc{} || end != digits.data() + digits.size() || tune.number < 0) {
    return std::nullopt;
  }
  return tune;
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
    case FileKind::abc: return parse_abc(bytes, name);
    case FileKind::unknown: break;
  }
  return Error{ErrorKind::unreadable,
               "this is no score that Loftbeat reads; expected MusicXML (.musicxml, .mxl), ABC "
               "(.abc) or a Standard MIDI File (.mid).",
               name,
               0,
               0,
               "Export the score as MusicXML from the program it comes from."};
}

Result<ReadScore> read_score(const std::string& path) {
  auto bytes = read_file(path);
  if (bytes) return parse_score(*bytes, path);
  const auto tune = split_tune_path(path);
  if (!tune) return bytes.error();
  bytes = read_file(tune->file);
  if (!bytes) return bytes.error();
  return parse_abc(*bytes, tune->file, tune->number);
}

}  // namespace loftbeat::music
