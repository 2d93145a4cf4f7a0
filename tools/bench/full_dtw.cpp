#include "bench/full_dtw.h"

#include <algorithm>
#include <chrono>
#include <limits>

namespace loftbeat::bench {
namespace {

constexpr Nanoseconds kChordWindow = std::chrono::milliseconds(60);

std::size_t key(int pitch) { return static_cast<std::size_t>(std::clamp(pitch, 0, 127)); }

void append_span(const music::Score& score, TickSpan span, int transpose,
                 std::vector<Pitches>& chords) {
  Tick last = -1;
  for (const music::Note& note : score.notes) {
    if (!span.contains(note.onset)) continue;
    if (note.onset != last) chords.emplace_back();
    last = note.onset;
    chords.back().set(key(note.pitch + transpose));
  }
}

// Costs of the cheapest way to each pair, row by row, with a border of "no way" round it.
class Matrix {
 public:
  Matrix(std::size_t rows, std::size_t columns)
      : width_(columns + 1),
        cells_((rows + 1) * (columns + 1), std::numeric_limits<float>::infinity()) {
    cells_[0] = 0;
  }
  float& at(std::size_t row, std::size_t column) { return cells_[row * width_ + column]; }
  [[nodiscard]] float cheapest_before(std::size_t row, std::size_t column) {
    return std::min({at(row - 1, column - 1), at(row - 1, column), at(row, column - 1)});
  }

 private:
  std::size_t width_;
  std::vector<float> cells_;
};

std::vector<Pair> trace_back(Matrix& matrix, std::size_t row, std::size_t column) {
  std::vector<Pair> path;
  while (row > 0 && column > 0) {
    path.emplace_back(row - 1, column - 1);
    const float best = matrix.cheapest_before(row, column);
    if (matrix.at(row - 1, column - 1) == best) {
      --row;
      --column;
    } else if (matrix.at(row - 1, column) == best) {
      --row;
    } else {
      --column;
    }
  }
  std::reverse(path.begin(), path.end());
  return path;
}

}  // namespace

std::vector<Pitches> score_chords(const music::Score& score, const plan::Route& route) {
  std::vector<Pitches> chords;
  for (const plan::RoutePass& pass : route.passes) {
    if (pass.unaccompanied) continue;
    for (const TickSpan span : pass.spans) {
      append_span(score, span, pass.transpose_semitones, chords);
    }
  }
  return chords;
}

std::vector<Pitches> played_chords(const take::CleanTake& take) {
  std::vector<Pitches> chords;
  Instant begin;
  for (const take::TakenNote& note : take.notes) {
    if (chords.empty() || note.on - begin > kChordWindow) {
      chords.emplace_back();
      begin = note.on;
    }
    chords.back().set(key(note.pitch));
  }
  return chords;
}

float distance(const Pitches& a, const Pitches& b) {
  const auto shared = static_cast<float>((a & b).count());
  const auto all = static_cast<float>((a | b).count());
  return all > 0 ? 1 - shared / all : 0;
}

std::vector<Pair> full_dtw(const std::vector<Pitches>& score, const std::vector<Pitches>& played) {
  Matrix matrix(score.size(), played.size());
  for (std::size_t row = 1; row <= score.size(); ++row) {
    for (std::size_t column = 1; column <= played.size(); ++column) {
      matrix.at(row, column) =
          distance(score[row - 1], played[column - 1]) + matrix.cheapest_before(row, column);
    }
  }
  return trace_back(matrix, score.size(), played.size());
}

}  // namespace loftbeat::bench
