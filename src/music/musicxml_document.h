#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <pugixml.hpp>

#include "music/musicxml_text.h"

namespace loftbeat::music {

// More notices than this are counted, not kept.
inline constexpr std::size_t kMaxNotices = 50;

// A MusicXML file as a tree that knows its lines. Inside the reader only.
class MusicXmlDocument {
 public:
  // Throws ReadFailure for text that is not well-formed, is deeper than kMaxXmlDepth, or declares
  // entities of its own.
  MusicXmlDocument(std::string_view bytes, std::string name);

  [[nodiscard]] pugi::xml_node root() const { return tree_.document_element(); }

  [[noreturn]] void fail(pugi::xml_node at, const std::string& message,
                         ErrorKind kind = ErrorKind::unreadable) const;
  // Says what was put up with.
  void put_up_with(pugi::xml_node at, const std::string& message);
  [[nodiscard]] std::vector<Notice> take_notices();

  // The whole number that the element holds, between `least` and `most`; throws otherwise.
  [[nodiscard]] int whole_number(pugi::xml_node at, int least, int most) const;
  // A duration or divisions in thousandths: "1.5" gives 1500. Between 0 and `most` whole units.
  [[nodiscard]] std::int64_t thousandths(pugi::xml_node at, std::int64_t most) const;

 private:
  [[nodiscard]] int line_of(pugi::xml_node at) const;
  void require_no_entities() const;
  void require_shallow() const;

  std::string name_;
  std::string text_;  // UTF-8, kept for the sake of line numbers
  pugi::xml_document tree_;
  std::vector<Notice> notices_;
  std::size_t dropped_notices_ = 0;
};

// The text of an element without white space round it.
[[nodiscard]] std::string_view trimmed(std::string_view text);
// The whole of `text` as a number; nothing if it is none or does not fit.
[[nodiscard]] std::optional<int> to_int(std::string_view text);
[[nodiscard]] std::optional<double> to_double(std::string_view text);

}  // namespace loftbeat::music
