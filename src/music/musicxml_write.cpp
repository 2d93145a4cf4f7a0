#include <pugixml.hpp>
#include <string>

#include "music/musicxml_read.h"
#include "music/musicxml_text.h"
#include "music/musicxml_write_bar.h"
#include "music/musicxml_write_note.h"
#include "music/write.h"

namespace loftbeat::music {
namespace {

struct StringWriter : pugi::xml_writer {
  std::string text;
  void write(const void* data, std::size_t size) override {
    text.append(static_cast<const char*>(data), size);
  }
};

void write_field(pugi::xml_node fields, const char* name, const std::string& text) {
  leaf(fields, "miscellaneous-field", text).append_attribute("name").set_value(name);
}

void write_header(pugi::xml_node root, const Score& score) {
  root.append_attribute("version").set_value("4.0");
  if (!score.title.empty()) {
    leaf(root.append_child("work"), "work-title", printable_text(score.title));
  }
  pugi::xml_node identification = root.append_child("identification");
  leaf(identification.append_child("encoding"), "software", "Loftbeat");
  pugi::xml_node fields = identification.append_child("miscellaneous");
  write_field(fields, kVoicesField, "as numbered");
  if (!score.tune.empty()) write_field(fields, kTuneField, printable_text(score.tune));
  if (!score.poetic_metre.empty()) write_field(fields, kMetreField, score.poetic_metre);
  if (score.lyric_verses > 0) {
    write_field(fields, kVersesField, std::to_string(score.lyric_verses));
  }
  pugi::xml_node part = root.append_child("part-list").append_child("score-part");
  part.append_attribute("id").set_value("P1");
  leaf(part, "part-name", "Organ");
}

}  // namespace

std::string format_musicxml(const Score& score) {
  pugi::xml_document document;
  pugi::xml_node declaration = document.append_child(pugi::node_declaration);
  declaration.append_attribute("version").set_value("1.0");
  declaration.append_attribute("encoding").set_value("UTF-8");
  document.append_child(pugi::node_doctype)
      .set_value(
          "score-partwise PUBLIC \"-//Recordare//DTD MusicXML 4.0 Partwise//EN\" "
          "\"http://www.musicxml.org/dtds/partwise.dtd\"");
  pugi::xml_node root = document.append_child("score-partwise");
  write_header(root, score);
  pugi::xml_node part = root.append_child("part");
  part.append_attribute("id").set_value("P1");
  const WritingPlan plan = plan_writing(score);
  MusicXmlBarWriter writer(score, plan);
  for (std::size_t i = 0; i < score.bars.size(); ++i) writer.write(i, part.append_child("measure"));
  StringWriter out;
  document.save(out, "  ", pugi::format_default, pugi::encoding_utf8);
  return out.text;
}

}  // namespace loftbeat::music
