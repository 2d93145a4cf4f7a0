#include "plan/read.h"

#include <algorithm>

#include <fmt/format.h>

#include "base/file.h"
#include "music/score.h"
#include "plan/read_registration.h"
#include "plan/read_wishes.h"
#include "plan/words.h"

namespace loftbeat::plan {
namespace {

constexpr NumberRange kBeats{0, kMostJoinBeats};

std::optional<Join> join_from(const TomlItem& item) {
  if (!item.present()) return std::nullopt;
  if (item.is_table()) {
    const TomlTable table = *item.table();
    Join join;
    if (const auto extra = table["extra-bars"].integer({0, kMostExtraBars})) {
      join.kind = JoinKind::by_the_bar;
      join.extra_bars = static_cast<int>(*extra);
      return join;
    }
    join.hold_beats = table.needed("hold").number(kBeats).value_or(0);
    join.lift_beats = table.needed("lift").number(kBeats).value_or(0);
    return join;
  }
  if (item.is_text()) {
    if (const auto join = parse_join(*item.text())) return *join;
  }
  item.refuse(kJoinExpected);
  return std::nullopt;
}

std::optional<Place> place_at(const TomlItem& item) {
  if (!item.present()) return std::nullopt;
  std::optional<Place> place;
  if (item.is_text()) place = place_from(*item.text());
  if (item.is_integer()) place = Place{std::to_string(*item.integer()), 1, 0};
  if (place) {
    place->line = item.line();
  } else {
    item.refuse(kPlaceExpected);
  }
  return place;
}

FermataRule rule_from(const TomlItem& item) {
  if (item.is_text()) {
    if (const auto rule = fermata_from(*item.text())) return *rule;
  }
  item.refuse(kFermataExpected);
  return {};
}

std::vector<int> phrases_from(const TomlItem& item) {
  std::vector<int> phrases;
  for (const std::int64_t phrase : item.integers({1, kMostPhrases})) {
    phrases.push_back(static_cast<int>(phrase));
  }
  if (phrases.size() > static_cast<std::size_t>(kMostPhrases)) item.refuse("a shorter list");
  return phrases;
}

std::vector<Texture> textures_from(const TomlItem& item) {
  std::vector<Texture> textures;
  for (const TomlItem& word : item.items()) {
    if (const auto texture = word.choice<Texture>(kTextures)) textures.push_back(*texture);
  }
  if (item.is_array() && item.items().empty()) item.refuse("one texture or more");
  const bool written =
      std::find(textures.begin(), textures.end(), Texture::as_written) != textures.end();
  if (written && textures.size() > 1) item.refuse("\"as-written\" alone, or other textures");
  return textures;
}

std::optional<Broadening> broadening_from(const TomlItem& item) {
  const auto table = item.table();
  if (!table) return std::nullopt;
  Broadening broadening;
  broadening.from = place_at(table->needed("from")).value_or(Place{});
  broadening.percent = (*table)["percent"].number({50, 100}).value_or(broadening.percent);
  return broadening;
}

// What verses and the play-over have in common.
PassPlan pass_from(const TomlTable& table) {
  PassPlan pass;
  pass.line = table.line();
  pass.textures = textures_from(table["textures"]);
  pass.transpose_semitones = static_cast<int>(table["transpose"].integer({-12, 12}).value_or(0));
  pass.broadening = broadening_from(table["broaden"]);
  pass.registration = registration_from(table);
  pass.wish = wish_from(table["wish"]);
  return pass;
}

PassPlan verse_from(const TomlTable& table) {
  PassPlan pass = pass_from(table);
  pass.unaccompanied = table["unaccompanied"].flag().value_or(false);
  pass.phrases = phrases_from(table["phrases"]);
  pass.join_after = join_from(table["join-after"]);
  pass.moves_at = moves_at_from(table["moves-at"]);
  return pass;
}

void read_verses(const TomlTable& root, Plan& plan) {
  const TomlItem count = root["verses"];
  const bool open = count.is_text() && *count.text() == "auto";
  if (count.present() && !open) {
    if (count.is_integer()) {
      if (const auto verses = count.integer({1, music::kMaxVerses})) {
        plan.verses = static_cast<int>(*verses);
      }
    } else {
      count.refuse(fmt::format("a number from 1 to {}, or \"auto\"", music::kMaxVerses));
    }
  }
  const auto verses = root["verse"].table();
  if (!verses) return;
  for (const std::string& key : verses->keys()) {
    const auto number = integer_from(key);
    const bool plain = number && std::to_string(*number) == key;
    if (!plain || *number < 1 || *number > music::kMaxVerses) {
      verses->refuse_key(
          key, fmt::format("a verse number from 1 to {}, as in [verse.3]", music::kMaxVerses));
      continue;
    }
    if (const auto table = (*verses)[key].table()) plan.verse_plans[*number] = verse_from(*table);
  }
}

void read_play_over(const TomlTable& root, Plan& plan) {
  const TomlItem item = root["play-over"];
  plan.lines.play_over = item.present() ? item.line() : 0;
  if (item.is_array()) {
    plan.play_over = {PlayOverKind::phrases, phrases_from(item)};
    if (item.items().empty()) item.refuse(kPlayOverExpected);
  } else if (item.is_text()) {
    if (const auto kind = item.choice<PlayOverKind>(kPlayOvers)) plan.play_over.kind = *kind;
  } else {
    item.refuse(kPlayOverExpected);
  }
  if (const auto table = root["play-over-pass"].table()) plan.play_over_plan = pass_from(*table);
}

void read_joins(const TomlTable& root, Plan& plan) {
  const TomlItem between = root["join"];
  const TomlItem after_play_over = root["join-after-play-over"];
  plan.join = join_from(between);
  plan.join_after_play_over = join_from(after_play_over);
  if (between.present()) plan.lines.join = between.line();
  if (after_play_over.present()) plan.lines.join_after_play_over = after_play_over.line();
}

void read_fermatas(const TomlTable& root, Plan& plan) {
  const TomlItem all = root["fermata"];
  if (all.present()) plan.fermata = rule_from(all);
  for (const TomlTable& table : root["fermata-at"].tables()) {
    const auto place = place_at(table.needed("place"));
    const TomlItem rule = table.needed("rule");
    if (place && rule.present()) plan.fermatas.emplace_back(*place, rule_from(rule));
  }
}

void read_phrases(const TomlTable& root, Plan& plan) {
  for (const TomlItem& item : root["phrase-starts"].items()) {
    if (const auto place = place_at(item)) plan.phrase_starts.push_back(*place);
  }
  const TomlItem refrain = root["refrain"];
  plan.refrain_phrases = phrases_from(refrain);
  if (refrain.present()) plan.lines.refrain = refrain.line();
}

void read_between(const TomlTable& root, Plan& plan) {
  for (const TomlTable& table : root["interlude"].tables()) {
    Interlude interlude;
    interlude.line = table.line();
    interlude.after_verse =
        static_cast<int>(table.needed("after-verse").integer({1, music::kMaxVerses}).value_or(1));
    interlude.beats = table["beats"].number({0, 512}).value_or(0);
    plan.interludes.push_back(interlude);
  }
  plan.amen = root["amen"].flag().value_or(false);
}

// The file that `key` names, and its line; empty if none is named.
std::string file_at(const TomlTable& root, std::string_view key, const std::string& plan_file,
                    int& line) {
  const TomlItem item = root[key];
  const auto name = item.text();
  if (!name) return {};
  if (name->empty()) item.refuse("the name of a file");
  line = item.line();
  return path_beside(*name, plan_file);
}

void read_instrument(const TomlTable& root, Plan& plan) {
  plan.organ_path = file_at(root, "organ", plan.file, plan.lines.organ);
  plan.church_path = file_at(root, "church", plan.file, plan.lines.church);
  if (const auto people = root["people"].integer({0, kMostPeople})) {
    plan.people = static_cast<int>(*people);
  }
  plan.registration = registration_from(root);
}

void read_wishes(const TomlTable& root, Plan& plan) {
  plan.wish = wish_from(root["wish"]);
  plan.moves_at = moves_at_from(root["moves-at"]).value_or(MovesAt{});
  plan.helper = root["helper"].flag().value_or(false);
  const TomlItem hold = root["hold-stops"];
  const TomlItem without = root["not-stops"];
  plan.hold_stops = stop_names_from(hold);
  plan.not_stops = stop_names_from(without);
  if (hold.present()) plan.lines.hold_stops = hold.line();
  if (without.present()) plan.lines.not_stops = without.line();
  plan.breath_seconds = root["breath-seconds"].number({2, 60});
}

void read_tolerances(const TomlTable& root, Tolerances& to) {
  const auto table = root["tolerances"].table();
  if (!table) return;
  const auto take = [&](std::string_view key, double most, double& value) {
    value = (*table)[key].number({0, most}).value_or(value);
  };
  take("join-ms", 2000, to.join_ms);
  take("join-percent", 100, to.join_percent);
  take("tempo-percent", 100, to.tempo_percent);
  take("trend-percent", 100, to.trend_percent);
  take("steadiness-percent", 100, to.steadiness_percent);
  take("hesitation-beats", 16, to.hesitation_beats);
  take("pedal-lag-ms", 1000, to.pedal_lag_ms);
  take("smear-ms", 1000, to.smear_ms);
}

}  // namespace

Result<Plan> parse_plan(std::string_view text, const std::string& path) {
  auto document = TomlDocument::parse(text, path);
  if (!document) return document.error();
  const TomlTable root = document->root();
  Plan plan;
  plan.file = path;
  plan.title = root["title"].text().value_or("");
  const TomlItem score = root.needed("score");
  const std::string score_name = score.text().value_or("");
  if (score.is_text() && score_name.empty()) score.refuse("the name of the score's file");
  plan.score_path = path_beside(score_name, path);
  plan.tempo_bpm = root["tempo"].number({20, 300}).value_or(0);
  plan.beat = root["beat"].choice<BeatUnit>(kBeatUnits).value_or(plan.beat);
  read_verses(root, plan);
  read_play_over(root, plan);
  const TomlItem textures = root["textures"];
  if (textures.present()) plan.textures = textures_from(textures);
  read_joins(root, plan);
  read_fermatas(root, plan);
  read_phrases(root, plan);
  read_between(root, plan);
  read_instrument(root, plan);
  read_wishes(root, plan);
  read_tolerances(root, plan.tolerances);
  if (Status status = document->finish(); !status) return status.error();
  return plan;
}

Result<Plan> read_plan(const std::string& path) {
  const Result<std::string> text = read_file(path, TomlLimits{}.bytes);
  if (!text) return text.error();
  return parse_plan(*text, path);
}

}  // namespace loftbeat::plan
