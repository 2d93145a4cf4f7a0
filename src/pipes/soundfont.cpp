#include "pipes/soundfont.h"

#include "pipes/riff.h"
#include "pipes/sample.h"
#include "pipes/sf2_records.h"
#include "pipes/zones.h"

namespace loftbeat::pipes {
namespace {

constexpr std::size_t kZerosAfterSample = 46;  // SoundFont 2.04, 6.1

Error too_strong(const Rank& rank, int key) {
  return {ErrorKind::no_fit,
          "the rank \"" + rank.id + "\" exceeds full scale at key " + std::to_string(key) + ".",
          {},
          0,
          0,
          "Give it less power."};
}

std::string information() {
  Bytes version;
  version.u16(2);
  version.u16(4);
  const auto text = [](std::string_view id, std::string words) {
    words.append(words.size() % 2 == 0 ? 2 : 1, '\0');
    return chunk(id, words);
  };
  return list("LIST", "INFO",
              chunk("ifil", version.text()) + text("isng", "EMU8000") +
                  text("INAM", "Loftbeat model ranks") + text("ISFT", "Loftbeat") +
                  text("ICMT", "Made from pipe recipes by computation; no recording of an organ."));
}

class Samples {
 public:
  // Where it came to lie.
  Sf2Records::Place add(const Sample& sample) {
    Sf2Records::Place place;
    place.start = points_;
    place.loop_start = points_ + sample.loop_start;
    place.loop_end = points_ + sample.loop_end;
    place.end = points_ + sample.points.size();
    for (const std::int16_t point : sample.points) bytes_.s16(point);
    for (std::size_t i = 0; i < kZerosAfterSample; ++i) bytes_.s16(0);
    points_ = place.end + kZerosAfterSample;
    return place;
  }
  [[nodiscard]] const std::string& bytes() const { return bytes_.text(); }

 private:
  Bytes bytes_;
  std::size_t points_ = 0;
};

}  // namespace

Result<std::string> build_soundfont(const Recipes& recipes, const BuildProgress& progress) {
  Samples samples;
  Sf2Records records;
  std::size_t done = 0;
  const std::size_t total = recipes.ranks.size() * zones().size();
  for (const Rank& rank : recipes.ranks) {
    records.begin_rank(rank);
    for (const Zone& zone : zones()) {
      const Sample sample = make_sample(rank, zone);
      if (sample.peak > 1) return too_strong(rank, zone.root);
      records.add_zone(rank, zone, samples.add(sample));
      if (progress) progress(++done, total);
    }
  }
  return list(
      "RIFF", "sfbk",
      information() + list("LIST", "sdta", chunk("smpl", samples.bytes())) + records.finish());
}

}  // namespace loftbeat::pipes
