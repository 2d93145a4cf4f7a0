#pragma once

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "music/music.h"

// Tunes in a few words for the tests.
namespace loftbeat::music::abc {

// A tune of 4/4 in quarters and C, unless `head` says otherwise; `body` is its music.
inline std::string tune(const std::string& body, const std::string& head = {}) {
  return "X:1\nT:Test\nM:4/4\nL:1/4\n" + head + (head.find("K:") == head.npos ? "K:C\n" : "") +
         body + "\n";
}

// Reads; fails the test and gives an empty score if it cannot be read.
inline ReadScore read(const std::string& text) {
  auto result = parse_abc(text, "test.abc");
  if (!result) {
    ADD_FAILURE() << to_string(result.error());
    return {};
  }
  return std::move(result).value();
}

inline Score score(const std::string& text) { return read(text).score; }

// The error of a tune that must not be read; an empty one, and a failure, if it is.
inline Error error_of(const std::string& text) {
  auto result = parse_abc(text, "test.abc");
  if (result) {
    ADD_FAILURE() << "was read: " << text;
    return {};
  }
  return result.error();
}

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

inline std::vector<int> pitches(const Score& score) {
  std::vector<int> all;
  for (const Note& note : score.notes) all.push_back(note.pitch);
  return all;
}

inline std::vector<double> lengths(const Score& score) {
  std::vector<double> all;
  for (const Note& note : score.notes) all.push_back(quarters(note.length));
  return all;
}

inline std::vector<double> phrase_begins(const Score& score) {
  std::vector<double> all;
  for (const Phrase& phrase : score.phrases) all.push_back(quarters(phrase.span.begin));
  return all;
}

inline std::vector<std::string> bar_numbers(const Score& score) {
  std::vector<std::string> all;
  for (const Bar& bar : score.bars) all.push_back(bar.number);
  return all;
}

}  // namespace loftbeat::music::abc
