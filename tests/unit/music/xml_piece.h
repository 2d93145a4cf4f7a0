#pragma once

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "music/read.h"

// Scores in a few words for the tests.
namespace loftbeat::music::xml {

inline std::string document(const std::string& parts, const std::string& head = {}) {
  return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<score-partwise version=\"4.0\">" + head +
         "<part-list/>\n" + parts + "</score-partwise>\n";
}

inline std::string part(const std::string& bars) {
  return "<part id=\"P\">\n" + bars + "</part>\n";
}

inline std::string bar(const std::string& items, const std::string& attributes = {}) {
  return "<measure " + attributes + ">\n" + items + "</measure>\n";
}

// Divisions and metre; two divisions to the quarter unless stated.
inline std::string start(const std::string& more = {}, int beats = 4, int divisions = 2) {
  return "<attributes><divisions>" + std::to_string(divisions) + "</divisions>" + "<time><beats>" +
         std::to_string(beats) + "</beats><beat-type>4</beat-type></time>" + more +
         "</attributes>\n";
}

// What a note has besides pitch and duration.
struct Extra {
  std::string before;  // ahead of the pitch: <chord/>, <grace/>, <cue/>
  std::string after;   // behind the duration: ties
  std::string voice = "1";
  int staff = 1;
  std::string notations;
  std::string lyrics;
};

// A note on a white key of the octave from middle C up: "C4", "A3".
inline std::string note(const std::string& pitch, int divisions, const Extra& extra = {}) {
  const std::string what = pitch == "rest"
                               ? "<rest/>"
                               : "<pitch><step>" + pitch.substr(0, 1) + "</step><octave>" +
                                     pitch.substr(1) + "</octave></pitch>";
  return "<note>" + extra.before + what + "<duration>" + std::to_string(divisions) + "</duration>" +
         extra.after + "<voice>" + extra.voice + "</voice><staff>" + std::to_string(extra.staff) +
         "</staff>" +
         (extra.notations.empty() ? "" : "<notations>" + extra.notations + "</notations>") +
         extra.lyrics + "</note>\n";
}

inline std::string chord(const std::string& pitch, int divisions, Extra extra = {}) {
  extra.before = "<chord/>";
  return note(pitch, divisions, extra);
}

inline std::string voice_note(const std::string& pitch, int divisions, const std::string& voice,
                              int staff = 1) {
  Extra extra;
  extra.voice = voice;
  extra.staff = staff;
  return note(pitch, divisions, extra);
}

inline std::string tied(const std::string& pitch, int divisions, const std::string& ties,
                        const std::string& voice = "1") {
  Extra extra;
  extra.voice = voice;
  if (ties.find("stop") != ties.npos) extra.after += "<tie type=\"stop\"/>";
  if (ties.find("start") != ties.npos) extra.after += "<tie type=\"start\"/>";
  return note(pitch, divisions, extra);
}

inline std::string with_notations(const std::string& pitch, int divisions,
                                  const std::string& notations) {
  Extra extra;
  extra.notations = notations;
  return note(pitch, divisions, extra);
}

inline std::string with_lyrics(const std::string& pitch, int divisions, const std::string& lyrics) {
  Extra extra;
  extra.lyrics = lyrics;
  return note(pitch, divisions, extra);
}

inline std::string backup(int divisions) {
  return "<backup><duration>" + std::to_string(divisions) + "</duration></backup>\n";
}

inline std::string forward(int divisions) {
  return "<forward><duration>" + std::to_string(divisions) + "</duration></forward>\n";
}

// Reads; fails the test and gives an empty score if it cannot be read.
inline ReadScore read(const std::string& text) {
  auto result = parse_musicxml(text, "piece.musicxml");
  if (!result) {
    ADD_FAILURE() << to_string(result.error());
    return {};
  }
  return std::move(result).value();
}

inline Score score(const std::string& text) { return read(text).score; }

// A note in quarters, for comparing.
struct Sound {
  double onset = 0;
  double length = 0;
  int pitch = 0;
  friend bool operator==(const Sound&, const Sound&) = default;
  friend std::ostream& operator<<(std::ostream& out, const Sound& s) {
    return out << "{" << s.onset << ", " << s.length << ", " << s.pitch << "}";
  }
};

inline std::vector<Sound> sounds(const Score& score) {
  std::vector<Sound> all;
  for (const Note& note : score.notes) {
    all.push_back({quarters(note.onset), quarters(note.length), note.pitch});
  }
  return all;
}

inline std::vector<int> voices(const Score& score) {
  std::vector<int> all;
  for (const Note& note : score.notes) all.push_back(note.voice);
  return all;
}

inline std::vector<double> phrase_begins(const Score& score) {
  std::vector<double> all;
  for (const Phrase& phrase : score.phrases) all.push_back(quarters(phrase.span.begin));
  return all;
}

}  // namespace loftbeat::music::xml
