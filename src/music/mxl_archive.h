#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "music/musicxml_text.h"

struct zip;

namespace loftbeat::music {

// All that is unpacked from one archive.
inline constexpr std::size_t kMaxUnzippedBytes = std::size_t{256} * 1024 * 1024;

// A zip archive in memory, read only; nothing is ever written to disk, so names of entries are
// names and no paths. Members throw ReadFailure.
class MxlArchive {
 public:
  // `bytes` must outlive the archive.
  MxlArchive(std::string_view bytes, std::string name);
  ~MxlArchive();
  MxlArchive(const MxlArchive&) = delete;
  MxlArchive& operator=(const MxlArchive&) = delete;

  [[nodiscard]] std::vector<std::string> entries() const;
  [[nodiscard]] bool has(const std::string& entry) const;
  // The contents of an entry, counted as they come: what the archive says of their size is not
  // believed. All entries read may have kMaxUnzippedBytes together.
  [[nodiscard]] std::string read(const std::string& entry);

 private:
  [[noreturn]] void fail(ErrorKind kind, const std::string& message) const;

  std::string name_;
  zip* archive_ = nullptr;
  std::size_t left_ = kMaxUnzippedBytes;
};

}  // namespace loftbeat::music
