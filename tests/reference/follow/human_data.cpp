#include "human_data.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <map>
#include <numeric>
#include <sstream>

namespace loftbeat::test {
namespace {

constexpr double kTicksPerSecond = 960;
constexpr Tick kQuaver = kTicksPerQuarter / 2;

std::vector<std::vector<std::string>> rows(const std::string& name) {
  std::ifstream file(LOFTBEAT_SOURCE_DIR "/tests/reference/follow/" + name);
  if (!file) {
    std::cerr << name << " is missing\n";
    std::abort();
  }
  std::vector<std::vector<std::string>> all;
  std::string line;
  std::getline(file, line);
  while (std::getline(file, line)) {
    std::vector<std::string> cells(1);
    for (char c : line) {
      if (c == ',') {
        cells.emplace_back();
      } else if (c != '\r') {
        cells.back() += c;
      }
    }
    all.push_back(cells);
  }
  return all;
}

// Voices by rank within each onset: the corpus' note data has none.
void rank_voices(music::Score& score) {
  for (std::size_t i = 0; i < score.notes.size();) {
    std::size_t end = i;
    while (end < score.notes.size() && score.notes[end].onset == score.notes[i].onset) ++end;
    for (std::size_t k = i; k < end; ++k) score.notes[k].voice = static_cast<int>(end - 1 - k);
    score.voices = std::max(score.voices, static_cast<int>(end - i));
    i = end;
  }
}

void draw_bars(music::Score& score, Tick pickup) {
  const Tick bar = 6 * kQuaver;
  Tick at = 0;
  if (pickup > 0) {
    score.bars.push_back({0, pickup, "0", 6, 8, true});
    at = pickup;
  }
  for (int number = 1; at < score.length; ++number, at += bar) {
    score.bars.push_back({at, bar, std::to_string(number), 6, 8, false});
  }
}

std::map<std::string, int> read_score(const std::string& piece, music::Score& score) {
  struct Row {
    std::string id;
    music::Note note;
  };
  std::vector<Row> notes;
  Tick earliest = 0;
  for (const auto& cells : rows(piece + "-score.csv")) {
    if (std::stod(cells[2]) <= 0) continue;  // a grace note without length of its own
    music::Note note;
    note.onset = std::llround(std::stod(cells[1]) * static_cast<double>(kQuaver));
    note.length = std::llround(std::stod(cells[2]) * static_cast<double>(kQuaver));
    note.pitch = std::stoi(cells[3]);
    earliest = std::min(earliest, note.onset);
    notes.push_back({cells[0], note});
  }
  std::stable_sort(notes.begin(), notes.end(), [](const Row& a, const Row& b) {
    return a.note.onset != b.note.onset ? a.note.onset < b.note.onset : a.note.pitch < b.note.pitch;
  });
  std::map<std::string, int> index;
  for (Row& row : notes) {
    row.note.onset -= earliest;
    score.length = std::max(score.length, row.note.onset + row.note.length);
    index[row.id] = static_cast<int>(score.notes.size());
    score.notes.push_back(row.note);
  }
  rank_voices(score);
  score.staves = 1;
  draw_bars(score, -earliest);
  return index;
}

struct Played {
  take::TakenNote note;
  HumanData::True truth;
};

// Adds one performance from `at` on; gives when its last key was released.
double add_performance(const std::string& name, const std::map<std::string, int>& index, int pass,
                       double at, std::vector<Played>& all) {
  const auto lines = rows(name);
  double first = 1e18;
  for (const auto& cells : lines) {
    if (!cells[1].empty()) first = std::min(first, std::stod(cells[2]));
  }
  double last = at;
  for (const auto& cells : lines) {
    if (cells[1].empty()) continue;
    const double on = at + (std::stod(cells[2]) - first) / kTicksPerSecond;
    const double off = at + (std::stod(cells[3]) - first) / kTicksPerSecond;
    last = std::max(last, off);
    Played played;
    played.note.on = instant_from_seconds(on);
    played.note.off = played.note.sound_off = instant_from_seconds(off);
    played.note.pitch = static_cast<std::uint8_t>(std::stoi(cells[1]));
    played.note.velocity = static_cast<std::uint8_t>(std::max(1, std::stoi(cells[4])));
    played.truth.pass = pass;
    const auto found = index.find(cells[0]);
    played.truth.ornament = !cells[0].empty() && found == index.end();
    played.truth.score = found == index.end() ? -1 : found->second;
    all.push_back(played);
  }
  return last;
}

}  // namespace

HumanData read_human(const std::string& piece, const std::vector<std::string>& players,
                     double gap_s) {
  HumanData data;
  const auto index = read_score(piece, data.score);
  std::vector<Played> all;
  double at = 1.0;
  for (std::size_t p = 0; p < players.size(); ++p) {
    const double end =
        add_performance(piece + "_" + players[p] + ".csv", index, static_cast<int>(p), at, all);
    data.quarters_per_minute = 60 * quarters(data.score.length) / (end - at);
    at = end + gap_s;
    if (p + 1 < players.size()) data.silences_s.push_back(gap_s);
  }
  std::stable_sort(all.begin(), all.end(), [](const Played& a, const Played& b) {
    return a.note.on != b.note.on ? a.note.on < b.note.on : a.note.pitch < b.note.pitch;
  });
  for (const Played& played : all) {
    data.take.notes.push_back(played.note);
    data.truth.push_back(played.truth);
  }
  data.take.velocity_varies = true;
  return data;
}

}  // namespace loftbeat::test
