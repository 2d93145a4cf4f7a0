#include <algorithm>
#include <string>
#include <string_view>

#include "music/musicxml_document.h"
#include "music/mxl_archive.h"
#include "music/read.h"

namespace loftbeat::music {
namespace {

constexpr const char* kContainer = "META-INF/container.xml";

bool ends_with(std::string_view text, std::string_view end) {
  return text.size() >= end.size() && text.substr(text.size() - end.size()) == end;
}

// The first <rootfile> of the container that is a score; the first of all has no media-type
// by the format's own rule.
std::string rootfile(MxlArchive& archive, const std::string& name) {
  const MusicXmlDocument container(archive.read(kContainer), name + "/" + kContainer);
  for (pugi::xml_node file : container.root().child("rootfiles").children("rootfile")) {
    const std::string_view type = file.attribute("media-type").value();
    const bool score = type.empty() || type == "application/vnd.recordare.musicxml+xml" ||
                       type == "application/vnd.recordare.musicxml";
    if (score && file.attribute("full-path")) return file.attribute("full-path").value();
  }
  container.fail(container.root(),
                 "the container names no score; expected a <rootfile> of MusicXML.");
}

std::string only_score(const MxlArchive& archive, const std::string& name) {
  for (const std::string& entry : archive.entries()) {
    const bool score = ends_with(entry, ".musicxml") || ends_with(entry, ".xml");
    if (score && entry.rfind("META-INF/", 0) != 0 && entry.rfind("__MACOSX/", 0) != 0) return entry;
  }
  throw ReadFailure{{ErrorKind::unreadable,
                     "the archive holds no score; expected compressed MusicXML.", name, 0, 0,
                     "Export the score again as .mxl or .musicxml."}};
}

Result<ReadScore> read_archive(std::string_view bytes, const std::string& name) {
  MxlArchive archive(bytes, name);
  const bool named = archive.has(kContainer);
  const std::string entry = named ? rootfile(archive, name) : only_score(archive, name);
  if (!archive.has(entry)) {
    throw ReadFailure{{ErrorKind::unreadable,
                       "the container names the score '" + entry.substr(0, 80) +
                           "', which is not in the archive.",
                       name, 0, 0, "Export the score again as .mxl or .musicxml."}};
  }
  auto read = parse_musicxml(archive.read(entry), name);
  if (read && !named) {
    read->notices.push_back(
        {"the archive has no META-INF/container.xml; its first score is read", name, 0});
  }
  return read;
}

}  // namespace

Result<ReadScore> parse_mxl(std::string_view bytes, const std::string& name) {
  try {
    return read_archive(bytes, name);
  } catch (const ReadFailure& failure) {
    return failure.error;
  } catch (const std::bad_alloc&) {
    return Error{ErrorKind::too_large, "the score does not fit into memory", name};
  } catch (const std::exception& e) {
    return Error{ErrorKind::unreadable, std::string("the score cannot be read: ") + e.what(), name};
  }
}

}  // namespace loftbeat::music
