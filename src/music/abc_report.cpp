#include "music/abc_report.h"

#include "music/musicxml_text.h"

namespace loftbeat::music {
namespace {

constexpr std::size_t kMaxAbcNotices = 50;
constexpr std::size_t kMaxShownBytes = 24;

}  // namespace

void AbcReport::fail(AbcPlace at, const std::string& message, ErrorKind kind) const {
  throw ReadFailure{{kind, message, name_, at.line, at.column,
                     "ABC is plain text: mend it with any text editor."}};
}

void AbcReport::put_up_with(AbcPlace at, const std::string& message) {
  if (full()) {
    count_one_more();
  } else {
    notices_.push_back({message, name_, at.line});
  }
}

bool AbcReport::full() const { return notices_.size() >= kMaxAbcNotices; }

std::vector<Notice> AbcReport::take_notices() {
  if (dropped_ > 0) notices_.push_back({std::to_string(dropped_) + " more of the kind", name_, 0});
  dropped_ = 0;
  return std::move(notices_);
}

std::string abc_shown(std::string_view text) {
  std::size_t end = std::min(text.size(), kMaxShownBytes);
  while (end < text.size() && end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0) == 0x80) {
    --end;
  }
  const std::string_view more = end < text.size() ? " ..." : "";
  return "\"" + printable_text(text.substr(0, end)) + std::string(more) + "\"";
}

}  // namespace loftbeat::music
