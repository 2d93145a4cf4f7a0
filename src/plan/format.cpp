#include <filesystem>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "plan/read.h"
#include "plan/read_wishes.h"
#include "plan/words.h"

namespace loftbeat::plan {
namespace {

// A file's name as seen from the plan's folder, such that reading it gives the path back.
std::string seen_from_plan(const std::string& path, const Plan& plan) {
  namespace fs = std::filesystem;
  const fs::path file(path);
  const fs::path folder = fs::path(plan.file).parent_path();
  if (file.is_absolute() || folder.empty()) return path;
  const fs::path relative = file.lexically_relative(folder);
  if (!relative.empty()) return relative.string();
  std::error_code failure;
  const fs::path absolute = fs::absolute(file, failure);
  return failure ? path : absolute.string();
}

class Writer {
 public:
  void line(std::string_view key, const std::string& value) {
    out_ += fmt::format("{} = {}\n", key, value);
  }
  void text(std::string_view key, const std::string& value) { line(key, toml_text(value)); }
  void heading(std::string_view name) { out_ += fmt::format("\n{}\n", name); }

  void numbers(std::string_view key, const std::vector<int>& values) {
    if (!values.empty()) line(key, fmt::format("[{}]", fmt::join(values, ", ")));
  }
  void textures(std::string_view key, const std::vector<Texture>& textures) {
    std::vector<std::string> words;
    words.reserve(textures.size());
    for (const Texture texture : textures) words.push_back(toml_text(to_string(texture)));
    if (!words.empty()) line(key, fmt::format("[{}]", fmt::join(words, ", ")));
  }
  void names(std::string_view key, const std::optional<std::vector<std::string>>& names) {
    if (!names) return;
    std::vector<std::string> words;
    words.reserve(names->size());
    for (const std::string& name : *names) words.push_back(toml_text(name));
    line(key, fmt::format("[{}]", fmt::join(words, ", ")));
  }
  void registration(const RegistrationPlan& drawn) {
    names("stops", drawn.stops);
    names("couplers", drawn.couplers);
    names("tremulants", drawn.tremulants);
    if (drawn.swell) line("swell", toml_number(*drawn.swell));
    if (drawn.crescendo) line("crescendo", std::to_string(*drawn.crescendo));
    if (!drawn.swell_of) return;
    std::vector<std::string> boxes;
    for (const auto& [division, position] : *drawn.swell_of) {
      boxes.push_back(fmt::format("{} = {}", toml_text(division), toml_number(position)));
    }
    line("swell", fmt::format("{{ {} }}", fmt::join(boxes, ", ")));
  }
  void join(std::string_view key, const std::optional<Join>& join) {
    if (join) text(key, to_string(*join));
  }
  void pass(const PassPlan& pass) {
    textures("textures", pass.textures);
    if (pass.unaccompanied) line("unaccompanied", "true");
    if (pass.transpose_semitones != 0) {
      line("transpose", std::to_string(pass.transpose_semitones));
    }
    numbers("phrases", pass.phrases);
    join("join-after", pass.join_after);
    if (pass.broadening) {
      line("broaden",
           fmt::format("{{ from = {}, percent = {} }}", toml_text(to_string(pass.broadening->from)),
                       toml_number(pass.broadening->percent)));
    }
    registration(pass.registration);
    wish(pass.wish);
    if (pass.moves_at) text("moves-at", to_string(*pass.moves_at));
  }
  void wish(const std::optional<Wish>& wish) {
    if (wish) line("wish", toml_of(*wish));
  }
  void stop_names(std::string_view key, const std::vector<std::string>& stops) {
    if (!stops.empty()) names(key, stops);
  }
  std::string take() { return std::move(out_); }

 private:
  std::string out_;
};

void write_play_over(Writer& out, const PlayOver& play_over) {
  if (play_over.kind == PlayOverKind::phrases) return out.numbers("play-over", play_over.phrases);
  for (const auto& [word, kind] : kPlayOvers) {
    if (kind == play_over.kind) out.text("play-over", std::string(word));
  }
}

void write_head(Writer& out, const Plan& plan) {
  out.text("title", plan.title);
  out.text("score", seen_from_plan(plan.score_path, plan));
  if (plan.tempo_bpm > 0) out.line("tempo", toml_number(plan.tempo_bpm));
  out.text("beat", to_string(plan.beat));
  out.line("verses", plan.verses ? std::to_string(*plan.verses) : "\"auto\"");
  write_play_over(out, plan.play_over);
  out.textures("textures", plan.textures);
  out.join("join", plan.join);
  out.join("join-after-play-over", plan.join_after_play_over);
  out.text("fermata", to_string(plan.fermata));
  std::vector<std::string> starts;
  for (const Place& place : plan.phrase_starts) starts.push_back(toml_text(to_string(place)));
  if (!starts.empty()) out.line("phrase-starts", fmt::format("[{}]", fmt::join(starts, ", ")));
  out.numbers("refrain", plan.refrain_phrases);
  if (plan.amen) out.line("amen", "true");
  if (!plan.organ_path.empty()) out.text("organ", seen_from_plan(plan.organ_path, plan));
  if (!plan.church_path.empty()) out.text("church", seen_from_plan(plan.church_path, plan));
  if (plan.people) out.line("people", std::to_string(*plan.people));
  out.registration(plan.registration);
  out.wish(plan.wish);
  if (plan.moves_at != MovesAt{}) out.text("moves-at", to_string(plan.moves_at));
  if (plan.helper) out.line("helper", "true");
  out.stop_names("hold-stops", plan.hold_stops);
  out.stop_names("not-stops", plan.not_stops);
  if (plan.breath_seconds) out.line("breath-seconds", toml_number(*plan.breath_seconds));
}

bool says_something(const PassPlan& pass) {
  return !pass.textures.empty() || pass.transpose_semitones != 0 || pass.broadening.has_value() ||
         !pass.registration.empty() || pass.wish.has_value();
}

void write_passes(Writer& out, const Plan& plan) {
  if (says_something(plan.play_over_plan)) {
    out.heading("[play-over-pass]");
    out.pass(plan.play_over_plan);
  }
  for (const auto& [verse, pass] : plan.verse_plans) {
    out.heading(fmt::format("[verse.{}]", verse));
    out.pass(pass);
  }
  for (const auto& [place, rule] : plan.fermatas) {
    out.heading("[[fermata-at]]");
    out.text("place", to_string(place));
    out.text("rule", to_string(rule));
  }
  for (const Interlude& interlude : plan.interludes) {
    out.heading("[[interlude]]");
    out.line("after-verse", std::to_string(interlude.after_verse));
    out.line("beats", toml_number(interlude.beats));
  }
}

void write_tolerances(Writer& out, const Tolerances& tolerances) {
  out.heading("[tolerances]");
  out.line("join-ms", toml_number(tolerances.join_ms));
  out.line("join-percent", toml_number(tolerances.join_percent));
  out.line("tempo-percent", toml_number(tolerances.tempo_percent));
  out.line("trend-percent", toml_number(tolerances.trend_percent));
  out.line("steadiness-percent", toml_number(tolerances.steadiness_percent));
  out.line("hesitation-beats", toml_number(tolerances.hesitation_beats));
  out.line("pedal-lag-ms", toml_number(tolerances.pedal_lag_ms));
  out.line("smear-ms", toml_number(tolerances.smear_ms));
}

}  // namespace

std::string format_plan(const Plan& plan) {
  Writer out;
  write_head(out, plan);
  write_passes(out, plan);
  write_tolerances(out, plan.tolerances);
  return out.take();
}

}  // namespace loftbeat::plan
