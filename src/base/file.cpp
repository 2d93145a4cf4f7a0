#include "base/file.h"

#include <sys/stat.h>

#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <system_error>

#include <fmt/format.h>
#include <unistd.h>

namespace loftbeat {
namespace {

struct Closer {
  void operator()(std::FILE* f) const { std::fclose(f); }
};
using FilePtr = std::unique_ptr<std::FILE, Closer>;

// Why the last call to the system failed, in the system's words.
std::string last_system_error() {
  return std::error_code(errno, std::generic_category()).message();
}

Error unreadable(const std::string& path, std::string message, std::string hint) {
  return Error{ErrorKind::unreadable, std::move(message), path, 0, 0, std::move(hint)};
}

Error cannot_write(const std::string& path) {
  return Error{ErrorKind::failed,
               fmt::format("cannot be written: {}.", last_system_error()),
               path,
               0,
               0,
               "Choose another place, or make room on the disk."};
}

bool write_all(std::FILE* f, std::string_view contents) {
  return std::fwrite(contents.data(), 1, contents.size(), f) == contents.size() &&
         std::fflush(f) == 0;
}

}  // namespace

Result<std::string> read_file(const std::string& path, std::size_t max_bytes) {
  struct stat info {};
  if (::stat(path.c_str(), &info) != 0) {
    return unreadable(path, fmt::format("cannot be opened: {}.", last_system_error()),
                      "Check the name and the folder.");
  }
  if (S_ISDIR(info.st_mode)) {
    return unreadable(path, "is a folder; expected a file.", "Name a file inside it.");
  }
  FilePtr file(std::fopen(path.c_str(), "rb"));
  if (!file) {
    return unreadable(path, fmt::format("cannot be opened: {}.", last_system_error()),
                      "Check that you may read it.");
  }
  std::string contents;
  char block[65536];
  std::size_t got = 0;
  while ((got = std::fread(block, 1, sizeof block, file.get())) > 0) {
    if (contents.size() + got > max_bytes) {
      return Error{ErrorKind::too_large,
                   fmt::format("is larger than {} MB.", max_bytes >> 20),
                   path,
                   0,
                   0,
                   "No score or take of that size is read."};
    }
    contents.append(block, got);
  }
  if (std::ferror(file.get()) != 0) {
    return unreadable(path, fmt::format("cannot be read: {}.", last_system_error()),
                      "Copy it to another disk and try again.");
  }
  return contents;
}

std::string path_beside(const std::string& name, const std::string& file) {
  const std::filesystem::path path(name);
  if (path.is_absolute()) return name;
  return (std::filesystem::path(file).parent_path() / path).lexically_normal().string();
}

Status write_file(const std::string& path, std::string_view contents) {
  if (path == "-") {
    if (!write_all(stdout, contents)) return cannot_write("standard output");
    return {};
  }
  // A device or pipe is written in place: replacing it by a file would be wrong.
  struct stat info {};
  const bool in_place = ::stat(path.c_str(), &info) == 0 && !S_ISREG(info.st_mode);
  const std::string target = in_place ? path : fmt::format("{}.{}.part", path, ::getpid());
  FilePtr file(std::fopen(target.c_str(), "wb"));
  if (!file) return cannot_write(path);
  bool ok = write_all(file.get(), contents) && (in_place || ::fsync(::fileno(file.get())) == 0);
  ok = std::fclose(file.release()) == 0 && ok;
  if (ok && !in_place) ok = std::rename(target.c_str(), path.c_str()) == 0;
  if (!ok) {
    const Error error = cannot_write(path);
    if (!in_place) std::remove(target.c_str());
    return error;
  }
  return {};
}

}  // namespace loftbeat
