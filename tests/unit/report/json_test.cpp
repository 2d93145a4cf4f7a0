#include "report/json.h"

#include <cmath>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "report/json_writer.h"
#include "sample_review.h"

namespace loftbeat::report {
namespace {

using loftbeat::testing::sample_review;
using nlohmann::json;

json written(const practice::Review& review) { return json::parse(format_json(review)); }

// Every null stands in an object that gives its reason, and every reason stands for a null.
void expect_reasons(const json& value, const std::string& path) {
  if (value.is_array()) {
    for (const auto& item : value) {
      EXPECT_FALSE(item.is_null()) << path;
      expect_reasons(item, path + "[]");
    }
  }
  if (!value.is_object()) return;
  const json unknown = value.value("unknown", json::object());
  for (const auto& [key, member] : value.items()) {
    EXPECT_EQ(member.is_null(), unknown.contains(key)) << path << "/" << key;
    if (key != "unknown") expect_reasons(member, path + "/" + key);
  }
  for (const auto& [key, reason] : unknown.items()) {
    EXPECT_TRUE(value.contains(key)) << path << "/unknown/" << key;
    EXPECT_FALSE(reason.get<std::string>().empty());
  }
}

TEST(Json, SaysWhatItIs) {
  const json j = written(sample_review());
  EXPECT_EQ(j["format"], "loftbeat-review");
  EXPECT_EQ(j["version"], 1);
  EXPECT_EQ(j["tempo_bpm"], 72);
  EXPECT_EQ(j["beat_quarters"], 1);
}

TEST(Json, EveryNullHasItsReason) { expect_reasons(written(sample_review()), ""); }

TEST(Json, CarriesTheFiguresOfTheReview) {
  const practice::Review review = sample_review();
  const json j = written(review);
  ASSERT_EQ(j["passes"].size(), review.timing.passes.size());
  for (std::size_t i = 0; i < review.timing.passes.size(); ++i) {
    const json& pass = j["passes"][i];
    EXPECT_NEAR(pass["tempo_bpm"].get<double>(), *review.timing.passes[i].tempo_bpm, 1e-6);
    EXPECT_EQ(pass["label"], review.alignment.passes[i].label);
    EXPECT_EQ(pass["beats"].size(), review.timing.passes[i].beats.size());
  }
  ASSERT_EQ(j["joins"].size(), review.timing.joins.size());
  EXPECT_EQ(j["joins"][0]["after"], "play-over");
  EXPECT_EQ(j["joins"][0]["before"], "1");
  EXPECT_EQ(j["joins"][1]["verdict"], "late");
  EXPECT_NEAR(j["joins"][1]["silence_s"].get<double>(), review.timing.joins[1].silence_s, 1e-6);
}

TEST(Json, TellsTheStopMoves) {
  practice::Review review = sample_review();
  const json stops = written(review)["stop_moves"];
  ASSERT_EQ(stops["moves"].size(), review.stops.moves.size());
  EXPECT_EQ(stops["moves"][0]["verdict"], "clean");
  EXPECT_EQ(stops["moves"][1]["verdict"], "heard-in-the-chord");
  EXPECT_EQ(stops["moves"][1]["fault"], true);
  EXPECT_EQ(stops["moves"][2]["when"], "none");
  EXPECT_TRUE(stops["moves"][2]["first_s"].is_null());
  EXPECT_EQ(stops["elsewhere"], 1);
  review.stops = {};
  const json unknown = written(review);
  EXPECT_TRUE(unknown["stop_moves"].is_null());
  EXPECT_EQ(unknown["unknown"]["stop_moves"], "no organ is named");
}

TEST(Json, ListsEveryNoteOnce) {
  const practice::Review review = sample_review();
  const json j = written(review);
  EXPECT_EQ(j["notes"].size(), review.take.notes.size() + review.alignment.held.size());
  EXPECT_EQ(j["missed"].size(), review.alignment.missed.size());
  for (std::size_t i = 0; i < review.take.notes.size(); ++i) {
    EXPECT_EQ(j["notes"][i]["played_pitch"], review.take.notes[i].pitch);
  }
}

TEST(Json, GivesTheScoresPitchBesideThePlayedOne) {
  practice::Review review = sample_review();
  review.take.notes[0].pitch = 50;  // an octave away from score note 0 (see below)
  review.alignment.notes[0] = {0, 0, follow::MatchKind::octave};
  const json note = written(review)["notes"][0];
  EXPECT_EQ(note["kind"], "octave");
  EXPECT_EQ(note["pitch"], review.score.notes[0].pitch);
  EXPECT_EQ(note["played_pitch"], 50);
}

TEST(Json, NotesOutsideEveryPassHaveNoPass) {
  practice::Review review = sample_review();
  review.alignment.notes[0] = {-1, -1, follow::MatchKind::extra};
  const json note = written(review)["notes"][0];
  EXPECT_TRUE(note["pass"].is_null());
  EXPECT_TRUE(note["run"].is_null());
  EXPECT_TRUE(note["quarter"].is_null());
  EXPECT_EQ(note["unknown"]["pass"], "outside every pass");
}

TEST(Json, NeverWritesWhatIsNoNumber) {
  practice::Review review = sample_review();
  review.timing.passes[0].tempo_bpm = std::nan("");
  review.timing.joins[0].silence_s = HUGE_VAL;
  review.timing.passes[0].hesitations.push_back({0, "1", 1, std::nan(""), -HUGE_VAL});
  const json j = written(review);
  EXPECT_TRUE(j["passes"][0]["tempo_bpm"].is_null());
  EXPECT_TRUE(j["joins"][0]["silence_s"].is_null());
  expect_reasons(j, "");
}

TEST(Json, KeepsPrintedBarsThatAreNoNumbers) {
  practice::Review review = sample_review();
  review.timing.passes[0].beats[0].bar = "12a";
  review.timing.passes[0].beats[1].bar = "007";
  const json beats = written(review)["passes"][0]["beats"];
  EXPECT_EQ(beats[0]["bar"], "12a");
  EXPECT_EQ(beats[1]["bar"], "007");
  EXPECT_EQ(beats[2]["bar"], 1);
}

TEST(Json, SurvivesAnyTextFromFiles) {
  practice::Review review = sample_review();
  review.plan.title = "\"\\\x01\xFF</script>\xE2\x80\xA8";
  review.take_name = std::string("a\0b", 3);
  EXPECT_NO_THROW(written(review));
}

TEST(JsonWriter, QuartersAreExact) {
  JsonWriter writer;
  writer.begin_object();
  writer.quarters("third", kTicksPerQuarter / 3);
  writer.quarters("two", 2 * kTicksPerQuarter);
  writer.figure("minus", -0.25);
  writer.figure("tiny", -1e-9);
  writer.end_object();
  const std::string text = writer.take();
  EXPECT_EQ(text, "{\"third\":0.3333333333333333,\"two\":2,\"minus\":-0.25,\"tiny\":0}\n");
}

}  // namespace
}  // namespace loftbeat::report
