#include "report/json_parts.h"
#include "report/words.h"

namespace loftbeat::report {
namespace {

using follow::MatchKind;

class NoteWriter {
 public:
  NoteWriter(JsonWriter& json, const practice::Review& review) : json_(json), review_(review) {}

  void played(const take::TakenNote& note, const follow::NoteMatch& match) {
    json_.begin_object();
    pass(match.pass);
    score_place(match, note);
    json_.seconds("onset_s", note.on);
    json_.seconds("release_s", note.off);
    json_.integer("velocity", note.velocity);
    json_.integer("channel", note.channel + 1);
    json_.text("kind", match_name(match.kind));
    json_.end_object();
  }

  void held(const follow::HeldNote& held) {
    json_.begin_object();
    pass(held.pass);
    score_note(held.score);
    json_.unknown("onset_s", kHeldOver);
    json_.unknown("release_s", kHeldOver);
    json_.unknown("velocity", kHeldOver);
    json_.text("kind", match_name(MatchKind::held));
    json_.end_object();
  }

  void missed(const follow::MissedNote& missed) {
    json_.begin_object();
    pass(missed.pass);
    score_note(missed.score);
    json_.end_object();
  }

 private:
  static constexpr std::string_view kHeldOver = "a key held over sounds this note already";

  void pass(int index) {
    if (index < 0) {
      json_.unknown("pass", "outside every pass");
      json_.unknown("run", "outside every pass");
      return;
    }
    const follow::AlignedPass& pass = review_.alignment.passes.at(static_cast<std::size_t>(index));
    json_.text("pass", pass.label);
    json_.integer("run", pass.run);
    json_.integer("pass_index", index);
  }

  void score_note(int index) {
    const music::Note& note = review_.score.notes.at(static_cast<std::size_t>(index));
    json_.quarters("quarter", note.onset);
    json_.integer("pitch", note.pitch);
  }

  void score_place(const follow::NoteMatch& match, const take::TakenNote& note) {
    if (match.score >= 0) {
      score_note(match.score);
    } else {
      json_.unknown("quarter", "no note of the score");
      json_.integer("pitch", note.pitch);
    }
    json_.integer("played_pitch", note.pitch);
  }

  JsonWriter& json_;
  const practice::Review& review_;
};

}  // namespace

void write_notes(JsonWriter& json, const practice::Review& review) {
  NoteWriter writer(json, review);
  json.key("notes");
  json.begin_array(JsonWriter::Layout::one_item_a_line);
  for (std::size_t i = 0; i < review.alignment.notes.size(); ++i) {
    writer.played(review.take.notes.at(i), review.alignment.notes[i]);
  }
  for (const follow::HeldNote& held : review.alignment.held) writer.held(held);
  json.end_array();
  json.key("missed");
  json.begin_array(JsonWriter::Layout::one_item_a_line);
  for (const follow::MissedNote& missed : review.alignment.missed) writer.missed(missed);
  json.end_array();
}

}  // namespace loftbeat::report
