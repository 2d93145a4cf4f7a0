#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "base/result.h"
#include "take/take.h"

namespace loftbeat::take {

// The journal of a take that is being recorded: a file that only grows, of which nothing is lost
// but what came after the last sync(). One thread writes it; anyone may read it, also while it is
// written or after a crash.
//
// Layout: the 16 bytes "loftbeat take 1\n", then records. A record is the length of its contents
// (32 bits, low byte first), their CRC-32 (ISO 3309, as zlib computes it; 32 bits), and the
// contents: nanoseconds from the start (64 bits), kind, port, channel, data1, data2 (a byte each),
// and the event's bytes, if any. A record without contents says that the take was ended.

inline constexpr std::string_view kJournalHead = "loftbeat take 1\n";
// Longer contents are not written: nothing that a keyboard sends is.
inline constexpr std::size_t kMostJournalBytes = 65536;

class JournalWriter {
 public:
  // Makes the file; it must not be there yet. Errors: it is there, or the system refuses.
  [[nodiscard]] static Result<JournalWriter> create(const std::string& path);
  JournalWriter(JournalWriter&& other) noexcept;
  JournalWriter& operator=(JournalWriter&& other) noexcept;
  ~JournalWriter();  // closes the file without syncing

  // Into memory only. False if the event is too large and was left out.
  [[nodiscard]] bool append(const Event& event);
  // Marks the end of the take; nothing may be appended after it.
  void end();
  // Writes all that was appended and waits until it is on the disk. After an error (a full disk)
  // nothing is lost: what was not written stays in memory, and the next sync goes on with it.
  [[nodiscard]] Status sync();
  // Bytes in memory that no sync has written yet.
  [[nodiscard]] std::size_t pending() const { return pending_.size(); }

 private:
  JournalWriter(int file, std::string path) : file_(file), path_(std::move(path)) {}
  void put(std::string_view contents);

  int file_ = -1;
  std::string path_;
  std::string pending_;
};

struct JournalContents {
  Take take;                   // events in order of time
  bool ended = false;          // the take was ended as it should be
  std::size_t lost_bytes = 0;  // at the end or between: torn or damaged
};

// Reads what is there. A torn record at the end, and damaged ones between whole ones, are left out
// and counted. Errors: not there, or no journal.
[[nodiscard]] Result<JournalContents> read_journal(const std::string& path);
[[nodiscard]] Result<JournalContents> parse_journal(std::string_view bytes,
                                                    const std::string& name);

}  // namespace loftbeat::take
