#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <utility>

#include "take/journal.h"
#include "take/journal_record.h"

namespace loftbeat::take {
namespace {

Error refused(const std::string& what, const std::string& path, int why) {
  Error error;
  error.message = what + ": " + std::strerror(why) + ".";
  error.file = path;
  error.hint = why == ENOSPC ? "Make room on the disk; what was played is kept in memory meanwhile."
                             : "Choose a folder that may be written to.";
  return error;
}

}  // namespace

Result<JournalWriter> JournalWriter::create(const std::string& path) {
  constexpr int kMode = 0644;
  const int file = ::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_APPEND | O_CLOEXEC, kMode);
  if (file < 0) return refused("the journal of the take cannot be made", path, errno);
  JournalWriter writer(file, path);
  writer.pending_ = kJournalHead;
  if (Status status = writer.sync(); !status) return status.error();
  return writer;
}

JournalWriter::JournalWriter(JournalWriter&& other) noexcept
    : file_(std::exchange(other.file_, -1)),
      path_(std::move(other.path_)),
      pending_(std::move(other.pending_)) {}

JournalWriter& JournalWriter::operator=(JournalWriter&& other) noexcept {
  std::swap(file_, other.file_);
  std::swap(path_, other.path_);
  std::swap(pending_, other.pending_);
  return *this;
}

JournalWriter::~JournalWriter() {
  if (file_ >= 0) ::close(file_);
}

bool JournalWriter::append(const Event& event) {
  const std::string contents = journal_contents(event);
  if (contents.size() > kMostJournalBytes) return false;
  pending_ += journal_record(contents);
  return true;
}

void JournalWriter::end() { pending_ += journal_record({}); }

Status JournalWriter::sync() {
  std::size_t written = 0;
  int why = 0;
  while (written < pending_.size() && why == 0) {
    const ssize_t count = ::write(file_, pending_.data() + written, pending_.size() - written);
    if (count >= 0) {
      written += static_cast<std::size_t>(count);
    } else if (errno != EINTR) {
      why = errno;
    }
  }
  pending_.erase(0, written);  // also a part of a record: the next sync writes the rest
  if (why == 0 && ::fdatasync(file_) != 0) why = errno;
  if (why != 0) return refused("the take cannot be written", path_, why);
  return {};
}

}  // namespace loftbeat::take
