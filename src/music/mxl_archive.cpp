#include "music/mxl_archive.h"

#include <zip.h>

#include <array>
#include <memory>
#include <utility>

namespace loftbeat::music {
namespace {

struct CloseEntry {
  void operator()(zip_file_t* file) const { zip_fclose(file); }
};

constexpr std::size_t kChunkBytes = std::size_t{64} * 1024;
constexpr zip_int64_t kMaxEntries = 10'000;

}  // namespace

MxlArchive::MxlArchive(std::string_view bytes, std::string name) : name_(std::move(name)) {
  zip_error_t error;
  zip_error_init(&error);
  zip_source_t* source = zip_source_buffer_create(bytes.data(), bytes.size(), 0, &error);
  if (source == nullptr) throw std::bad_alloc();
  archive_ = zip_open_from_source(source, ZIP_RDONLY, &error);
  const std::string reason = zip_error_strerror(&error);
  zip_error_fini(&error);
  if (archive_ == nullptr) {
    zip_source_free(source);
    fail(ErrorKind::unreadable,
         "this is not a sound zip archive (" + reason + "); expected compressed MusicXML.");
  }
}

MxlArchive::~MxlArchive() {
  if (archive_ != nullptr) zip_discard(archive_);
}

void MxlArchive::fail(ErrorKind kind, const std::string& message) const {
  throw ReadFailure{{kind, message, name_, 0, 0,
                     "Export the score again, or unpack it and open the .musicxml inside."}};
}

std::vector<std::string> MxlArchive::entries() const {
  const zip_int64_t count = zip_get_num_entries(archive_, 0);
  if (count > kMaxEntries)
    fail(ErrorKind::too_large, "the archive has more than 10000 entries; expected a score or two.");
  std::vector<std::string> names;
  for (zip_int64_t i = 0; i < count; ++i) {
    const char* entry = zip_get_name(archive_, static_cast<zip_uint64_t>(i), 0);
    if (entry != nullptr) names.emplace_back(entry);
  }
  return names;
}

bool MxlArchive::has(const std::string& entry) const {
  return zip_name_locate(archive_, entry.c_str(), 0) >= 0;
}

std::string MxlArchive::read(const std::string& entry) {
  const std::unique_ptr<zip_file_t, CloseEntry> file(zip_fopen(archive_, entry.c_str(), 0));
  if (!file) {
    fail(ErrorKind::unreadable, "the archive's entry '" + entry.substr(0, 80) +
                                    "' cannot be opened (" + zip_strerror(archive_) + ").");
  }
  std::string contents;
  std::array<char, kChunkBytes> chunk{};
  for (;;) {
    const zip_int64_t got = zip_fread(file.get(), chunk.data(), chunk.size());
    if (got < 0) {
      fail(ErrorKind::unreadable, "the archive's entry '" + entry.substr(0, 80) + "' is damaged.");
    }
    if (got == 0) return contents;
    const auto bytes = static_cast<std::size_t>(got);
    if (bytes > left_)
      fail(ErrorKind::too_large, "the archive unpacks to more than 256 MB; expected less.");
    left_ -= bytes;
    contents.append(chunk.data(), bytes);
  }
}

}  // namespace loftbeat::music
