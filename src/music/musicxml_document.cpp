#include "music/musicxml_document.h"

#include <charconv>
#include <cmath>
#include <cstring>
#include <utility>

namespace loftbeat::music {
namespace {

// "<name>" as the file has it, for messages; a hostile name is cut.
std::string tag(pugi::xml_node node) { return "<" + std::string(node.name()).substr(0, 40) + ">"; }

std::string shown(std::string_view text) {
  return text.empty() ? "empty" : "'" + std::string(text.substr(0, 40)) + "'";
}

template <typename T>
std::optional<T> to_number(std::string_view text) {
  text = trimmed(text);
  if (!text.empty() && text.front() == '+') text.remove_prefix(1);
  T value{};
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return value;
}

}  // namespace

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view kSpace = " \t\r\n";
  const std::size_t begin = text.find_first_not_of(kSpace);
  if (begin == text.npos) return {};
  return text.substr(begin, text.find_last_not_of(kSpace) + 1 - begin);
}

std::optional<int> to_int(std::string_view text) { return to_number<int>(text); }

std::optional<double> to_double(std::string_view text) {
  const auto value = to_number<double>(text);
  return value && std::isfinite(*value) ? value : std::nullopt;
}

MusicXmlDocument::MusicXmlDocument(std::string_view bytes, std::string name)
    : name_(std::move(name)), text_(decode_xml_text(bytes, name_)) {
  constexpr unsigned kOptions =
      pugi::parse_default | pugi::parse_embed_pcdata | pugi::parse_doctype;
  const pugi::xml_parse_result result =
      tree_.load_buffer(text_.data(), text_.size(), kOptions, pugi::encoding_utf8);
  if (result.status == pugi::status_out_of_memory) throw std::bad_alloc();
  if (!result || !root()) {
    const auto offset = static_cast<std::size_t>(std::max<std::ptrdiff_t>(result.offset, 0));
    throw ReadFailure{{ErrorKind::unreadable,
                       "this is not well-formed XML (" + std::string(result.description()) +
                           "); expected MusicXML.",
                       name_, line_at(text_, offset), 0,
                       "Open the score in the program it comes from and export it again."}};
  }
  require_no_entities();
  require_shallow();
}

void MusicXmlDocument::require_no_entities() const {
  for (pugi::xml_node node : tree_.children()) {
    if (node.type() != pugi::node_doctype || !std::strstr(node.value(), "<!ENTITY")) continue;
    throw ReadFailure{{ErrorKind::unreadable,
                       "the file declares entities of its own, which MusicXML does not need; "
                       "expected none.",
                       name_, line_at(text_, text_.find("<!ENTITY")), 0,
                       "Remove the part of the DOCTYPE in square brackets."}};
  }
}

void MusicXmlDocument::require_shallow() const {
  int depth = 1;
  pugi::xml_node node = root();
  while (node) {
    if (depth > kMaxXmlDepth) {
      fail(node,
           "elements are nested more than " + std::to_string(kMaxXmlDepth) +
               " deep; expected MusicXML.",
           ErrorKind::too_large);
    }
    if (node.first_child()) {
      node = node.first_child();
      ++depth;
      continue;
    }
    while (node && !node.next_sibling() && depth > 1) {
      node = node.parent();
      --depth;
    }
    node = depth > 1 ? node.next_sibling() : pugi::xml_node();
  }
}

int MusicXmlDocument::line_of(pugi::xml_node at) const {
  const std::ptrdiff_t offset = at.offset_debug();
  return offset < 0 ? 0 : line_at(text_, static_cast<std::size_t>(offset));
}

void MusicXmlDocument::fail(pugi::xml_node at, const std::string& message, ErrorKind kind) const {
  throw ReadFailure{{kind, message, name_, line_of(at), 0,
                     "Correct it in the program the score comes from and export it again."}};
}

void MusicXmlDocument::put_up_with(pugi::xml_node at, const std::string& message) {
  if (notices_.size() < kMaxNotices) {
    notices_.push_back({message, name_, line_of(at)});
  } else {
    ++dropped_notices_;
  }
}

std::vector<Notice> MusicXmlDocument::take_notices() {
  if (dropped_notices_ > 0) {
    notices_.push_back({std::to_string(dropped_notices_) + " more of the kind", name_, 0});
  }
  return std::move(notices_);
}

int MusicXmlDocument::whole_number(pugi::xml_node at, int least, int most) const {
  const std::string_view text = trimmed(at.child_value());
  const auto value = to_int(text);
  if (!value || *value < least || *value > most) {
    fail(at, tag(at) + " is " + shown(text) + "; expected a whole number from " +
                 std::to_string(least) + " to " + std::to_string(most) + ".");
  }
  return *value;
}

std::int64_t MusicXmlDocument::thousandths(pugi::xml_node at, std::int64_t most) const {
  const std::string_view text = trimmed(at.child_value());
  const auto value = to_double(text);
  if (!value || *value < 0 || *value > static_cast<double>(most)) {
    fail(at, tag(at) + " is " + shown(text) + "; expected a number from 0 to " +
                 std::to_string(most) + ".");
  }
  return std::llround(*value * 1000.0);
}

}  // namespace loftbeat::music
