// The order in which MusicXML 4.0 wants elements to stand. The exported files are well-formed, and
// no element stands where the format does not take it.
// Source: W3C MusicXML 4.0, content models of score-partwise, identification, attributes, note,
// notations, lyric and direction (from memory). xmllint (Debian package libxml2-utils) reads them.

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <pugixml.hpp>

#include "../smf/tool.h"
#include "sources.h"

namespace loftbeat::music {
namespace {

using Order = std::vector<std::string>;

// Children in the order in which they must come; those of a measure come in any.
const std::map<std::string, Order> kOrders = {
    {"score-partwise", {"work", "movement-title", "identification", "part-list", "part"}},
    {"identification", {"creator", "rights", "encoding", "source", "miscellaneous"}},
    {"attributes", {"divisions", "key", "time", "staves", "clef"}},
    {"key", {"fifths", "mode"}},
    {"time", {"beats", "beat-type"}},
    {"clef", {"sign", "line"}},
    {"note",
     {"chord", "pitch", "rest", "duration", "tie", "voice", "type", "dot", "time-modification",
      "staff", "notations", "lyric"}},
    {"pitch", {"step", "alter", "octave"}},
    {"time-modification", {"actual-notes", "normal-notes"}},
    {"lyric", {"syllabic", "text", "extend", "end-line"}},
    {"direction", {"direction-type", "staff", "sound"}},
    {"metronome", {"beat-unit", "per-minute"}},
    {"barline", {"bar-style"}},
    {"backup", {"duration"}},
    {"forward", {"duration"}},
    {"score-part", {"part-name"}},
};

void expect_order(pugi::xml_node node) {
  const auto order = kOrders.find(node.name());
  std::size_t place = 0;
  for (pugi::xml_node child : node.children()) {
    if (child.type() != pugi::node_element) continue;
    expect_order(child);
    if (order == kOrders.end()) continue;
    const auto found =
        std::find(order->second.begin(), order->second.end(), std::string(child.name()));
    ASSERT_NE(found, order->second.end()) << "<" << child.name() << "> in <" << node.name() << ">";
    const auto at = static_cast<std::size_t>(found - order->second.begin());
    EXPECT_GE(at, place) << "<" << child.name() << "> comes too late in <" << node.name() << ">";
    place = at;
  }
}

TEST(MusicXmlOrder, IsThatOfTheFormat) {
  for (const ExportSource& source : export_sources()) {
    SCOPED_TRACE(source.name);
    const auto read = read_score(source.path);
    ASSERT_TRUE(read.ok());
    pugi::xml_document document;
    ASSERT_TRUE(document.load_string(format_musicxml(read->score).c_str()));
    expect_order(document.child("score-partwise"));
  }
}

// Ids are there once each.
TEST(MusicXmlOrder, IdsAreThereOnce) {
  const auto read = read_score(LOFTBEAT_SOURCE_DIR "/tests/reference/abc/tunes/six_voices.abc");
  ASSERT_TRUE(read.ok());
  pugi::xml_document document;
  ASSERT_TRUE(document.load_string(format_musicxml(read->score).c_str()));
  std::map<std::string, int> ids;
  for (const pugi::xpath_node& id : document.select_nodes("//note/@id"))
    ++ids[id.attribute().value()];
  EXPECT_GT(ids.size(), 3u);
  for (const auto& [id, count] : ids) EXPECT_EQ(count, 1) << id;
}

TEST(MusicXmlOrder, AnotherParserReadsTheFiles) {
  for (const ExportSource& source : export_sources()) {
    const auto read = output_of("xmllint --nonet --noout '" + kExportFolder + source.name +
                                ".musicxml' && echo well-formed");
    if (!read && may_miss_tools()) GTEST_SKIP() << "xmllint is not installed";
    ASSERT_TRUE(read) << source.name;
    EXPECT_EQ(*read, "well-formed\n") << source.name;
  }
}

}  // namespace
}  // namespace loftbeat::music
